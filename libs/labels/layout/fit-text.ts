import { type Face, letterHeights, widthEm } from '../drawing/type-faces.js';

/** A text to place in a column, with its preferred and its least size. */
export interface TextToPlace {
  readonly item: string;
  readonly text: string;
  readonly face: Face;
  /** Em at scale 1; all texts of a column scale together. */
  readonly emMm: number;
  /** Least height of a capital, or of the small o where there are small letters. */
  readonly minLetterMm: number;
  /** May be set in capitals where small letters of the required height would be too large for the column. */
  readonly mayBeCapitals?: boolean;
  /**
   * May share a line with the text before it: whenever there is room, or only where the column is too low otherwise.
   */
  readonly sharesLine?: 'where it fits' | 'where needed';
  readonly gapBeforeMm?: number;
  /** Omitted before the label is refused. */
  readonly optional?: boolean;
}

export interface PlacedLine {
  readonly item: string;
  readonly text: string;
  readonly face: Face;
  readonly emMm: number;
  readonly xMm: number;
  /** From the column's top. */
  readonly baselineMm: number;
  readonly widthMm: number;
}

export interface PlacedText {
  readonly item: string;
  readonly text: string;
  readonly face: PlacedLine['face'];
  readonly emMm: number;
  readonly xMm: number;
  readonly baselineMm: number;
  readonly widthMm: number;
  readonly paper?: boolean;
  /** In the maker's colour, where the label is printed in colour. */
  readonly tinted?: boolean;
}

export interface Column {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly align: 'left' | 'centre';
  readonly maxScale: number;
  /** On a round label: the width available between two heights from the column's top. Lines are centred. */
  readonly widthBetween?: ((topMm: number, bottomMm: number) => number) | undefined;
}

/**
 * Sets texts into a column at the largest common scale at which all fit, never below a text's least height; before
 * anything is refused, small letters become capitals and optional texts are omitted.
 */
export function fitText(
  toPlace: readonly TextToPlace[],
  column: Column,
): { lines: PlacedLine[] } | { tooMuch: string[] } {
  // Refused at once where the least sizes don't fit: trying every size would take seconds on a page of stocks.
  if (!fitsSmallest(toPlace, column)) return { tooMuch: itemsToShorten(toPlace, column) };
  for (const chosen of withFewerOptional(toPlace)) {
    const isTight = !chosen.some(({ optional }) => optional);
    for (const options of isTight ? textStyles : roomyStyles) {
      const set = chosen.map((wanted) => inStyle(wanted, options));
      for (let scale = column.maxScale; scale > (isTight ? 0.3 : 0.75); scale -= 0.04) {
        const lines = place(set, column, scale);
        if (lines) return { lines };
      }
    }
  }
  return { tooMuch: itemsToShorten(toPlace, column) };
}

/** Whether all required texts fit at their least size. */
function fitsSmallest(toPlace: readonly TextToPlace[], column: Column): boolean {
  const needed = toPlace.filter(({ optional }) => !optional);
  const set = (options: (typeof textStyles)[number]) => needed.map((wanted) => inStyle(wanted, options));
  return textStyles.some((options) => place(set(options), column, 0.3) !== undefined);
}

/** Optional texts stay only while the rest is still set at a comfortable size. */
const roomyStyles = ['mixed', 'capitals'] as const;
const textStyles = ['mixed', 'capitals', 'close'] as const;

function inStyle(wanted: TextToPlace, options: (typeof textStyles)[number]): TextToPlace {
  if (options === 'mixed') return wanted;
  const text = wanted.mayBeCapitals ? wanted.text.toUpperCase() : wanted.text;
  return options === 'close' && wanted.sharesLine
    ? { ...wanted, text, sharesLine: 'where it fits' }
    : { ...wanted, text };
}

/** Height of the letters that the law measures: capitals, or the small o in mixed case. */
export const letterEm = (text: string, face: Face): number =>
  /\p{Ll}/u.test(text) ? letterHeights(face).x : letterHeights(face).cap;

function* withFewerOptional(toPlace: readonly TextToPlace[]): Generator<readonly TextToPlace[]> {
  yield toPlace;
  let remaining = toPlace;
  for (const wanted of toPlace.filter(({ optional }) => optional).reverse()) {
    remaining = remaining.filter((other) => other !== wanted);
    yield remaining;
  }
}

function place(toPlace: readonly TextToPlace[], column: Column, scale: number): PlacedLine[] | undefined {
  const lines: PlacedLine[] = [];
  let bottomMm = 0;
  for (const wanted of toPlace) {
    const emMm = Math.max(wanted.emMm * scale, wanted.minLetterMm / letterEm(wanted.text, wanted.face));
    if (wanted.sharesLine === 'where it fits' && joinLastLine(lines, wanted, emMm, column)) continue;
    const { cap } = letterHeights(wanted.face);
    const gapMm = lines.length > 0 ? (wanted.gapBeforeMm ?? 0) * Math.min(1, scale) : 0;
    const clearEm = Math.max(pitchEm(wanted.text), cap + 0.1 + hangingMm(lines.at(-1)) / emMm);
    const firstMm = lines.length === 0 ? cap * emMm : bottomMm + gapMm + clearEm * emMm;
    const texts = breakIntoLines(wanted, emMm, firstMm, column);
    if (!texts) return undefined;
    for (const [index, text] of texts.entries()) {
      const baselineMm: number = index === 0 ? firstMm : bottomMm + pitchEm(text) * emMm;
      const widthMm = widthEm(text, wanted.face) * emMm;
      const hangsMm = belowEm(text, wanted.face) * emMm;
      if (widthMm > roomAt(column, baselineMm - cap * emMm, baselineMm + hangsMm) + 1e-9) return undefined;
      const xMm = column.align === 'left' ? 0 : (column.widthMm - widthMm) / 2;
      lines.push({ item: wanted.item, text, face: wanted.face, emMm, xMm, baselineMm, widthMm });
      bottomMm = baselineMm;
      if (baselineMm + hangsMm > column.heightMm + 1e-9) return undefined;
    }
  }
  return lines;
}

