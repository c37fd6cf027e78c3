import type { FillReading } from './fill-readings.js';
import type { Temperature } from './quantities.js';
import { findingOf } from './rules.js';
import { ordinal, rounded, shown } from './shown.js';
import type { Finding } from './verdict.js';

/** What a check of a thermometer showed. */
export interface ThermometerCorrection {
  /** Added to what the thermometer shows. */
  readonly offsetC: number;
  /** Further out than its check allows: what it read is judged after correction. */
  readonly out: boolean;
}
export type ThermometerCorrections = ReadonlyMap<string, ThermometerCorrection>;

export interface JudgedFill {
  readonly findings: readonly Finding[];
  /** The coldest, as typed; coldest after correction where its thermometer was out. */
  readonly lowest: Temperature | null;
}

/** Every reading in the unit it was read in: 180 °F passes, 82 °C passes, 179.9 °F and 81.9 °C do not. */
export function judgeFill(fills: readonly FillReading[], corrections: ThermometerCorrections = new Map()): JudgedFill {
  const readings = fills.map((fill, index) => corrected(fill, index, corrections));
  const coldestFirst = [...readings].sort((a, b) => a.celsius - b.celsius);
  const cold = coldestFirst.filter(({ unit, degrees }) => degrees < coldestInJar[unit]);
  const findings = cold.length === 0 ? [] : [tooCold(cold, fills.length)];
  return { findings, lowest: coldestFirst[0]?.fill.temperature ?? null };
}

export const fillNotRead = (): Finding =>
  findingOf('fill-not-read', {
    limit: 'at least one temperature read in the jar when it was capped',
    found: 'no fill reading',
  });

/** Sugar sand forms again in syrup over 200 °F, in the kettle or in the jar. */
export function judgeTooHot(
  hotPack: Temperature | undefined,
  fills: readonly FillReading[],
  corrections: ThermometerCorrections = new Map(),
): Finding[] {
  const inJars = fills.map((fill, index) => corrected(fill, index, corrections));
  const hot = [
    ...(hotPack && hotPack.degrees > hottest[hotPack.unit] ? [`${shown(hotPack)} in the kettle`] : []),
    ...inJars.filter(({ unit, degrees }) => degrees > hottest[unit]).map((jar) => inWords(jar, fills.length)),
  ];
  if (hot.length === 0) return [];
  const units = new Set([...(hotPack ? [hotPack.unit] : []), ...inJars.map(({ unit }) => unit)]);
  return [
    findingOf('too-hot-at-filling', {
      limit: `no more than ${inUnits(hottest, units)} when filling`,
      found: `${hot.join('; ')}: sugar sand forms again, filter again`,
    }),
  ];
}

type Limits = Readonly<Record<Temperature['unit'], number>>;
export const coldestInJar: Limits = { F: 180, C: 82 };
const hottest: Limits = { F: 200, C: 93.3 };

/** The limit in the units that were read: a page that shows 82 °C never says 179.6 °F. */
export function inUnits(limits: Limits, units: ReadonlySet<Temperature['unit']>): string {
  return (['F', 'C'] as const)
    .filter((unit) => units.has(unit))
    .map((unit) => `${limits[unit]} °${unit}`)
    .join(' or ');
}

interface CorrectedFill {
  readonly fill: FillReading;
  readonly index: number;
  readonly unit: Temperature['unit'];
  readonly degrees: number;
  readonly celsius: number;
  readonly wasOut: boolean;
}

function corrected(fill: FillReading, index: number, corrections: ThermometerCorrections): CorrectedFill {
  const { unit, degrees, celsius } = fill.temperature;
  const correction = correctionOf(fill.thermometer, corrections);
  if (!correction?.out) return { fill, index, unit, degrees, celsius, wasOut: false };
  const offset = unit === 'F' ? correction.offsetC * 1.8 : correction.offsetC;
  // To the hundredth, which is how it is shown: what reads 180 on the page is judged as 180.
  const after = Math.round((degrees + offset) * 100) / 100;
  return { fill, index, unit, degrees: after, celsius: celsius + correction.offsetC, wasOut: true };
}

/** An id is the same in any case: `t1` at the bench is the T1 of its check. */
function correctionOf(id: string | undefined, corrections: ThermometerCorrections): ThermometerCorrection | undefined {
  if (id === undefined) return undefined;
  const known = corrections.get(id);
  if (known) return known;
  for (const [other, correction] of corrections) if (other.toUpperCase() === id.toUpperCase()) return correction;
  return undefined;
}

function tooCold(cold: readonly CorrectedFill[], among: number): Finding {
  const named = cold.slice(0, 5).map((reading) => inWords(reading, among));
  const more = cold.length > named.length ? `; and ${cold.length - named.length} more` : '';
  return findingOf('fill-temperature', {
    limit: `${inUnits(coldestInJar, new Set(cold.map(({ unit }) => unit)))} or more in the jar when capped`,
    found: named.join('; ') + more,
  });
}

/** `179.9 °F, the third of 5 readings, at 14:10` */
function inWords({ fill, index, unit, degrees, wasOut }: CorrectedFill, among: number): string {
  const asTyped = shown(fill.temperature);
  const reading = wasOut
    ? `${rounded(degrees, 2)} °${unit} after correction (thermometer ${fill.thermometer}, which is out, showed ${asTyped})`
    : asTyped;
  const place = among === 1 ? 'the only reading' : `the ${ordinal(index + 1)} of ${among} readings`;
  return [reading, place, ...(fill.clock ? [`at ${fill.clock}`] : []), ...(fill.jars ? [fill.jars] : [])].join(', ');
}
