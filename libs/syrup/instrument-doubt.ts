import type { Temperature } from './quantities.js';
import { allowedErrorCelsius } from './thermometer-check.js';

/** A check of an instrument as it was written down. */
export interface InstrumentChecked {
  readonly id: string;
  readonly atMs: number;
  readonly should?: Temperature | undefined;
  readonly reads?: Temperature | undefined;
  /** The maker's own word, for a float or a refractometer; it goes before the two temperatures. */
  readonly fit?: 'yes' | 'no' | undefined;
}

/** Whether it was found right or wrong; undefined where neither the word nor both temperatures were written. */
export function foundRight({ should, reads, fit }: InstrumentChecked): boolean | undefined {
  if (fit) return fit === 'yes';
  if (!should || !reads) return undefined;
  return Math.abs(should.celsius - reads.celsius) <= allowedErrorCelsius + 1e-9;
}

/** From when to when an instrument's readings are in doubt; open at an end where no check bounds it. */
export interface Doubt {
  readonly afterMs: number;
  readonly untilMs: number;
  /** The last check that found it right, and the one that found it wrong. */
  readonly lastRight: string | undefined;
  readonly foundWrong: string | undefined;
}

/**
 * What was read since the last good check up to the failed one. `failed` names it, else it is the last that failed;
 * where none did, the instrument is found wrong now, and everything since its last good check is in doubt.
 */
export function doubtOf(checks: readonly InstrumentChecked[], failed?: string): Doubt {
  const inOrder = [...checks].sort((a, b) => a.atMs - b.atMs);
  const wrong =
    failed === undefined
      ? inOrder.findLast((each) => foundRight(each) === false)
      : inOrder.find((each) => each.id === failed);
  const before = wrong ? inOrder.slice(0, inOrder.indexOf(wrong)) : inOrder;
  const right = before.findLast((each) => foundRight(each) === true);
  return {
    afterMs: right?.atMs ?? -Infinity,
    untilMs: wrong?.atMs ?? Infinity,
    lastRight: right?.id,
    foundWrong: wrong?.id,
  };
}

/** Whether something read from one moment to another falls into the doubt: at the good check itself it does not. */
export const inDoubt = ({ afterMs, untilMs }: Doubt, fromMs: number, toMs: number): boolean =>
  fromMs <= untilMs && toMs > afterMs;
