import { passedCheck, type InstrumentChecked } from './instrument-checks.js';

/** The period in which an instrument's readings are suspect; unbounded where no check ends it. */
export interface SuspectPeriod {
  readonly afterMs: number;
  readonly untilMs: number;
  /** Ids of the checks that begin and end it. */
  readonly lastPassedCheck: string | undefined;
  readonly failedCheck: string | undefined;
}

/**
 * The period from the last passed check at the same point of the scale to the failed check. `failed` is the id of that
 * check, by default the last that failed; where none did, the period is open: everything since the last passed check.
 */
export function suspectPeriodOf(checks: readonly InstrumentChecked[], failed?: string): SuspectPeriod {
  const inOrder = [...checks].sort((a, b) => a.atMs - b.atMs);
  const wrong =
    failed === undefined
      ? inOrder.findLast((each) => passedCheck(each) === false)
      : inOrder.find((each) => each.id === failed);
  const before = wrong ? inOrder.slice(0, inOrder.indexOf(wrong)) : inOrder;
  const right = before.findLast((each) => passedCheck(each) === true && (!wrong || each.how === wrong.how));
  return {
    afterMs: right?.atMs ?? -Infinity,
    untilMs: wrong?.atMs ?? Infinity,
    lastPassedCheck: right?.id,
    failedCheck: wrong?.id,
  };
}

/** Whether a reading taken between two moments may be in the period; the moment of the passed check is not in it. */
export const isInSuspectPeriod = ({ afterMs, untilMs }: SuspectPeriod, fromMs: number, toMs: number): boolean =>
  fromMs <= untilMs && toMs > afterMs;
