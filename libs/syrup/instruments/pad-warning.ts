import { coldestInJar, type JudgedReading } from '../rules/judge-reading.js';
import type { Temperature } from '../quantities/quantities.js';
import type { TakenReading } from '../quantities/reading-time.js';
import { readBy, thermometersInUse, type Thermometer } from './thermometers.js';

/** Thermometers without a check this season, as a warning before jars are read with them. */
export interface NotChecked {
  /** Empty where the sugarhouse has recorded no thermometer. */
  readonly ids: readonly string[];
  /** The newest reading is above the limit by less than the permitted error of a thermometer. */
  readonly isNear: boolean;
}

/** Two degrees Fahrenheit: the permitted error of a thermometer. */
const near: Readonly<Record<Temperature['unit'], number>> = { F: 2, C: 2 / 1.8 };

/**
 * The unchecked thermometers to warn about before more jars are filled: the one that the newest reading names, or is
 * assumed to be by; before the first reading all in use. If a thermometer is found wrong the next day, the jars are
 * already cold.
 */
export function notCheckedYet(
  newest: JudgedReading | undefined,
  thermometers: readonly Thermometer[],
  atMs: number,
): NotChecked | undefined {
  const inUse = thermometersInUse(thermometers, atMs);
  const named = newest?.by && !newest.by.isAssumed ? [newest.by.thermometer] : inUse;
  const ids = named.filter((each) => !each.checkedThisSeason).map(({ id }) => id);
  const isNoneKnown = named.length === 0;
  // Where a reading names none of several, it may be by one that was checked: then nothing is known to be wrong.
  if (!isNoneKnown && (ids.length === 0 || (ids.length < named.length && newest !== undefined))) return undefined;
  const isNear =
    newest?.outcome === 'hot enough' && newest.degrees - coldestInJar[newest.unit] < near[newest.unit] - 1e-9;
  return { ids, isNear };
}

/** The least reading at which a jar is hot enough, by the thermometer's checks: never below the limit. */
export function leastToShow(thermometer: Thermometer, unit: Temperature['unit'], atMs: number): number {
  const limit = coldestInJar[unit];
  const shown = (degrees: number): TakenReading => ({
    typed: '',
    temperature: { typed: '', unit, degrees, celsius: unit === 'F' ? (degrees - 32) / 1.8 : degrees },
    thermometer: thermometer.id,
    atMs,
  });
  const inUnit = unit === 'F' ? 1.8 : 1;
  // The correction depends on the temperature itself, so it is applied twice; the result is within a tenth of a degree.
  const once = limit - Math.min(0, (readBy(shown(limit), [thermometer])?.offsetC ?? 0) * inUnit);
  const twice = limit - Math.min(0, (readBy(shown(once), [thermometer])?.offsetC ?? 0) * inUnit);
  return Math.ceil(Math.max(once, twice) * 10 - 1e-6) / 10;
}
