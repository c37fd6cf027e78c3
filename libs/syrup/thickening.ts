import { brixFromBoiling, boilingRiseCelsius } from './boiling.js';

/** One line of the boil log: minutes from any start, and the pan's temperature. */
export interface PanReading {
  readonly minutes: number;
  readonly celsius: number;
}

export interface Thickening {
  readonly brixNow: number;
  readonly brixNowLow: number;
  readonly brixNowHigh: number;
  readonly brixPerMinute: number;
  readonly finishCelsius: number;
  /** From the last reading; 0 when it is there. Null where the readings can't say. */
  readonly minutesToDraw: number | null;
  readonly earliestMinutes: number;
  readonly latestMinutes: number | null;
  /** Within 1.5 °F of the finish, or perhaps within 10 minutes of it: don't leave the pan. */
  readonly near: boolean;
}

/** Reading error of a pan thermometer in a rolling boil, standard deviation (common practice, no source). */
export const panReadingErrorCelsius = 0.5 / 1.8;

/**
 * Where a pan that gets no fresh sap is going. Water for each gram of sugar falls in a straight line while the
 * fire is even; the line is laid through the last readings and carried to the target, with bounds of two
 * standard deviations from the thermometer's error. `problem` says why there is no answer.
 */
export function thickening(
  readings: readonly PanReading[],
  waterBoilsCelsius: number,
  targetBrix: number,
): Thickening | { readonly problem: string } {
  const last = readings.at(-1);
  if (!last || readings.length < 2) return { problem: 'Two readings of the pan at different times are needed.' };
  const recent = readings.slice(-4);
  const points = recent.map(({ minutes, celsius }) => ({ minutes, brix: brixFromBoiling(celsius, waterBoilsCelsius) }));
  if (points.some(({ brix }) => brix === undefined)) return { problem: outside };
  const water = points.map(({ minutes, brix }) => ({ minutes, perSugar: waterPerSugar(brix ?? 0) }));
  const nowBrix = points.at(-1)?.brix ?? 0;
  if (nowBrix < 5) return { problem: tooThin };
  const line = lineThrough(water, last.minutes, errorOfWater(last.celsius, waterBoilsCelsius));
  if (!line) return { problem: 'The readings must be at different times, in order.' };
  return tellWhere(line, nowBrix, last, waterBoilsCelsius, targetBrix);
}

const outside =
  'A reading is below boiling water or past 85 °Bx, outside what the boiling-point model was published for.';
const tooThin =
  'The pan is still within a fraction of a degree of boiling water: a thermometer cannot tell sap from sap yet.';

const waterPerSugar = (brix: number): number => 100 / brix - 1;

/** How far the thermometer's error moves water per sugar, near the last reading. */
function errorOfWater(celsius: number, waterBoils: number): number {
  const warmer = brixFromBoiling(celsius + panReadingErrorCelsius, waterBoils);
  const colder = brixFromBoiling(Math.max(celsius - panReadingErrorCelsius, waterBoils + 0.05), waterBoils);
  if (warmer === undefined || colder === undefined) return 0.05;
  return Math.abs(waterPerSugar(colder) - waterPerSugar(warmer)) / 2;
}

interface Line {
  /** Water per sugar at the last reading, and its change a minute (falling: below zero). */
  readonly now: number;
  readonly perMinute: number;
  readonly nowError: number;
  readonly perMinuteError: number;
}

function lineThrough(points: readonly { minutes: number; perSugar: number }[], at: number, error: number): Line | null {
  const mean = points.reduce((sum, point) => sum + point.minutes, 0) / points.length;
  const level = points.reduce((sum, point) => sum + point.perSugar, 0) / points.length;
  const spread = points.reduce((sum, point) => sum + (point.minutes - mean) ** 2, 0);
  const inOrder = points.every((point, i) => i === 0 || point.minutes > (points[i - 1]?.minutes ?? 0));
  if (spread === 0 || !inOrder) return null;
  const perMinute = points.reduce((sum, p) => sum + (p.minutes - mean) * (p.perSugar - level), 0) / spread;
  return {
    now: level + perMinute * (at - mean),
    perMinute,
    nowError: error * Math.sqrt(1 / points.length + (at - mean) ** 2 / spread),
    perMinuteError: error / Math.sqrt(spread),
  };
}

function tellWhere(line: Line, brixNow: number, last: PanReading, waterBoils: number, targetBrix: number): Thickening {
  const target = waterPerSugar(targetBrix);
  const finishCelsius = waterBoils + boilingRiseCelsius(targetBrix, waterBoils);
  const reach = (now: number, perMinute: number): number | null =>
    now <= target ? 0 : perMinute >= 0 ? null : (target - now) / perMinute;
  const earliest = reach(line.now - 2 * line.nowError, line.perMinute - 2 * line.perMinuteError) ?? 0;
  const brixOf = (perSugar: number): number => 100 / (1 + Math.max(0.1, perSugar));
  return {
    brixNow,
    brixNowLow: brixOf(waterPerSugar(brixNow) + 2 * line.nowError),
    brixNowHigh: brixOf(waterPerSugar(brixNow) - 2 * line.nowError),
    brixPerMinute: (-line.perMinute * brixNow * brixNow) / 100,
    finishCelsius,
    minutesToDraw: last.celsius >= finishCelsius ? 0 : reach(line.now, line.perMinute),
    earliestMinutes: last.celsius >= finishCelsius ? 0 : earliest,
    latestMinutes:
      last.celsius >= finishCelsius ? 0 : reach(line.now + 2 * line.nowError, line.perMinute + 2 * line.perMinuteError),
    near: last.celsius >= finishCelsius - 1.5 / 1.8 || earliest <= 10,
  };
}
