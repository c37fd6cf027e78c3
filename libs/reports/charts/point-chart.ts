import type { ChartShape } from './chart-shape.js';
import type { Axis, ChartPoint, PointChart } from './chart-spec.js';
import { placeTexts } from './chart-text.js';
import { timeAxis, timeSpan } from './time-axis.js';

/** Up to this many points are drawn large, more are drawn small. */
export const maxLargePoints = 12;

/**
 * Readings over time, with their texts where there is room. `limits` are ruled lines, which no text may cross; `foot`
 * are texts along the bottom, placed first.
 */
export function pointChart(
  points: readonly ChartPoint[],
  y: Axis,
  shape: ChartShape,
  { limits = [], foot = [], band = null }: Partial<Pick<PointChart, 'limits' | 'foot' | 'band'>> = {},
): PointChart {
  const times = [...points, ...foot].map(({ at }) => at);
  const inBounds = points.filter((point) => !point.out);
  const drawn = [
    ...points.filter((point) => point.out),
    ...(points.length <= maxLargePoints ? inBounds : withoutDuplicates(inBounds)),
  ];
  const span = {
    at: timeSpan(times),
    over: [y.from, y.to] as const,
    lines: limits.map(({ at }) => at),
    standing: foot.map(({ at, text }) => ({ at, text, over: y.from })),
  };
  const texts = placeTexts(drawn, span, shape);
  const named = foot.slice(0, maxFootLabels);
  return {
    kind: 'points',
    shape,
    x: timeAxis(times, shape),
    y,
    band,
    limits,
    joined: false,
    points: drawn,
    texts,
    foot: named,
  };
}

const maxFootLabels = 12;

/** Points that overlap to within a twentieth of their width are drawn once. */
function withoutDuplicates(points: readonly ChartPoint[]): readonly ChartPoint[] {
  const cells = 2000;
  const spread = (of: (point: ChartPoint) => number): number =>
    (points.reduce((most, point) => Math.max(most, of(point)), -Infinity) -
      points.reduce((least, point) => Math.min(least, of(point)), Infinity) || 1) / cells;
  const [wide, high] = [spread((point) => point.at), spread((point) => point.over)];
  const first = new Map<string, ChartPoint>();
  for (const point of points) {
    const cell = `${Math.round(point.at / wide)} ${Math.round(point.over / high)}`;
    if (!first.has(cell)) first.set(cell, point);
  }
  return [...first.values()];
}
