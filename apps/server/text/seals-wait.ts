import type { Lot } from '#libs/store/queries/lots.js';
import type { Finding } from '#libs/syrup/rules/verdict.js';

/** What says that seals are still to be checked, of all jars of a lot or of those that it names. */
export const uncheckedSeals = ({ verdict }: Lot): Finding[] =>
  verdict?.findings.filter(({ rule }) => rule === 'seals-not-checked') ?? [];

/** Whether a released lot's jars still wait for their seal check: none may be sold, given away or sampled before it. */
export const sealsWait = (lot: Lot): boolean => uncheckedSeals(lot).length > 0;
