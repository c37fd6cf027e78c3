import { printed669 } from '../published/printed-hydrometer-charts.js';
import { type Container, parseContainer } from '#libs/syrup/quantities/container.js';
import type { DensityInstrument } from '#libs/syrup/science/density.js';
import { parseFillReadings } from '#libs/syrup/quantities/fill-readings.js';
import type { BoilFacts } from '#libs/syrup/rules/judge-boils.js';
import type { DensityFacts } from '#libs/syrup/rules/density-limits.js';
import { type PackFacts, judgePack } from '#libs/syrup/rules/judge-pack.js';
import type { DensityChart, DensityLimit, PlaceRules } from '#libs/syrup/labelling/places.js';
import type { Thermometer } from '#libs/syrup/instruments/thermometers.js';
import {
  type Percent,
  type Temperature,
  parseDensity,
  parsePercent,
  parseTemperature,
} from '#libs/syrup/quantities/quantities.js';

/** An ordinary pack of Tamarack Hollow Sugarhouse that passes every rule; each test changes one thing. */
export const ordinaryPack: PackFacts = {
  place: placeOf({ minimum: limitOf(66.0, 35.6), maximum: limitOf(68.9, 37.0) }),
  container: container('glass jar 8 fl oz'),
  jars: 64,
  hotPackTemp: temperature('190 F'),
  fills: fills('186 F;184 F@14:10;183 F@14:25#T1'),
  density: density('67.4 Bx', '60 F'),
  sealsFailed: 0,
  sealsOutcome: '',
  containerPrep: 'boiled 10 min',
  transmittance: percent('61 %'),
  colourClass: 'Amber',
  clarity: 'clear',
  offFlavour: 'none',
  drawnMl: 4 * 3785.411784,
  boils: [boil()],
  thermometers: [thermometer('T1')],
};

export const judged = (changes: Partial<PackFacts> = {}) => judgePack({ ...ordinaryPack, ...changes });

/** Names of the rules with a finding, hold rules marked with an exclamation mark. */
export const spoke = (changes: Partial<PackFacts> = {}): string[] =>
  judged(changes).findings.map(({ rule, stop }) => (stop ? `${rule}!` : rule));

export function found(rule: string, changes: Partial<PackFacts>): { limit: string; found: string; source: string } {
  const finding = judged(changes).findings.find((one) => one.rule === rule);
  if (!finding) throw new Error(`${rule} did not speak`);
  return finding;
}

export function fills(text: string): PackFacts['fills'] {
  return parseFillReadings(text).value!;
}
/** A thermometer of the house; each check is its method, the right value and the reading, in °F. */
export function thermometer(
  id: string,
  checks: readonly (readonly [how: string, should: number, reads: number])[] = [],
  more: Partial<Thermometer> = {},
): Thermometer {
  return {
    id,
    checks: checks.map(([how, should, reads], index) => ({
      id: `C${index + 1}`,
      atMs: index + 1,
      how,
      should: temperature(`${should} F`),
      reads: temperature(`${reads} F`),
    })),
    checkedThisSeason: true,
    ...more,
  };
}
export function container(text: string): Container {
  return parseContainer(text).value!;
}
export function temperature(text: string): Temperature {
  return parseTemperature(text).value!;
}
export function percent(text: string): Percent {
  return parsePercent(text).value!;
}
export function density(
  reading: string,
  at?: string,
  by: DensityInstrument = 'hydrometer',
  made?: string,
): DensityFacts {
  return {
    reading: parseDensity(reading).value!,
    by,
    hydrometersMadeFor: temperature('60 F'),
    ...(at ? { sampleAt: temperature(at) } : {}),
    ...(made ? { calibratedAt: temperature(made) } : {}),
  };
}
export function boil(changes: Partial<BoilFacts> = {}): BoilFacts {
  return {
    lot: '26077A',
    defoamer: 'none',
    defoamerAllergens: '',
    filters: [{ temperature: temperature('190 F'), medium: 'felt cone' }],
    restedFromMs: Date.UTC(2026, 2, 19, 0),
    restedUntilMs: Date.UTC(2026, 2, 19, 12),
    syrupMl: 5 * 3785.411784,
    drawnInAllMl: 4 * 3785.411784,
    ...changes,
  };
}

export function limitOf(value: number, baume: number, changes: Partial<DensityLimit> = {}): DensityLimit {
  return { value, baume, baumeSource: 'published pair', gates: true, source: 'the standard', mark: 'read', ...changes };
}

export function placeOf(of: {
  minimum: DensityLimit;
  maximum?: DensityLimit;
  standIn?: DensityLimit;
  chart?: DensityChart;
  canada?: boolean;
}): PlaceRules {
  return {
    id: 'a-place',
    name: 'A place',
    standard: 'its standard',
    rulesVersion: '2026-11',
    country: of.canada ? 'CA' : 'US',
    canada: of.canada ?? false,
    authority: [],
    minimumBrix: of.minimum,
    standInMinimumBrix: of.standIn ?? null,
    maximumBrix: of.maximum ?? null,
    chart: of.chart ?? null,
    gradeNames: of.canada ? 'CA' : 'US',
    labels: [],
    notFound: [],
    fellBack: null,
  };
}

/** A state's chart, second hand: what a hydrometer made for 60 °F reads in syrup of 66.9 °Bx, 36 °Bé. */
export const chartFor669: DensityChart = {
  standardBrix: 66.9,
  calibratedAtFahrenheit: 60,
  decides: true,
  source: 'hydrometer chart, practice in its state',
  mark: 'second hand',
  rows: printed669.map(([fahrenheit, baume, brix]) => ({ fahrenheit, baume, brix })),
};
/** 66.9 °Bx by chart, 68.9 at most. */
export const chartedPlace = placeOf({ minimum: limitOf(66.9, 36.0), maximum: limitOf(68.9, 37.0), chart: chartFor669 });
