import { plotOf, type ChartShape } from './chart-shape.js';
import { placedText, type PlacedText, type PlotSpan } from './chart-text.js';
import { timeAxis, timeSpan } from './time-axis.js';

/** A vega-lite specification: plain JSON. */
export type ChartSpec = Readonly<Record<string, unknown>>;

export const ink = {
  black: '#1d1a16',
  soft: '#5c5348',
  hair: '#d9d0c0',
  band: '#ece5d5',
  stamp: '#9b2418',
  paper: '#fefefe',
} as const;

/** No frame, no legend, hair lines. The title is above the picture, in the page's own type. */
export function chartOf(layer: readonly ChartSpec[], shape: ChartShape): ChartSpec {
  const { font } = shape;
  const { margins, width, height } = plotOf(shape);
  return {
    $schema: 'https://vega.github.io/schema/vega-lite/v6.json',
    background: null,
    width,
    height,
    // The labels around it are measured here, since vega overestimates text widths without a screen.
    padding: margins,
    autosize: { type: 'none' },
    resolve: { axis: { y: 'independent' } },
    layer,
    config: {
      font: 'Atkinson Hyperlegible Next, sans-serif',
      view: { stroke: null },
      axis: {
        domainColor: ink.black,
        tickColor: ink.black,
        tickSize: 4,
        gridColor: ink.hair,
        gridWidth: 0.5,
        labelColor: ink.black,
        labelFontSize: font,
        titleColor: ink.black,
        titleFontSize: font,
        titleFontWeight: 'normal',
      },
      axisX: { grid: false },
      header: { labelColor: ink.black },
      point: { opacity: 1 },
      text: { fontSize: font, fill: ink.black },
    },
  };
}

/** A ruled line with its text beside it, where no point can cover it. */
export const limitLine = (at: number, text: string, scale: ChartSpec): ChartSpec => ({
  data: { values: [{ at }] },
  mark: { type: 'rule', stroke: ink.black, strokeWidth: 1.2 },
  encoding: {
    y: {
      field: 'at',
      type: 'quantitative',
      title: null,
      scale,
      axis: {
        orient: 'right',
        values: [at],
        labelExpr: JSON.stringify(text),
        labelFontWeight: 'bold',
        ticks: false,
        domain: false,
        grid: false,
      },
    },
  },
});

/** Up to this many points are drawn large; more of them are small. */
const mostLargePoints = 12;

export interface ChartPoint {
  readonly at: number;
  readonly over: number;
  /** Out of bounds: filled and with its reading, so that it stands out without colour. */
  readonly out: boolean;
  readonly text: string;
}

export const pointMark = { stroke: ink.black, strokeWidth: 1 } as const;

/** `lines` are the heights of the ruled lines, which no text may cross; `standing` are texts placed before. */
export function dots(
  points: readonly ChartPoint[],
  y: ChartSpec,
  shape: ChartShape,
  { lines = [], standing = [] }: Partial<Pick<PlotSpan, 'lines' | 'standing'>> = {},
): readonly ChartSpec[] {
  const times = [...points.map((point) => point.at), ...standing.map((one) => one.at)];
  const x = timeAxis(times, shape);
  const isLarge = points.length <= mostLargePoints;
  // With axes apart, one layer alone draws the axis of the readings.
  const inBounds = points.filter((point) => !point.out);
  const within = isLarge ? inBounds : apart(inBounds);
  const out = points.filter((point) => point.out);
  return [
    {
      data: { values: within },
      mark: { ...pointMark, type: 'point', filled: false, size: isLarge ? 40 : 18, fill: ink.paper },
      encoding: { x, y },
    },
    {
      data: { values: out },
      mark: { type: 'point', filled: true, size: isLarge ? 55 : 36, fill: ink.stamp, stroke: ink.stamp },
      encoding: { x, y: { ...y, axis: null } },
    },
    textLayer(
      placedText([...out, ...within], { at: timeSpan(times), over: domainOf(y), lines, standing }, shape),
      x,
      y,
    ),
  ];
}

/** Points that would cover each other, within a twentieth of their width, are drawn once. */
function apart(points: readonly ChartPoint[]): readonly ChartPoint[] {
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

/** Texts where they were placed, beside their points. */
export const textLayer = (values: readonly PlacedText[], x: ChartSpec, y: ChartSpec): ChartSpec => ({
  data: { values },
  mark: {
    type: 'text',
    baseline: 'middle',
    dx: { expr: 'datum.dx' },
    dy: { expr: 'datum.dy' },
    align: { expr: 'datum.align' },
  },
  encoding: { x, y: { ...y, field: 'over', axis: null }, text: { field: 'text' } },
});

/** The least and greatest value of a chart's axis. */
export const domainOf = (y: ChartSpec): readonly [number, number] =>
  (y['scale'] as { readonly domain: readonly [number, number] }).domain;

/** A chart without data says so. */
export const nothing = (text: string, shape: ChartShape): ChartSpec => ({
  ...chartOf(
    [
      {
        data: { values: [{}] },
        mark: { type: 'text', align: 'left', fill: ink.soft },
        encoding: { x: { value: 0 }, y: { value: 20 }, text: { value: text } },
      },
    ],
    shape,
  ),
  padding: 2,
  width: shape.width - 4,
  height: 36,
});

/**
 * A picture for a page with a light and a dark theme: its ink becomes the page's own (`currentColor`, `--chart-paper`,
 * `--chart-hair`, `--chart-band`, `--stamp`). The PDF takes the picture as it is.
 */
export const onPage = (svg: string): string =>
  svg
    .replaceAll(ink.black, 'currentColor')
    .replaceAll(ink.soft, 'currentColor')
    .replaceAll(ink.paper, `var(--chart-paper, ${ink.paper})`)
    .replaceAll(ink.hair, `var(--chart-hair, ${ink.hair})`)
    .replaceAll(ink.band, `var(--chart-band, ${ink.band})`)
    .replaceAll(ink.stamp, `var(--stamp, ${ink.stamp})`);
