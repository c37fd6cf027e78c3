import { plotOf, textWidth, type ChartShape } from './chart-shape.js';
import { occupied, type Box } from './occupied.js';

/** A point that may carry its reading beside it. */
export interface LabelledPoint {
  readonly at: number;
  readonly over: number;
  readonly text: string;
  /** Out of bounds: its text is placed before the others. */
  readonly out?: boolean;
}

export interface PlacedText {
  readonly at: number;
  readonly over: number;
  readonly text: string;
  readonly dx: number;
  readonly dy: number;
  readonly align: 'left' | 'center' | 'right';
}

/** The plot's axes, and heights at which a ruled line runs. */
export interface PlotSpan {
  readonly at: readonly [number, number];
  readonly over: readonly [number, number];
  readonly lines: readonly number[];
  /** The points are joined by a line in their order, which no text may cross either. */
  readonly joined?: boolean;
  /** Texts already placed at the bottom of the picture. */
  readonly fixedTexts?: readonly { readonly at: number; readonly over: number; readonly text: string }[];
}

/**
 * Places readings beside their points, none over another, a point or a ruled line; those out of bounds first. A reading
 * without room is omitted: the table under the picture has it.
 */
export function placeTexts(points: readonly LabelledPoint[], span: PlotSpan, shape: ChartShape): readonly PlacedText[] {
  const occupiedBoxes = occupied();
  const plot = plotOf(shape);
  const dots = new Map(points.map((point) => [point, boxAround(positionOf(point, span, shape), 5, 5)]));
  for (const dot of dots.values()) occupiedBoxes.add(dot);
  if (span.joined)
    for (const piece of lineSegments(points.map((point) => positionOf(point, span, shape)))) occupiedBoxes.add(piece);
  for (const one of span.fixedTexts ?? [])
    occupiedBoxes.add(textBox(positionOf(one, span, shape), one.text, { dx: 0, dy: -8, align: 'center' }, shape));
  const rules = span.lines.map((over) => positionOf({ at: span.at[0], over }, span, shape).y);
  const fits = (box: Box, own: Box | undefined): boolean =>
    box.top >= -14 &&
    box.bottom <= plot.height + 2 &&
    box.right <= plot.width + 16 &&
    box.left >= -2 &&
    !rules.some((y) => box.top < y + 1 && box.bottom > y - 1) &&
    !occupiedBoxes.overlapsAny(box, own);
  const places = placesFor(shape);
  const placed: PlacedText[] = [];
  for (const point of [...points].sort((one, other) => Number(other.out ?? false) - Number(one.out ?? false))) {
    const spot = positionOf(point, span, shape);
    const place = places.find((one) => fits(textBox(spot, point.text, one, shape), dots.get(point)));
    if (!place) continue;
    occupiedBoxes.add(textBox(spot, point.text, place, shape));
    placed.push({ at: point.at, over: point.over, text: point.text, ...place });
  }
  return placed;
}

interface Spot {
  readonly x: number;
  readonly y: number;
}

type Place = Pick<PlacedText, 'dx' | 'dy' | 'align'>;

/** Above, below, beside, then diagonally; one letter's height away. */
const placesFor = ({ font }: ChartShape): readonly Place[] => [
  { dx: 0, dy: -font, align: 'center' },
  { dx: 0, dy: font * 1.1, align: 'center' },
  { dx: 8, dy: 0, align: 'left' },
  { dx: -8, dy: 0, align: 'right' },
  { dx: 5, dy: font * 0.9, align: 'left' },
  { dx: -5, dy: font * -0.9, align: 'right' },
  { dx: 5, dy: font * -0.9, align: 'left' },
  { dx: -5, dy: font * 0.9, align: 'right' },
];

function positionOf(
  { at, over }: { readonly at: number; readonly over: number },
  span: PlotSpan,
  shape: ChartShape,
): Spot {
  const plot = plotOf(shape);
  const share = (value: number, [least, most]: readonly [number, number]): number =>
    most === least ? 0.5 : (value - least) / (most - least);
  return {
    x: plot.padding + share(at, span.at) * (plot.width - 2 * plot.padding),
    y: plot.height * (1 - share(over, span.over)),
  };
}

/** Short segments of the line from point to point. */
const lineSegments = (spots: readonly Spot[]): Box[] =>
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

function textBox({ x, y }: Spot, text: string, { dx, dy, align }: Place, shape: ChartShape): Box {
  const width = textWidth(text, shape);
  const left = align === 'left' ? x + dx : align === 'right' ? x + dx - width : x - width / 2;
  return { left, right: left + width, top: y + dy - shape.font / 2, bottom: y + dy + shape.font / 2 };
}
