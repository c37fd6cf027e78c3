import { foundRight, type InstrumentChecked } from './instrument-checks.js';

/** The period in which an instrument's readings are suspect; open at an end where no check bounds it. */
export interface SuspectPeriod {
  readonly afterMs: number;
  readonly untilMs: number;
  /** The last check that found it right, and the one that found it wrong. */
  readonly lastRight: string | undefined;
  readonly foundWrong: string | undefined;
}

/**
 * What was read since the last good check of the same kind up to the failed one: right in ice is not right at the boil.
 * `failed` names it, else it is the last that failed; where none did, the instrument is found wrong now, and everything
 * since its last good check is suspect.
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
 * Whether something read from one moment to another falls into the suspect period, which excludes the moment of the
 * good check.
 */
export const isInSuspectPeriod = ({ afterMs, untilMs }: SuspectPeriod, fromMs: number, toMs: number): boolean =>
  fromMs <= untilMs && toMs > afterMs;
