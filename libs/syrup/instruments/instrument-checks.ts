import type { Temperature } from '../quantities/quantities.js';
import { allowedErrorCelsius } from './thermometer-check.js';

/** Where the reference value of a check came from. */
export type ReferenceSource = 'typed' | 'ice' | 'pressure' | 'elevation';

/** A check of an instrument as recorded: `should` is the reference, `reads` what the instrument read. */
export interface InstrumentChecked {
  readonly id: string;
  readonly atMs: number;
  /** Its day as typed, for sentences. */
  readonly day?: string | undefined;
  /** `ice`, `boiling-water` or `reference`: a check at one point of the scale proves nothing at another. */
  readonly how?: string | undefined;
  readonly should?: Temperature | undefined;
  readonly shouldFrom?: ReferenceSource | undefined;
  readonly reads?: Temperature | undefined;
  /** The maker’s own result. Two recorded temperatures outweigh a yes. */
  readonly fit?: 'yes' | 'no' | undefined;
  /** What was done after the check, free text. */
  readonly done?: string | undefined;
}

/** Whether the check passed; undefined where neither a result nor both temperatures were recorded. */
export function passedCheck({ should, reads, fit }: InstrumentChecked): boolean | undefined {
  if (fit === 'no') return false;
  if (should && reads) return Math.abs(should.celsius - reads.celsius) <= allowedErrorCelsius + 1e-9;
  return fit === 'yes' ? true : undefined;
}

/** °C to add to a reading by this check; undefined without both temperatures. */
export const offsetCelsius = ({ should, reads }: InstrumentChecked): number | undefined =>
  should && reads ? should.celsius - reads.celsius : undefined;

/** Whether the instrument was adjusted after the check, so that checks before and after may differ. */
export const wasAdjusted = ({ done }: InstrumentChecked): boolean =>
  /adjust|calibrat|\bset\b(?! (?:aside|apart|away))|\breset|repair|mended|battery|replac|ajust|étalonn|répar|réglé/iu.test(
    withoutUndone(done),
  ) || turnedByItsNut.test(withoutUndone(done));

/** `nut under the dial turned until it read 32`, `turned the screw`: how a dial thermometer is set to a reference. */
const turnedByItsNut =
  /(?<!\p{L})(?:nut|screw|écrou|vis)(?!\p{L})[^.;]*(?<!\p{L})(?:turned|tourné)|(?<!\p{L})(?:turned|tourné)[^.;]*(?<!\p{L})(?:nut|screw|écrou|vis)(?!\p{L})/iu;

/** Whether the instrument was taken out of use after the check. */
export const wasRetired = ({ done }: InstrumentChecked): boolean =>
  /not used (?:again|any ?more)|plus utilis/iu.test(done ?? '') ||
  /out of use|taken off|retired|thrown|discard|binned|jeté|hors d[’']usage/iu.test(withoutUndone(done));

/** Removes phrases for what was not done, or not yet: `not adjusted`, `needs calibrating`, `adjusting not needed`. */
const withoutUndone = (text = ''): string => text.replace(notDone, ' ').replace(doneNot, ' ');
const notDone =
  /(?<![\p{L}])(?:not|never|cannot|can['’]?t|could ?n[o'’]?t|did ?n[o'’]?t|won['’]?t|without|needs?|to be|to|will|should|must|pas|jamais|sans|sera|doit|faut|à)\s+(?:(?:yet|be|to|get|have|been|really|été|être|encore)\s+){0,2}[\p{L}]+/giu;
const doneNot =
  /[\p{L}]+\s+(?:(?:was|is|were|are)\s+)?(?:not\s+(?:needed|necessary|done|possible)|un(?:needed|necessary)|pas\s+(?:nécessaire|fait))/giu;

/**
 * The checks with a result, oldest first. A boiling check against the boiling point for the elevation alone ignores the
 * weather (about 0.85 °F for half an inch of mercury): it is left out where a later one used the day's pressure or a
 * typed reference, unless the instrument was adjusted after it.
 */
export function validChecks(checks: readonly InstrumentChecked[]): InstrumentChecked[] {
  const inOrder = [...checks].sort((a, b) => a.atMs - b.atMs);
  return inOrder.filter((check, index) => {
    if (passedCheck(check) === undefined) return false;
    if (check.shouldFrom !== 'elevation' || wasAdjusted(check)) return true;
    return !inOrder
      .slice(index + 1)
      .some((later) => isBoiling(later) && later.shouldFrom !== 'elevation' && offsetCelsius(later) !== undefined);
  });
}

const isBoiling = ({ how }: InstrumentChecked): boolean => how === 'boiling-water';

/** The point of the scale that a check tested: `ice`, `boiling-water`, or a reference rounded to 10 °C. */
export function scalePoint({ how, should }: InstrumentChecked): string {
  if (how !== 'reference') return how ?? '';
  return `reference ${should ? Math.round(should.celsius / 10) : ''}`;
}
