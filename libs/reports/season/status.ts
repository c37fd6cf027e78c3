import { ink, type TextStyle } from '#libs/pdf/paper.js';
import type { SeasonLot } from './lot.js';

/** In capitals where it may not be sent out, so that it stands out in black and white too. */
export const statusWord = (lot: SeasonLot): string =>
  lot.status === 'held' || lot.status === 'recalled' ? lot.status.toUpperCase() : lot.status;

/** Text style of a lot's status: bold and in the stamp's colour where it is held or recalled. */
export const statusStyle = (lot: SeasonLot): TextStyle =>
  lot.status === 'held' || lot.status === 'recalled' ? { face: 'bold', colour: ink.stamp } : {};
