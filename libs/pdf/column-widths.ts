/** The width a column needs to stay on one line, and the least width without breaking a word. */
export interface ColumnNeed {
  readonly naturalPt: number;
  readonly minPt: number;
}

/**
 * Widths that add up to at most `widthPt`, whatever the columns contain. Where all fit, each gets what it needs and the
 * rest is shared evenly; else the widest columns shrink first, and only when even the longest words don't fit side by
 * side are all cut in proportion (then words are broken).
 */
export function columnWidths(needs: readonly ColumnNeed[], widthPt: number): readonly number[] {
  const natural = sum(needs.map((wish) => wish.naturalPt));
  if (natural <= widthPt) {
    const spare = Math.min((widthPt - natural) / needs.length, maxSparePt);
    return needs.map((wish) => wish.naturalPt + spare);
  }
  const minimum = sum(needs.map((wish) => wish.minPt));
  if (minimum >= widthPt) return needs.map((wish) => (wish.minPt / minimum) * widthPt);
  const share = (widthPt - minimum) / (natural - minimum);
  return needs.map((wish) => wish.minPt + (wish.naturalPt - wish.minPt) * share);
}

/** Columns further apart than this are hard to follow along the line. */
const maxSparePt = 36;

const sum = (numbers: readonly number[]): number => numbers.reduce((total, number) => total + number, 0);
