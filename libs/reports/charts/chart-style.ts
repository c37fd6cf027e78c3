import { placedText, type PlacedWord, type PlotSpan } from './chart-words.js';

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

export const picturePt = { width: 346, height: 236 } as const;

/** Ink on paper: no frame, no legend, hair lines. The title stands over the picture, in the page's own type. */
export function chartOf(layer: readonly ChartSpec[]): ChartSpec {
  return {
    $schema: 'https://vega.github.io/schema/vega-lite/v6.json',
    background: null,
    ...picturePt,
    padding: 2,
    autosize: { type: 'fit', contains: 'padding' },
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
        labelFontSize: 10,
        titleColor: ink.black,
        titleFontSize: 10,
        titleFontWeight: 'normal',
      },
      axisX: { grid: false },
      header: { labelColor: ink.black },
      point: { opacity: 1 },
      text: { fontSize: 10, fill: ink.black },
    },
  };
}

/** The same picture for half the width of a sheet on its side, drawn at the size it is printed: its text stays 10 pt. */
export function acrossThePage(spec: ChartSpec): ChartSpec {
  const strip = spec['spec'] as { readonly height: number } | undefined;
  if (strip) return { ...spec, spec: { ...strip, width: 196, height: Math.round(strip.height * lower) } };
  return { ...spec, ...paperPicturePt };
}
/** Six of these and their titles go on a page. */
export const paperPicturePt = { width: 346, height: 140 } as const;
const lower = 0.55;

/** A ruled line with its words beside it, where no point can lie over them. */
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

/** Days along the bottom, as many as can be read. */
export function timeAxis(times: readonly number[]): ChartSpec {
  const days = times.length === 0 ? 1 : (Math.max(...times) - Math.min(...times)) / 86_400_000;
  return {
    field: 'at',
    type: 'temporal',
    scale: { type: 'utc', padding: 18 },
    title: null,
    axis: {
      format: '%-d %b',
      tickCount:
        days < 45 ? { interval: 'day', step: Math.max(1, Math.ceil(days / 4)) } : { interval: 'week', step: 2 },
      labelOverlap: 'greedy',
    },
  };
}

/** Points beyond this many speak for themselves only where they are out of bounds. */
export const mostWordedPoints = 12;

/** Wall time as if it were UTC, so that no machine's own zone moves a day. */
export const wall = (iso: string): number => Date.parse(`${iso.slice(0, 16)}Z`);

export interface ChartPoint {
  readonly at: number;
  readonly over: number;
  /** Out of bounds: filled and with its reading, so that it stands out without colour. */
  readonly out: boolean;
  readonly words: string;
}

export const pointMark = { stroke: ink.black, strokeWidth: 1 } as const;

/** `lines` are the heights of the ruled lines, which no word may cross; `standing` are words that are there already. */
export function dots(
  points: readonly ChartPoint[],
  y: ChartSpec,
  worded: boolean,
  { lines = [], standing = [] }: Partial<Pick<PlotSpan, 'lines' | 'standing'>> = {},
): readonly ChartSpec[] {
  const times = [...points.map((point) => point.at), ...standing.map((one) => one.at)];
  const x = timeAxis(times);
  // With axes apart, one layer alone draws the axis of the readings.
  const inBounds = points.filter((point) => !point.out);
  const within = worded ? inBounds : apart(inBounds);
  const out = points.filter((point) => point.out);
  const text = worded ? points : out;
  return [
    {
      data: { values: within },
      mark: { ...pointMark, type: 'point', filled: false, size: worded ? 40 : 14, fill: ink.paper },
      encoding: { x, y },
    },
    {
      data: { values: out },
      mark: { type: 'point', filled: true, size: worded ? 55 : 30, fill: ink.stamp, stroke: ink.stamp },
      encoding: { x, y: { ...y, axis: null } },
    },
    wordLayer(
      placedText(text, { at: [Math.min(...times), Math.max(...times)], over: domainOf(y), lines, standing }),
      x,
      y,
    ),
  ];
}

/** Points without words that would stand on each other, within a twentieth of their own breadth, are drawn once. */
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

/** Words where they were placed, beside their points. */
export const wordLayer = (values: readonly PlacedWord[], x: ChartSpec, y: ChartSpec): ChartSpec => ({
  data: { values },
  mark: {
    type: 'text',
    fontSize: 10,
    baseline: 'middle',
    dx: { expr: 'datum.dx' },
    dy: { expr: 'datum.dy' },
    align: { expr: 'datum.align' },
  },
  encoding: { x, y: { ...y, field: 'over', axis: null }, text: { field: 'words' } },
});

export const domainOf = (y: ChartSpec): readonly [number, number] =>
  (y['scale'] as { readonly domain: readonly [number, number] }).domain;

/** A picture of nothing says so. */
export const nothing = (text: string): ChartSpec => ({
  ...chartOf([
    {
      data: { values: [{}] },
      mark: { type: 'text', align: 'left', fontSize: 11, fill: ink.soft },
      encoding: { x: { value: 0 }, y: { value: 20 }, text: { value: text } },
    },
  ]),
  height: 40,
});

/**
 * A picture for a page that has a day and a night: its ink becomes the page's own (`currentColor`, `--chart-paper`,
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
