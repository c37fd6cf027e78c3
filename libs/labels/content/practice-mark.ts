import type { TextToPlace } from '../layout/fit-text.js';
import { capHeightEm, widthEm } from '../drawing/type-faces.js';

/** PRACTICE as a line of the label, beside the lot or under it. */
export const practiceText = (minLetterMm: number): TextToPlace => ({
  item: 'Practice',
  text: 'PRACTICE',
  face: 'words-heavy',
  emMm: 3.2,
  minLetterMm,
  sharesLine: 'where it fits',
});

/**
 * PRACTICE set upwards across the text of a label, in outline, so that a thermal printer shows it and the text stays
 * readable.
 */
export interface PracticeMark {
  readonly word: string;
  readonly emMm: number;
  /** Radians, anticlockwise. */
  readonly turn: number;
  /** Start of its baseline. */
  readonly xMm: number;
  readonly yMm: number;
}

/** The word PRACTICE across a label's text column, turned so that it fits; places in mm. */
export function practiceMark(column: { xMm: number; yMm: number; widthMm: number; heightMm: number }): PracticeMark {
  const word = 'PRACTICE';
  const turn = Math.min(0.32, Math.atan2(column.heightMm * 0.55, column.widthMm));
  const wide = widthEm(word, 'words-heavy');
  const emMm = Math.min((column.widthMm * 0.96) / wide / Math.cos(turn), column.heightMm * 0.75);
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const [longMm, highMm] = [wide * emMm, capHeightEm * emMm];
  return {
    word,
    emMm,
    turn,
    xMm: column.xMm + column.widthMm / 2 - (cos * longMm - sin * highMm) / 2,
    yMm: column.yMm + column.heightMm / 2 + (sin * longMm + cos * highMm) / 2,
  };
}