/** How far a line extends below its baseline: small text under a large name keeps clear of its descenders. */
const hangingMm = (line: PlacedLine | undefined): number => (line ? belowEm(line.text, line.face) * line.emMm : 0);

const roomAt = ({ widthMm, widthBetween }: Column, topMm: number, bottomMm: number): number =>
  widthBetween ? Math.min(widthMm, widthBetween(topMm, bottomMm)) : widthMm;

/** A text in as few lines as the column allows; on a round label each line by the width at its own height. */
function breakIntoLines(wanted: TextToPlace, emMm: number, firstMm: number, column: Column): string[] | undefined {
  if (!column.widthBetween) return breakText(wanted.text, wanted.face, column.widthMm / emMm);
  const { cap, descent } = letterHeights(wanted.face);
  const pitchMm = pitchEm(wanted.text) * emMm;
  for (let count = 1; count <= wanted.text.split(' ').length; count++) {
    const rooms = Array.from({ length: count }, (_, index) => {
      const baselineMm = firstMm + index * pitchMm;
      return roomAt(column, baselineMm - cap * emMm, baselineMm + descent * emMm);
    });
    const texts = breakText(wanted.text, wanted.face, Math.min(...rooms) / emMm);
    if (texts && texts.length <= count) return texts;
  }
  return undefined;
}

/** Small letters have descenders; capitals and figures may be set closer. */
const pitchEm = (text: string): number => (/\p{Ll}/u.test(text) ? 1.14 : 1.02);
const belowEm = (text: string, face: Face): number => (/[gjpqyçQ(),;]/.test(text) ? letterHeights(face).descent : 0.03);

/** Puts the text on the line of the one before it, when there is room: a gap of an em between them. */
function joinLastLine(lines: PlacedLine[], wanted: TextToPlace, emMm: number, column: Column): boolean {
  const previous = lines.at(-1);
  if (!previous) return false;
  const gapMm = emMm * 0.8;
  const widthMm = widthEm(wanted.text, wanted.face) * emMm;
  const start = lines.findIndex(({ baselineMm }) => baselineMm === previous.baselineMm);
  const fromMm = (lines[start] ?? previous).xMm;
  const endMm = previous.xMm + previous.widthMm + gapMm + widthMm;
  const { cap, descent } = letterHeights(wanted.face);
  const maxMm = roomAt(column, previous.baselineMm - cap * emMm, previous.baselineMm + descent * emMm);
  if ((column.align === 'left' ? endMm : endMm - fromMm) > maxMm) return false;
  const line = {
    item: wanted.item,
    text: wanted.text,
    face: wanted.face,
    emMm,
    baselineMm: previous.baselineMm,
    widthMm,
  };
  lines.push({ ...line, xMm: endMm - widthMm });
  if (column.align === 'centre') {
    const moveMm = (column.widthMm - (endMm - fromMm)) / 2 - fromMm;
    for (const [index, placed] of [...lines.entries()].slice(start))
      lines[index] = { ...placed, xMm: placed.xMm + moveMm };
  }
  return true;
}

/**
 * Breaks at spaces into as few lines as the width allows, of similar length; undefined when one word is wider than the
 * column.
 */
export function breakText(text: string, face: Face, maxEm: number): string[] | undefined {
  if (widthEm(text, face) <= maxEm) return [text];
  const apart = text.split(' ');
  const lines = breakGreedily(apart, face, maxEm);
  if (!lines) return undefined;
  const together = text.split(spaceNotAfterNumber);
  const kept = breakGreedily(together, face, maxEm);
  const [words, first] = kept?.length === lines.length ? [together, kept] : [apart, lines];
  let even = first;
  for (let narrower = maxEm * 0.95; ; narrower *= 0.95) {
    const tried = breakGreedily(words, face, narrower);
    if (!tried || tried.length > lines.length) return even;
    even = tried;
  }
}

/** `25 Mar` and `8 fl oz` break after the number only where the text would need another line otherwise. */
const spaceNotAfterNumber = /(?<!(?:^| )\d+) /;

function breakGreedily(text: readonly string[], face: Face, maxEm: number): string[] | undefined {
  const lines: string[] = [];
  for (const word of text) {
    if (widthEm(word, face) > maxEm) return undefined;
    const longer = lines.length > 0 ? `${lines.at(-1)} ${word}` : word;
    if (lines.length > 0 && widthEm(longer, face) <= maxEm) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
}

/** The items whose removal would make the rest fit: what a maker can shorten. */
function itemsToShorten(toPlace: readonly TextToPlace[], column: Column): string[] {
  const needed = toPlace.filter(({ optional }) => !optional);
  const one = needed.filter((wanted) => !('lines' in fitClosest([wanted], column)));
  if (one.length > 0) return one.map(({ item }) => item);
  const shortenable = needed.filter(
    (wanted) =>
      'lines' in
      fitClosest(
        needed.filter((other) => other !== wanted),
        column,
      ),
  );
  return (shortenable.length > 0 ? shortenable : needed).map(({ item }) => item);
}

function fitClosest(toPlace: readonly TextToPlace[], column: Column): { lines: PlacedLine[] } | object {
  const lines = place(
    toPlace.map((wanted) => inStyle(wanted, 'close')),
    column,
    0.3,
  );
  return lines ? { lines } : {};
}
