import type { Temperature } from '../quantities/quantities.js';
import type { TakenReading } from '../quantities/reading-time.js';
import { ordinal, formatRounded, formatTemperature } from '../quantities/format-quantities.js';
import { allowedErrorCelsius } from '../instruments/thermometer-check.js';
import { resolveThermometer, type ReadingThermometer, type Thermometer } from '../instruments/thermometers.js';

/** A temperature for each unit. */
type Limits = Readonly<Record<Temperature['unit'], number>>;
/** The least temperature in a jar when it is capped; each unit has its own limit, which is never converted. */
export const coldestInJar: Limits = { F: 180, C: 82 };

/** A reading as corrected by the checks of its thermometer. */
export interface JudgedReading {
  readonly fill: TakenReading;
  readonly index: number;
  readonly unit: Temperature['unit'];
  /** In its own unit, after correction. */
  readonly degrees: number;
  readonly celsius: number;
  readonly by: ReadingThermometer | undefined;
  /** `perhaps`: too cold as read, and hot enough only after an upward correction. */
  readonly outcome: 'hot enough' | 'too cold' | 'perhaps';
}

/**
 * Judges each reading in its own unit: 180 °F passes, 82 °C passes, 179.9 °F and 81.9 °C do not. A correction downwards
 * counts however small it is; one upwards never makes a reading pass.
 */
export function judgeReadings(
  fills: readonly TakenReading[],
  thermometers: readonly Thermometer[] = [],
): JudgedReading[] {
  return fills.map((fill, index) => judgeReading(fill, index, thermometers));
}

function judgeReading(fill: TakenReading, index: number, thermometers: readonly Thermometer[]): JudgedReading {
  const { unit, degrees: asRead, celsius } = fill.temperature;
  const by = resolveThermometer(fill, thermometers);
  const offsetC = by?.offsetC ?? 0;
  const degrees = correctedDegrees(asRead, unit, offsetC);
  const limit = coldestInJar[unit];
  const outcome = degrees < limit ? 'too cold' : asRead < limit ? 'perhaps' : 'hot enough';
  return { fill, index, unit, degrees, celsius: celsius + offsetC, by, outcome };
}

/** Degrees after a correction, rounded to a hundredth, as shown: what is shown as 180 is judged as 180. */
export function correctedDegrees(degrees: number, unit: Temperature['unit'], offsetC: number): number {
  if (offsetC === 0) return degrees;
  return Math.round((degrees + offsetInUnit(offsetC, unit)) * 100) / 100;
}

const offsetInUnit = (offsetC: number, unit: Temperature['unit']): number => (unit === 'F' ? offsetC * 1.8 : offsetC);

/** `179.9 °F, the third of 5 readings, at 14:10, jars 9-16` */
export function formatReadingInFinding(reading: JudgedReading, readingCount: number): string {
  const { fill, index } = reading;
  const place = readingCount === 1 ? 'the only reading' : `the ${ordinal(index + 1)} of ${readingCount} readings`;
  return [
    formatCorrected(reading),
    place,
    ...(fill.clock ? [`at ${formatClock(fill.clock)}`] : []),
    ...(fill.jars ? [fill.jars] : []),
  ].join(', ');
}

/** `14:10`; with the day where it is another than the pack's: `22:10 on 2026-03-18`. */
const formatClock = (clock: string): string =>
  clock.includes('T') ? `${clock.slice(11, 16)} on ${clock.slice(0, 10)}` : clock;

/**
 * `178.1 °F after correction (T1 showed 180 °F and reads 1.9 °F high there)`; as typed where no correction changes the
 * outcome.
 */
function formatCorrected({ fill, unit, degrees, by, outcome }: JudgedReading): string {
  const asTyped = formatTemperature(fill.temperature);
  const offsetC = by?.offsetC ?? 0;
  const changesIt = (outcome === 'too cold') !== fill.temperature.degrees < coldestInJar[unit] || outcome === 'perhaps';
  const isOut = Math.abs(offsetC) > allowedErrorCelsius + 1e-9;
  if (!by || offsetC === 0 || (!changesIt && !isOut)) return asTyped;
  const which = by.isAssumed ? `the thermometer, taken to be ${by.thermometer.id},` : by.thermometer.id;
  return `${formatRounded(degrees, 2)} °${unit} after correction (${which} showed ${asTyped} and reads ${formatOffset(offsetC, unit)} there)`;
}

/** A correction in °C, in the given unit to a hundredth of a degree. */
export const roundedOffset = (offsetC: number, unit: Temperature['unit']): number =>
  Number(formatRounded(offsetInUnit(offsetC, unit), 2));

/** `3 °F low`: an instrument's error, from the °C to add to its readings. */
export const formatOffset = (offsetC: number, unit: Temperature['unit']): string =>
  `${formatRounded(Math.abs(offsetInUnit(offsetC, unit)), 2)} °${unit} ${offsetC > 0 ? 'low' : 'high'}`;
