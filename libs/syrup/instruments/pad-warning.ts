import { coldestInJar, type JudgedReading } from '../rules/judge-reading.js';
import type { Temperature } from '../quantities/quantities.js';
import type { TakenReading } from '../quantities/reading-time.js';
import { foundRight, offsetOf, wasAdjusted, wasRetired } from './instrument-checks.js';
import { readBy, thermometersInUse, type Thermometer } from './thermometers.js';

/** Thermometers without a check since the day of a pack began, before jars are read with them. */
export interface NotChecked {
  /** Empty where the sugarhouse has recorded no thermometer. */
  readonly ids: readonly string[];
  /** None of them was checked in the whole season either. */
  readonly isWholeSeason: boolean;
  /** The newest reading is above the limit by less than the permitted error of a thermometer. */
  readonly isNear: boolean;
}

/** Two degrees Fahrenheit: the permitted error of a thermometer. */
const near: Readonly<Record<Temperature['unit'], number>> = { F: 2, C: 2 / 1.8 };

/**
 * What to check before more jars are filled: the thermometer that the newest reading names, or is taken to be of; before
 * the first reading those in use, unless one of them was checked that day. A thermometer is checked on each day of its
 * use (common practice, no source): a wrong one found after the evening finds jars that are cold by then.
 * @param day of the pack, `2026-03-20`: a check of that day or a later one counts
 */
export function notCheckedYet(
  newest: JudgedReading | undefined,
  thermometers: readonly Thermometer[],
  { atMs, day }: { readonly atMs: number; readonly day: string },
): NotChecked | undefined {
  const inUse = thermometersInUse(thermometers, atMs);
  const named = newest?.by && !newest.by.isAssumed ? [newest.by.thermometer] : inUse;
  // Where a reading names none of several, the one in the jar may be the one that was checked.
  if (named.some((each) => wasCheckedSince(each, day))) return undefined;
  // A correction upwards counts for nothing here either: by a check of another day it may be out by now.
  const isNear =
    newest?.outcome === 'hot enough' &&
    Math.min(newest.degrees, newest.fill.temperature.degrees) - coldestInJar[newest.unit] < near[newest.unit] - 1e-9;
  return { ids: named.map(({ id }) => id), isWholeSeason: named.every((each) => !each.checkedThisSeason), isNear };
}

const wasCheckedSince = ({ checks }: Thermometer, day: string): boolean =>
  checks.some((check) => (check.day ?? '') >= day && offsetOf(check) !== undefined);

/**
 * The thermometer in hand where its last check since the day of the pack found it wrong, and that check: the one that the
 * newest reading names, else the only one in use.
 */
export function foundWrong(
  newest: JudgedReading | undefined,
  thermometers: readonly Thermometer[],
  { atMs, day }: { readonly atMs: number; readonly day: string },
): { readonly id: string; readonly check: string } | undefined {
  const inUse = thermometersInUse(thermometers, atMs);
  const inHand = newest?.by && !newest.by.isAssumed ? newest.by.thermometer : inUse.length === 1 ? inUse[0] : undefined;
  const last = [...(inHand?.checks ?? [])].sort((a, b) => a.atMs - b.atMs).at(-1);
  if (!inHand || !last || (last.day ?? '') < day || foundRight(last) !== false) return undefined;
  return wasAdjusted(last) || wasRetired(last) ? undefined : { id: inHand.id, check: last.id };
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
