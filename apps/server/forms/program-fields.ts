import type { Fields } from '#libs/actions/record/fields.js';
import { allTexts, type Posted } from './field-view.js';

/**
 * Form fields that belong to the program and not to the record. Their names hold a character that no record field has,
 * so a future field can't collide with them.
 */
export const correctionWhy = 'correction~why';
export const correctionStrike = 'correction~strike';
/** Which field the page corrects: a name, or `all`. */
export const correctionField = 'correction~field';
/** Which item of a list the page corrects, in the words of the page; `new` where it adds one. */
export const correctionItem = 'correction~item';

/**
 * The reason for a correction. A page opened before this name was introduced posts `why`, which is read where the kind
 * has no such field.
 */
export const reasonFor = (fields: Fields, posted: Posted): string =>
  allTexts(posted[correctionWhy] ?? (fields['why'] ? undefined : posted['why'])).at(-1) ?? '';
