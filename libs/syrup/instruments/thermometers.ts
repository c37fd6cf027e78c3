import { type InstrumentChecked, wasRetired } from './instrument-checks.js';
import type { TakenReading } from '../quantities/reading-time.js';
import { correctionCelsiusAt } from './thermometer-correction.js';

/** A thermometer of the sugarhouse, with all its recorded checks. */
export interface Thermometer {
  readonly id: string;
  readonly checks: readonly InstrumentChecked[];
  readonly checkedThisSeason: boolean;
}

/** The thermometer that a reading is judged by, and its correction. */
export interface ReadingThermometer {
  readonly thermometer: Thermometer;
  /** The reading names none, so one of the sugarhouse's is assumed. */
  readonly isAssumed: boolean;
  /** °C to add at the reading’s temperature; 0 where no check gives a correction. */
  readonly offsetC: number;
}

/**
 * Finds the thermometer of a reading: the one that it names; otherwise, of those in use, the one that lowers the reading
 * most, since an assumption may hold a lot but never open one. Undefined where none is named and none is in use.
 */
export function resolveThermometer(
  reading: TakenReading,
  thermometers: readonly Thermometer[],
): ReadingThermometer | undefined {
  const name = reading.thermometer;
  if (name !== undefined) {
    const known = thermometers.find(
      (each) =>
        each.id ===
        findMatchingId(
          name,
          thermometers.map(({ id }) => id),
        ),
    );
    return assignThermometer(known ?? { id: name, checks: [], checkedThisSeason: false }, reading, false);
  }
  return thermometersInUse(thermometers, readingMs(reading))
    .map((each) => assignThermometer(each, reading, true))
    .sort((a, b) => a.offsetC - b.offsetC)
    .at(0);
}

/** The thermometers that no check before `atMs` took out of use. */
export const thermometersInUse = (thermometers: readonly Thermometer[], atMs: number): Thermometer[] =>
  thermometers.filter((each) => !isOutOfUse(each, atMs));

/** Ids are compared regardless of case: `t1` in a reading is the T1 of its check. */
export const sameId = (a: string, b: string): boolean => a.trim().toUpperCase() === b.trim().toUpperCase();

/**
 * Which id a text refers to: the same regardless of case, else one that differs only by a dash, a dot or a zero before
 * its number, as `T-1` and `T01` from T1, or has the kind of instrument before it, as `hydrometer H9`. Returned as
 * written where none matches.
 */
export function findMatchingId(written: string, ids: readonly string[]): string {
  const exact = ids.find((id) => sameId(id, written));
  if (exact !== undefined) return exact;
  const alike = ids.filter((id) => canonicalId(id) === canonicalId(written));
  return alike.length === 1 ? (alike[0] ?? written) : written;
}
const instrumentKindPrefix =
  /^\s*(?:HYDROMETER|THERMOMETER|REFRACTOMETER|DENSIMÈTRE|THERMOMÈTRE|RÉFRACTOMÈTRE)[\s.:_-]+(?=\S)/u;
/** An id in one spelling: `T-01` and `thermometer T1` become `T1`. */
export const canonicalId = (id: string): string =>
  id
    .toUpperCase()
    .replace(instrumentKindPrefix, '')
    .replace(/[\s._-]+/gu, '')
    .replace(/(?<!\d)0+(?=\d)/gu, '');

/** When a reading was taken, in milliseconds; without a time it counts as after every check. */
export const readingMs = ({ atMs }: TakenReading): number =>
  atMs === undefined || Number.isNaN(atMs) ? Infinity : atMs;

const assignThermometer = (
  thermometer: Thermometer,
  reading: TakenReading,
  isAssumed: boolean,
): ReadingThermometer => ({
  thermometer,
  isAssumed,
  offsetC:
    correctionCelsiusAt(thermometer.checks, { atMs: readingMs(reading), celsius: reading.temperature.celsius }) ?? 0,
});

function isOutOfUse({ checks }: Thermometer, atMs: number): boolean {
  const before = [...checks].sort((a, b) => a.atMs - b.atMs).findLast((each) => each.atMs < atMs);
  return before !== undefined && wasRetired(before);
}
