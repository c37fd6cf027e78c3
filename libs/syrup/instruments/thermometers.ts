import { type InstrumentChecked, wasRetired } from './instrument-checks.js';
import type { TakenReading } from '../quantities/reading-time.js';
import { correctionAt } from './thermometer-correction.js';

/** A thermometer of the house, with every check of it that was written down. */
export interface Thermometer {
  readonly id: string;
  readonly checks: readonly InstrumentChecked[];
  readonly checkedThisSeason: boolean;
}

/** The thermometer that a reading is judged by. */
export interface ReadBy {
  readonly thermometer: Thermometer;
  /** The reading names none, so one of the house's was taken. */
  readonly isAssumed: boolean;
  /** °C to add at the reading's temperature; 0 where nothing is known. */
  readonly offsetC: number;
}

/**
 * The thermometer named; where none is, the house's only one in use, and of several the one that lowers the reading
 * most: an assumption may hold a lot, never open one. Undefined where nothing is named and the house has none.
 */
export function readBy(reading: TakenReading, thermometers: readonly Thermometer[]): ReadBy | undefined {
  const name = reading.thermometer;
  if (name !== undefined) {
    const known = thermometers.find((each) => sameId(each.id, name));
    return by(known ?? { id: name, checks: [], checkedThisSeason: false }, reading, false);
  }
  const inUse = thermometers.filter((each) => !isOutOfUse(each, momentOf(reading)));
  return inUse
    .map((each) => by(each, reading, true))
    .sort((a, b) => a.offsetC - b.offsetC)
    .at(0);
}

/** An id is the same in any case: `t1` at the bench is the T1 of its check. */
export const sameId = (a: string, b: string): boolean => a.trim().toUpperCase() === b.trim().toUpperCase();

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
