import type { Lot } from '#libs/store/queries/lots.js';
import { wholePack } from '#libs/syrup/jars/fill-holds.js';
import { coversSpans } from '#libs/syrup/jars/jar-spans.js';

/** Whether every jar of a pack was poured back or destroyed: nothing is left to hold, correct or send. */
export const areAllGone = ({ jars, verdict }: Pick<Lot, 'jars' | 'verdict'>): boolean =>
  jars !== undefined && jars > 0 && coversSpans(verdict?.gone ?? [], wholePack(jars));

/** What is left to do for such a pack while it is still held. */
export const allGoneText = 'All of its jars were poured back or destroyed. A maker closes it by releasing it.';
/** The reason given when it is released with one tap. */
export const allGoneReason = 'every jar of it was poured back or destroyed';
