import { foundRight, type InstrumentChecked } from './instrument-checks.js';

/** The period in which an instrument's readings are suspect; unbounded where no check ends it. */
export interface SuspectPeriod {
  readonly afterMs: number;
  readonly untilMs: number;
  /** The last good check, and the failed one. */
  readonly lastRight: string | undefined;
  readonly foundWrong: string | undefined;
}

/**
 * From the last good check of the same kind to the failed one: a good check in ice proves nothing at the boil. `failed`
 * names the failed check, by default the last that failed; where none did, the instrument counts as found wrong now,
 * and everything since its last good check is suspect.
 */
export function suspectPeriodOf(checks: readonly InstrumentChecked[], failed?: string): SuspectPeriod {
  const inOrder = [...checks].sort((a, b) => a.atMs - b.atMs);
  const wrong =
    failed === undefined
      ? inOrder.findLast((each) => foundRight(each) === false)
      : inOrder.find((each) => each.id === failed);
  const before = wrong ? inOrder.slice(0, inOrder.indexOf(wrong)) : inOrder;
  const right = before.findLast((each) => foundRight(each) === true && (!wrong || each.how === wrong.how));
  return {
    afterMs: right?.atMs ?? -Infinity,
    untilMs: wrong?.atMs ?? Infinity,
    lastRight: right?.id,
    foundWrong: wrong?.id,
  };
}

/**
 * Whether a reading taken between two moments falls into the suspect period, which excludes the moment of the good
 * check.
 */
export const isInSuspectPeriod = ({ afterMs, untilMs }: SuspectPeriod, fromMs: number, toMs: number): boolean =>
  fromMs <= untilMs && toMs > afterMs;
