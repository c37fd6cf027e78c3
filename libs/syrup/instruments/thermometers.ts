import { type InstrumentChecked, wasRetired } from './instrument-checks.js';
import type { TakenReading } from '../quantities/reading-time.js';
import { correctionAt } from './thermometer-correction.js';

/** A thermometer of the sugarhouse, with all its recorded checks. */
export interface Thermometer {
  readonly id: string;
  readonly checks: readonly InstrumentChecked[];
  readonly checkedThisSeason: boolean;
}

/** The thermometer that a reading is judged by. */
export interface ReadBy {
  readonly thermometer: Thermometer;
  /** The reading names none, so one of the sugarhouse's is assumed. */
  readonly isAssumed: boolean;
  /** °C to add at the reading's temperature; 0 where nothing is known. */
  readonly offsetC: number;
}

/**
 * The thermometer that the reading names; where it names none, the only one in use, and of several the one that lowers
 * the reading most: an assumption may hold a lot, never open one. Undefined where none is named and the sugarhouse has
 * none.
 */
export function readBy(reading: TakenReading, thermometers: readonly Thermometer[]): ReadBy | undefined {
  const name = reading.thermometer;
  if (name !== undefined) {
    const known = thermometers.find(
      (each) =>
        each.id ===
        matchingId(
          name,
          thermometers.map(({ id }) => id),
        ),
    );
    return by(known ?? { id: name, checks: [], checkedThisSeason: false }, reading, false);
  }
  return thermometersInUse(thermometers, momentOf(reading))
    .map((each) => by(each, reading, true))
    .sort((a, b) => a.offsetC - b.offsetC)
    .at(0);
}

/** Those that no check before then took out of use. */
export const thermometersInUse = (thermometers: readonly Thermometer[], atMs: number): Thermometer[] =>
  thermometers.filter((each) => !isOutOfUse(each, atMs));

/** Ids are compared regardless of case: `t1` in a reading is the T1 of its check. */
export const sameId = (a: string, b: string): boolean => a.trim().toUpperCase() === b.trim().toUpperCase();

/**
 * Which id a text refers to: the same regardless of case, else one that differs only by a dash, a dot or a zero before
 * its number, as `T-1` and `T01` from T1, or has the kind of instrument before it, as `hydrometer H9`. Returned as
 * written where none matches.
 */
export function matchingId(written: string, ids: readonly string[]): string {
  const exact = ids.find((id) => sameId(id, written));
  if (exact !== undefined) return exact;
  const alike = ids.filter((id) => bareId(id) === bareId(written));
  return alike.length === 1 ? (alike[0] ?? written) : written;
}
const kindBefore = /^\s*(?:HYDROMETER|THERMOMETER|REFRACTOMETER|DENSIMÈTRE|THERMOMÈTRE|RÉFRACTOMÈTRE)[\s.:_-]+(?=\S)/u;
/** An id without its spelling: `T-01` and `thermometer T1` are `T1`. */
export const bareId = (id: string): string =>
  id
    .toUpperCase()
    .replace(kindBefore, '')
    .replace(/[\s._-]+/gu, '')
    .replace(/(?<!\d)0+(?=\d)/gu, '');

/** When it was taken; a reading without a time counts as after every check. */
export const momentOf = ({ atMs }: TakenReading): number =>
  atMs === undefined || Number.isNaN(atMs) ? Infinity : atMs;

const by = (thermometer: Thermometer, reading: TakenReading, isAssumed: boolean): ReadBy => ({
  thermometer,
  isAssumed,
  offsetC: correctionAt(thermometer.checks, { atMs: momentOf(reading), celsius: reading.temperature.celsius }) ?? 0,
});

function isOutOfUse({ checks }: Thermometer, atMs: number): boolean {
  const before = [...checks].sort((a, b) => a.atMs - b.atMs).findLast((each) => each.atMs < atMs);
  return before !== undefined && wasRetired(before);
}
