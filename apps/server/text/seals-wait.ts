import type { Lot } from '#libs/store/queries/lots.js';

/** Whether a released lot's jars still wait for their seal check: none may be sold, given away or sampled before it. */
export const sealsWait = ({ verdict }: Lot): boolean =>
  verdict?.findings.some(({ rule }) => rule === 'seals-not-checked') ?? false;
