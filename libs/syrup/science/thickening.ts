import { boilingRiseCelsius, brixFromBoiling } from './boiling.js';
import { thickestBrix } from './corrected.js';

/** One line of the boil log: minutes from any start, and the pan's temperature. */
export interface PanReading {
  readonly minutes: number;
  readonly celsius: number;
}

/** The state of a pan, and when it reaches the target. */
export interface Thickening {
  readonly brixNow: number;
  readonly brixNowLow: number;
  readonly brixNowHigh: number;
  readonly brixPerMinute: number;
  readonly finishCelsius: number;
  /** Minutes from the last reading; 0 when the target is reached. Null where the readings don't show when. */
  readonly minutesToDraw: number | null;
  readonly earliestMinutes: number;
  readonly latestMinutes: number | null;
  /** Within 1.5 °F of the finish, or possibly within 10 minutes of it: don't leave the pan. */
  readonly near: boolean;
}

/** Reading error of a pan thermometer in a rolling boil, standard deviation (common practice, no source). */
export const panReadingErrorCelsius = 0.5 / 1.8;
/** Least rise above boiling water, three reading errors (about 33 °Bx), from which a thermometer shows the density. */
export const leastRiseCelsius = 3 * panReadingErrorCelsius;

/**
 * Extrapolates a pan that gets no fresh sap. Water per gram of sugar falls linearly while the fire is steady; a line is
 * fitted to the last readings and extended to the target. The bounds are the lines of a thermometer with opposite
 * errors, low at first and high at last or the reverse, by the square root of two of its errors: two standard
 * deviations of a line through two readings.
 */
export function thickening(
  readings: readonly PanReading[],
  waterBoilsCelsius: number,
  targetBrix: number,
): Thickening | { readonly problem: string } {
  const last = readings.at(-1);
  if (!last || readings.length < 2) return { problem: 'Two readings of the pan at different times are needed.' };
  if (!readings.every((reading, i) => i === 0 || reading.minutes > (readings[i - 1]?.minutes ?? 0)))
    return { problem: 'The readings must be at different times, the oldest first.' };
  if (
    readings.some(
      ({ celsius }) => celsius < waterBoilsCelsius || waterPerSugar(celsius, waterBoilsCelsius) === undefined,
    )
  )
    return { problem: outside };
  const recent = readings.slice(-4).filter(({ celsius }) => celsius - waterBoilsCelsius >= leastRiseCelsius);
  if (recent.length < 2 || recent.at(-1) !== last) return { problem: tooThin };
  return extrapolate(recent, last, waterBoilsCelsius, targetBrix);
}

const outside =
  'A reading is below boiling water or past 85 °Bx, outside what the boiling-point model was published for.';
const tooThin =
  'Two readings at least 1.5 °F above boiling water (about 33 °Bx) are needed: below that a thermometer in a rolling boil cannot tell how thick the pan is.';

function extrapolate(
  recent: readonly PanReading[],
  last: PanReading,
  waterBoils: number,
  targetBrix: number,
): Thickening {
  const finishCelsius = waterBoils + boilingRiseCelsius(targetBrix, waterBoils);
  const isFinished = last.celsius >= finishCelsius;
  const minutes = (error: number): number | null =>
    isFinished ? 0 : minutesToReach(recent, error, waterBoils, targetBrix);
  const brixAt = (celsius: number): number => brixFromBoiling(celsius, waterBoils) ?? thickestBrix;
  const [brixNow, error] = [brixAt(last.celsius), 2 * panReadingErrorCelsius];
  const line = lineThrough(recent, 0, waterBoils);
  const earliestMinutes = minutes(Math.SQRT2 * panReadingErrorCelsius) ?? 0;
  return {
    brixNow,
    brixNowLow: brixAt(Math.max(waterBoils, last.celsius - error)),
    brixNowHigh: brixAt(last.celsius + error),
    brixPerMinute: (-line.perMinute * brixNow * brixNow) / 100,
    finishCelsius,
    minutesToDraw: minutes(0),
    earliestMinutes,
    latestMinutes: minutes(-Math.SQRT2 * panReadingErrorCelsius),
    near: last.celsius >= finishCelsius - 1.5 / 1.8 || earliestMinutes <= 10,
  };
}

/** Minutes from the last reading until the line reaches the target; null where it never does. */
function minutesToReach(recent: readonly PanReading[], error: number, waterBoils: number, targetBrix: number) {
  const { now, perMinute } = lineThrough(recent, error, waterBoils);
  const target = 100 / targetBrix - 1;
  if (now <= target) return 0;
  return perMinute >= 0 ? null : (target - now) / perMinute;
}

/** Least squares through water per sugar, with the thermometer's error tilted from low at first to high at last. */
function lineThrough(readings: readonly PanReading[], error: number, waterBoils: number) {
  const count = readings.length;
  const points = readings.map(({ minutes, celsius }, i) => ({
    minutes,
    water: waterPerSugar(celsius + error * ((2 * i) / (count - 1) - 1), waterBoils) ?? 0,
  }));
  const mean = points.reduce((sum, point) => sum + point.minutes, 0) / count;
  const level = points.reduce((sum, point) => sum + point.water, 0) / count;
  const spread = points.reduce((sum, point) => sum + (point.minutes - mean) ** 2, 0);
  const perMinute = points.reduce((sum, p) => sum + (p.minutes - mean) * (p.water - level), 0) / spread;
  return { now: level + perMinute * ((readings.at(-1)?.minutes ?? 0) - mean), perMinute };
}

/** Grams of water per gram of sugar in a liquid that boils at this temperature; undefined above 85 °Bx. */
function waterPerSugar(celsius: number, waterBoils: number): number | undefined {
  const brix = brixFromBoiling(celsius, waterBoils);
  return brix === undefined ? undefined : 100 / brix - 1;
}
