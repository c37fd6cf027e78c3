/** A point that may carry its reading beside it. */
export interface WordedPoint {
  readonly at: number;
  readonly over: number;
  readonly words: string;
  /** Out of bounds: its word is placed before the others. */
  readonly out?: boolean;
}

export interface PlacedWord {
  readonly at: number;
  readonly over: number;
  readonly words: string;
  readonly dx: number;
  readonly dy: number;
  readonly align: 'left' | 'center' | 'right';
}

/** Where a picture puts its points: the span of its axes, and heights at which a ruled line runs. */
export interface PlotSpan {
  readonly at: readonly [number, number];
  readonly over: readonly [number, number];
  readonly lines: readonly number[];
  /** The points are joined by a line in their order, which no word may cross either. */
  readonly joined?: boolean;
  /** Words that stand at the foot of the picture already. */
  readonly standing?: readonly { readonly at: number; readonly over: number; readonly words: string }[];
}

/**
 * Readings beside their points, none over another, over a point or over a ruled line. One that finds no room is left
 * out: the table under the picture has it. Reckoned for the plot on paper, the smaller one; on a screen there is more room.
 */
export function placedText(points: readonly WordedPoint[], span: PlotSpan): readonly PlacedWord[] {
  const dots = points.map((point) => boxAround(spotOf(point, span), 5, 5));
  const rules = span.lines.map((over) => {
    const { y } = spotOf({ at: span.at[0], over }, span);
    return { left: -1e6, right: 1e6, top: y - 1, bottom: y + 1 };
  });
  const joins = span.joined ? joinsOf(points.map((point) => spotOf(point, span))) : [];
  const taken: Box[] = (span.standing ?? []).map((one) =>
    wordBox(spotOf(one, span), one.words, { dx: 0, dy: -8, align: 'center' }),
  );
  const placed: PlacedWord[] = [];
  for (const point of [...points].sort((one, other) => Number(other.out ?? false) - Number(one.out ?? false))) {
    const spot = spotOf(point, span);
    const own = dots[points.indexOf(point)];
    for (const place of places) {
      const box = wordBox(spot, point.words, place);
      if (box.top < -14 || box.bottom > plot.height + 2 || box.right > plot.width + 16 || box.left < -2) continue;
      if ([...taken, ...rules, ...joins, ...dots.filter((dot) => dot !== own)].some((other) => meets(box, other)))
        continue;
      taken.push(box);
      placed.push({ at: point.at, over: point.over, words: point.words, ...place });
      break;
    }
  }
  return placed;
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}
interface Spot {
  readonly x: number;
  readonly y: number;
}

/** Inside the axes of the picture on paper, less its padding for the first and last day. */
const plot = { width: 196, height: 104, padding: 18 } as const;
const letter = { width: 6, height: 10 } as const;

const places = [
  { dx: 0, dy: -10, align: 'center' },
  { dx: 0, dy: 11, align: 'center' },
  { dx: 8, dy: 0, align: 'left' },
  { dx: -8, dy: 0, align: 'right' },
  { dx: 5, dy: 9, align: 'left' },
  { dx: -5, dy: -9, align: 'right' },
  { dx: 5, dy: -9, align: 'left' },
  { dx: -5, dy: 9, align: 'right' },
] as const;

function spotOf({ at, over }: { readonly at: number; readonly over: number }, span: PlotSpan): Spot {
  const share = (value: number, [least, most]: readonly [number, number]): number =>
    most === least ? 0.5 : (value - least) / (most - least);
  return {
    x: plot.padding + share(at, span.at) * (plot.width - 2 * plot.padding),
    y: plot.height * (1 - share(over, span.over)),
  };
}

/** Short pieces of the line from point to point. */
const joinsOf = (spots: readonly Spot[]): Box[] =>
  spots.flatMap((from, n) => {
    const to = spots[n + 1];
    if (!to) return [];
    const pieces = Math.max(2, Math.ceil(Math.hypot(to.x - from.x, to.y - from.y) / 3));
    return Array.from({ length: pieces }, (_, k) =>
      boxAround({ x: from.x + ((to.x - from.x) * k) / pieces, y: from.y + ((to.y - from.y) * k) / pieces }, 1.5, 1.5),
    );
  });

const boxAround = ({ x, y }: Spot, halfWidth: number, halfHeight: number): Box => ({
  left: x - halfWidth,
  right: x + halfWidth,
  top: y - halfHeight,
  bottom: y + halfHeight,
});

function wordBox({ x, y }: Spot, text: string, { dx, dy, align }: Pick<PlacedWord, 'dx' | 'dy' | 'align'>): Box {
  const width = text.length * letter.width;
  const left = align === 'left' ? x + dx : align === 'right' ? x + dx - width : x - width / 2;
  return { left, right: left + width, top: y + dy - letter.height / 2, bottom: y + dy + letter.height / 2 };
}

const meets = (one: Box, other: Box): boolean =>
  one.left < other.right && other.left < one.right && one.top < other.bottom && other.top < one.bottom;
