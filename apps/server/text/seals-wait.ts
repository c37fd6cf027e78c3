import type { Lot } from '#libs/store/queries/lots.js';

/** Whether jars of a lot that may go out still wait for their seals: none may be sold, given or sampled before. */
export const sealsWait = ({ verdict }: Lot): boolean =>
  verdict?.findings.some(({ rule }) => rule === 'seals-not-checked') ?? false;
