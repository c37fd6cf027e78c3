import { coldestInJar, type JudgedReading } from '../rules/judge-reading.js';
import type { Temperature } from '../quantities/quantities.js';
import type { TakenReading } from '../quantities/reading-time.js';
import { passedCheck, offsetCelsius, wasAdjusted, wasRetired } from './instrument-checks.js';
import { resolveThermometer, thermometersInUse, type Thermometer } from './thermometers.js';

/** Thermometers without a check since the day of a pack, shown before jars are read with them. */
export interface UncheckedThermometers {
  /** Empty where the sugarhouse has recorded no thermometer. */
  readonly ids: readonly string[];
  /** None of them was checked in the whole season either. */
  readonly isWholeSeason: boolean;
  /** The newest reading is above the limit by less than the permitted error of a thermometer. */
  readonly isNear: boolean;
}

/** Two degrees Fahrenheit: the permitted error of a thermometer. */
const permittedErrorDegrees: Readonly<Record<Temperature['unit'], number>> = { F: 2, C: 2 / 1.8 };

/**
 * Finds the thermometers to check before more jars are filled: the one that the newest reading names; otherwise all in
 * use, unless one of them was checked that day. A thermometer is checked on each day of its use (common practice, no
 * source): a check after the evening comes too late for cold jars. Undefined where nothing has to be checked.
 * @param day of the pack, `2026-03-20`: a check of that day or a later one counts
 */
export function findUncheckedThermometers(
  newest: JudgedReading | undefined,
  thermometers: readonly Thermometer[],
  { atMs, day }: { readonly atMs: number; readonly day: string },
): UncheckedThermometers | undefined {
  const inUse = thermometersInUse(thermometers, atMs);
  const named = newest?.by && !newest.by.isAssumed ? [newest.by.thermometer] : inUse;
  // If a reading names no thermometer, it may have been taken with the one that was checked.
  if (named.some((each) => wasCheckedSince(each, day))) return undefined;
  // An upward correction is ignored: it comes from a check of an earlier day.
  const isNear =
    newest?.outcome === 'hot enough' &&
    Math.min(newest.degrees, newest.fill.temperature.degrees) - coldestInJar[newest.unit] <
      permittedErrorDegrees[newest.unit] - 1e-9;
  return { ids: named.map(({ id }) => id), isWholeSeason: named.every((each) => !each.checkedThisSeason), isNear };
}

const wasCheckedSince = ({ checks }: Thermometer, day: string): boolean =>
  checks.some((check) => (check.day ?? '') >= day && offsetCelsius(check) !== undefined);

/**
 * Finds the thermometer being used (the one that the newest reading names, else the only one in use) where its last
 * check since the day of the pack failed, with the id of that check. Undefined where it passed, was adjusted or retired.
 */
export function findFailedThermometer(
  newest: JudgedReading | undefined,
  thermometers: readonly Thermometer[],
  { atMs, day }: { readonly atMs: number; readonly day: string },
): { readonly id: string; readonly check: string } | undefined {
  const inUse = thermometersInUse(thermometers, atMs);
  const thermometer =
    newest?.by && !newest.by.isAssumed ? newest.by.thermometer : inUse.length === 1 ? inUse[0] : undefined;
  const last = [...(thermometer?.checks ?? [])].sort((a, b) => a.atMs - b.atMs).at(-1);
  if (!thermometer || !last || (last.day ?? '') < day || passedCheck(last) !== false) return undefined;
  return wasAdjusted(last) || wasRetired(last) ? undefined : { id: thermometer.id, check: last.id };
}

/** The least reading, in `unit`, at which a jar is hot enough by the thermometer’s checks; never below the limit. */
export function leastPassingReading(thermometer: Thermometer, unit: Temperature['unit'], atMs: number): number {
  const limit = coldestInJar[unit];
  const shown = (degrees: number): TakenReading => ({
    typed: '',
    temperature: { typed: '', unit, degrees, celsius: unit === 'F' ? (degrees - 32) / 1.8 : degrees },
    thermometer: thermometer.id,
    atMs,
  });
  const inUnit = unit === 'F' ? 1.8 : 1;
  // The correction depends on the temperature itself, so it is applied twice; the result is within a tenth of a degree.
  const once = limit - Math.min(0, (resolveThermometer(shown(limit), [thermometer])?.offsetC ?? 0) * inUnit);
  const twice = limit - Math.min(0, (resolveThermometer(shown(once), [thermometer])?.offsetC ?? 0) * inUnit);
  return Math.ceil(Math.max(once, twice) * 10 - 1e-6) / 10;
}
