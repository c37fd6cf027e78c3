import type { Temperature } from '../quantities/quantities.js';
import { allowedErrorCelsius } from './thermometer-check.js';

/** Where an instrument's reference value came from. */
export type ShouldFrom = 'typed' | 'ice' | 'pressure' | 'elevation';

/** A check of an instrument as recorded. */
export interface InstrumentChecked {
  readonly id: string;
  readonly atMs: number;
  /** Its day as typed, for sentences. */
  readonly day?: string | undefined;
  /** Ice, boiling water or a reference: a check at one point proves nothing at another. */
  readonly how?: string | undefined;
  readonly should?: Temperature | undefined;
  readonly shouldFrom?: ShouldFrom | undefined;
  readonly reads?: Temperature | undefined;
  /** The maker's own result. A yes doesn't outweigh two temperatures that disagree. */
  readonly fit?: 'yes' | 'no' | undefined;
  /** What was done about it, free text. */
  readonly done?: string | undefined;
}

/** Whether the check passed; undefined where neither a result nor both temperatures were recorded. */
export function foundRight({ should, reads, fit }: InstrumentChecked): boolean | undefined {
  if (fit === 'no') return false;
  if (should && reads) return Math.abs(should.celsius - reads.celsius) <= allowedErrorCelsius + 1e-9;
  return fit === 'yes' ? true : undefined;
}

/** °C to add to a reading by this check; undefined without both temperatures. */
export const offsetOf = ({ should, reads }: InstrumentChecked): number | undefined =>
  should && reads ? should.celsius - reads.celsius : undefined;

/** Whether the instrument was adjusted then: checks before and after it can't show whether it is erratic. */
export const wasAdjusted = ({ done }: InstrumentChecked): boolean =>
  /adjust|calibrat|\bset\b(?! (?:aside|apart|away))|\breset|repair|mended|battery|nut turned|replac|ajust|étalonn|répar|réglé/iu.test(
    doneIn(done),
  );

/** Whether the instrument was taken out of use then. */
export const wasRetired = ({ done }: InstrumentChecked): boolean =>
  /not used (?:again|any ?more)|plus utilis/iu.test(done ?? '') ||
  /out of use|taken off|retired|thrown|discard|binned|jeté|hors d[’']usage/iu.test(doneIn(done));

/** Removes what was not done or is still to do: `not adjusted`, `needs calibrating`, `adjusting not needed`. */
const doneIn = (text = ''): string => text.replace(notDone, ' ').replace(doneNot, ' ');
const notDone =
  /(?<![\p{L}])(?:not|never|cannot|can['’]?t|could ?n[o'’]?t|did ?n[o'’]?t|won['’]?t|without|needs?|to be|to|will|should|must|pas|jamais|sans|sera|doit|faut|à)\s+(?:(?:yet|be|to|get|have|been|really|été|être|encore)\s+){0,2}[\p{L}]+/giu;
const doneNot =
  /[\p{L}]+\s+(?:(?:was|is|were|are)\s+)?(?:not\s+(?:needed|necessary|done|possible)|un(?:needed|necessary)|pas\s+(?:nécessaire|fait))/giu;

/**
 * The checks that count, oldest first. Elevation alone ignores the day's weather (about 0.85 °F for half an inch of
 * mercury), so a boiling check that rests on it is replaced by the next one with the day's pressure or a typed value,
 * unless the instrument was adjusted in between.
 */
export function checksThatCount(checks: readonly InstrumentChecked[]): InstrumentChecked[] {
  const inOrder = [...checks].sort((a, b) => a.atMs - b.atMs);
  return inOrder.filter((check, index) => {
    if (foundRight(check) === undefined) return false;
    if (check.shouldFrom !== 'elevation' || wasAdjusted(check)) return true;
    return !inOrder
      .slice(index + 1)
      .some((later) => isBoiling(later) && later.shouldFrom !== 'elevation' && offsetOf(later) !== undefined);
  });
}

const isBoiling = ({ how }: InstrumentChecked): boolean => how === 'boiling-water';

/** The point of the scale at which a check was made: ice, boiling water, or a reference by its own temperature. */
export function pointOf({ how, should }: InstrumentChecked): string {
  if (how !== 'reference') return how ?? '';
  return `reference ${should ? Math.round(should.celsius / 10) : ''}`;
}
