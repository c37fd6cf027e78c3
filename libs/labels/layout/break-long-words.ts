import { widthEm } from '../drawing/type-faces.js';
import { type Column, fitText, letterEm, type PlacedLine, type TextToPlace } from './fit-text.js';

/**
 * As `fitText`; where a word is wider than the column at any size that can be read, it is broken with a hyphen, at the
 * largest size at which all texts then fit. `tooMuch` names the texts that fit at no size.
 */
export function fitBreakingWords(
  toPlace: readonly TextToPlace[],
  column: Column,
): { lines: PlacedLine[] } | { tooMuch: string[] } {
  const whole = fitText(toPlace, column);
  if ('lines' in whole) return whole;
  for (const scale of scales) {
    const broken = toPlace.map((wanted) => breakWords(wanted, column.widthMm, scale));
    const set = fitText(
      broken.map(({ wanted }) => wanted),
      column,
    );
    // At a smaller size than the words were broken for, two parts of a word may come to stand in one line.
    const isTorn = (line: PlacedLine): boolean =>
      broken.some(({ parts }) => parts.some((part) => line.text.includes(`${part} `)));
    if ('lines' in set && !set.lines.some(isTorn)) return set;
  }
  return whole;
}

/** From the preferred size to the least; `fitText` sets no text below 0.3 of its own. */
const scales = [1, 0.85, 0.7, 0.55, 0.4, 0.3];

interface BrokenText {
  readonly wanted: TextToPlace;
  /** The parts that end in a hyphen. */
  readonly parts: readonly string[];
}

function breakWords(wanted: TextToPlace, widthMm: number, scale: number): BrokenText {
  const { face, text, emMm, minLetterMm } = wanted;
  const maxEm = widthMm / Math.max(emMm * scale, minLetterMm / letterEm(text, face));
  const parts: string[] = [];
  const words = text.split(' ').map((word) => {
    let rest = word;
    let set = '';
    while (widthEm(rest, face) > maxEm) {
      const part = `${longestPart(rest, (start) => widthEm(`${start}-`, face) <= maxEm)}-`;
      parts.push(part);
      set += `${part} `;
      rest = rest.slice(part.length - 1);
    }
    return set + rest;
  });
  return { wanted: { ...wanted, text: words.join(' ') }, parts };
}

/** The longest start of the word that fits, one letter at least. */
function longestPart(word: string, fits: (start: string) => boolean): string {
  const letters = [...word];
  let count = letters.length - 1;
  while (count > 1 && !fits(letters.slice(0, count).join(''))) count--;
  return letters.slice(0, count).join('');
}
