import type { Temperature } from './quantities.js';
import { allowedErrorCelsius } from './thermometer-check.js';

/** A check of an instrument as it was written down. */
export interface InstrumentChecked {
  readonly id: string;
  readonly atMs: number;
  /** Ice, boiling water, a reference: one says nothing of the other. */
  readonly how?: string | undefined;
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
 * What was read since the last good check of the same kind up to the failed one: right in ice is not right at the boil. `failed` names it, else it is the last that failed;
 * where none did, the instrument is found wrong now, and everything since its last good check is in doubt.
 */
export function doubtOf(checks: readonly InstrumentChecked[], failed?: string): Doubt {
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

/** Whether something read from one moment to another falls into the doubt: at the good check itself it does not. */
export const inDoubt = ({ afterMs, untilMs }: Doubt, fromMs: number, toMs: number): boolean =>
  fromMs <= untilMs && toMs > afterMs;

/**
 * How far an instrument was out when something was read, °C to add: by the next check of each kind after it, which tells
 * how it stood until then, else by the last before it. Of several kinds the one that is furthest out.
 */
export function offsetAt(
  checks: readonly InstrumentChecked[],
  atMs: number,
): { readonly offsetC: number; readonly out: boolean } | undefined {
  const byKind = new Map<string, InstrumentChecked>();
  for (const check of [...checks].sort((a, b) => a.atMs - b.atMs)) {
    if (!check.should || !check.reads) continue;
    const kind = check.how ?? '';
    const known = byKind.get(kind);
    if (known === undefined || known.atMs < atMs) byKind.set(kind, check);
  }
  return [...byKind.values()]
    .map((check) => ({
      offsetC: (check.should?.celsius ?? 0) - (check.reads?.celsius ?? 0),
      out: foundRight(check) === false,
    }))
    .sort((a, b) => Math.abs(b.offsetC) - Math.abs(a.offsetC))[0];
}
