import { plotOf, textWidth, type ChartShape } from './chart-shape.js';
import type { Axis, ChartSpec, DayStrips, PlaceBars, PointChart, SeasonBars, Tick } from './chart-spec.js';
import { ink } from './chart-style.js';
import { maxLargePoints } from './point-chart.js';
import { svgCircles, svgLines, svgPicture, svgRect, svgText } from './svg.js';

/** A laid-out chart as SVG: no frame, no legend, hairlines. The title is above it, outside the SVG. */
export function drawChart(spec: ChartSpec): string {
  switch (spec.kind) {
    case 'points': {
      const svg = drawnPoints.get(spec) ?? drawPoints(spec);
      drawnPoints.set(spec, svg);
      return svg;
    }
    case 'strips':
      return drawStrips(spec);
    case 'seasons':
      return drawSeasons(spec);
    case 'places':
      return drawPlaces(spec);
    case 'empty':
      return svgPicture({ width: spec.shape.width, height: 40, left: 2, top: 2 }, [
        svgText(0, 20 + 0.3 * spec.shape.font, spec.text, spec.shape.font, { fill: ink.soft }),
      ]);
  }
}

/** Of layouts that `laidOutOnce` returns again. A layout never changes. */
const drawnPoints = new WeakMap<PointChart, string>();

const tickLength = 4;
/** Between a tick and its label. */
const tickGap = 2;
/** From the middle of a line of text down to its baseline, as a fraction of the font size. */
const toBaseline = 0.3;

function drawPoints(spec: PointChart): string {
  const { shape, x, y, points } = spec;
  const { font } = shape;
  const plot = plotOf(shape);
  const across = xScale(x, shape);
  const up = (value: number): number => yPosition(y, plot.height, value);
  const spot = ({ at, over }: { readonly at: number; readonly over: number }) => ({ x: across(at), y: up(over) });
  const isLarge = points.length <= maxLargePoints;
  const [within, out] = [points.filter((point) => !point.out), points.filter((point) => point.out)];
  const radius = spec.joined ? 2.35 : isLarge ? 3.16 : 2.12;
  const line = points.map(spot);
  return chartPicture(shape, [
    bottomAxis(x, shape),
    leftAxis(y, plot.height, font),
    spec.band === null
      ? ''
      : svgRect(
          { x: 0, y: up(spec.band[1]), width: plot.width, height: up(spec.band[0]) - up(spec.band[1]) },
          { fill: ink.band },
        ),
    svgLines(
      spec.limits.map(({ at }) => [0, up(at), plot.width, up(at)]),
      { width: 1.2 },
    ),
    ...spec.limits.map(({ at, text }) =>
      svgText(plot.width + 2.5, up(at) + toBaseline * font, text, font, { bold: true }),
    ),
    spec.joined ? svgLines(line.slice(1).map((to, n) => [line[n]?.x ?? to.x, line[n]?.y ?? to.y, to.x, to.y])) : '',
    svgCircles(within.map(spot), { radius, fill: spec.joined ? ink.black : ink.paper, stroke: ink.black }),
    svgCircles(out.map(spot), { radius: isLarge ? 3.7 : 3, fill: ink.stamp, stroke: ink.stamp }),
    ...spec.texts.map((placed) =>
      svgText(across(placed.at) + placed.dx, up(placed.over) + placed.dy + toBaseline * font, placed.text, font, {
        anchor: placed.align === 'left' ? 'start' : placed.align === 'right' ? 'end' : 'middle',
      }),
    ),
    ...spec.foot.map(({ at, text }) =>
      svgText(across(at), plot.height - 4 - 0.2 * font, text, font, { anchor: 'middle', bold: true, fill: ink.stamp }),
    ),
  ]);
}

function drawStrips({ shape, x, y, stripHeight, barWidth, isLow, strips }: DayStrips): string {
  const { font } = shape;
  const across = xScale(x, shape);
  const up = (value: number): number => yPosition(y, stripHeight, value);
  const strip = ({ name, colour, bars }: DayStrips['strips'][number], top: number): string =>
    [
      leftAxis(y, stripHeight, font),
      ...bars.map(({ at, amount }) =>
        svgRect(
          { x: across(at) - barWidth / 2, y: up(amount), width: barWidth, height: stripHeight - up(amount) },
          { fill: colour, stroke: ink.black, strokeWidth: 0.6 },
        ),
      ),
      svgText(plotOf(shape).width + 8, stripHeight / 2 + toBaseline * font, name, font, { bold: true }),
      ...bars
        .filter(({ text }) => text !== '')
        .map(({ at, amount, text }) =>
          isLow
            ? svgText(across(at) + barWidth / 2 + 2, up(amount) + (0.35 + toBaseline) * font, text, font)
            : svgText(clearOfAxis(across(at), text, shape), up(amount) - 0.45 * font, text, font, { anchor: 'middle' }),
        ),
    ]
      .join('')
      .replace(/^/, `<g transform="translate(0,${top})">`) + '</g>';
  const below = strips.length * stripHeight + (strips.length - 1) * stripGap;
  return chartPicture(shape, [
    ...strips.map((one, n) => strip(one, n * (stripHeight + stripGap))),
    bottomAxis(x, shape, below),
  ]);
}

/** The middle of a figure above a bar, moved to the right where it would touch the axis. */
const clearOfAxis = (middle: number, text: string, shape: ChartShape): number =>
  Math.max(middle, textWidth(text, shape) / 2 + 0.3 * shape.font);

/** Between two strips. */
export const stripGap = 8;

function drawSeasons({ shape, y, bars }: SeasonBars): string {
  const { font } = shape;
  const { width, height } = plotOf(shape);
  const barWidth = Math.round(1.8 * font);
  const middle = (n: number): number => ((n + 0.5) * width) / bars.length;
  return chartPicture(shape, [
    ...bars.map(({ amount, now }, n) =>
      svgRect(
        {
          x: middle(n) - barWidth / 2,
          y: yPosition(y, height, amount),
          width: barWidth,
          height: height - yPosition(y, height, amount),
        },
        { fill: now ? ink.black : ink.band, stroke: ink.black, strokeWidth: 0.8 },
      ),
    ),
    leftAxis(y, height, font),
    axisLine(width, height),
    ...bars.flatMap(({ year, amount, text }, n) => [
      svgText(middle(n), yPosition(y, height, amount) - (0.7 - toBaseline) * font, text, font, { anchor: 'middle' }),
      tickText(middle(n), height, year, font),
    ]),
  ]);
}

function drawPlaces({ shape, most, bars }: PlaceBars): string {
  const { font } = shape;
  const width = shape.width - 4;
  const step = 1.7 * font;
  return svgPicture(
    { width: shape.width, height: Math.ceil(bars.length * step) + 4, left: 2, top: 2 },
    bars.flatMap(({ jars, text }, n) => {
      const [middle, length] = [(n + 0.5) * step, (jars / most) * width];
      return [
        svgRect({ x: 0, y: middle - font / 2, width: length, height: font }, { fill: ink.black }),
        svgText(length + 5, middle + toBaseline * font, text, font),
      ];
    }),
  );
}

const chartPicture = (shape: ChartShape, parts: readonly string[]): string => {
  const { margins } = plotOf(shape);
  return svgPicture({ width: shape.width, height: shape.height, left: margins.left, top: margins.top }, parts);
};

function xScale({ from, to }: Axis, shape: ChartShape): (at: number) => number {
  const { width, padding } = plotOf(shape);
  return (at) => padding + ((at - from) / (to - from)) * (width - 2 * padding);
}

const yPosition = ({ from, to }: Axis, height: number, value: number): number =>
  height * (1 - (value - from) / (to - from));

/** Lines one unit wide are centred on half units, so that they are sharp on a screen. */
const sharp = (n: number): number => Math.round(n) + 0.5;

function bottomAxis(axis: Axis, shape: ChartShape, height = plotOf(shape).height): string {
  const { font } = shape;
  const { width } = plotOf(shape);
  const across = xScale(axis, shape);
  return [
    axisLine(width, height),
    svgLines(axis.ticks.map(({ at }) => [sharp(across(at)), height, sharp(across(at)), height + tickLength])),
    ...withoutOverlap(axis.ticks, across, shape).map(({ at, text }) => tickText(across(at), height, text, font)),
    axis.title === null
      ? ''
      : svgText(width / 2, height + tickLength + tickGap + 2.2 * font, axis.title, font, { anchor: 'middle' }),
  ].join('');
}

const axisLine = (width: number, height: number): string => svgLines([[0, sharp(height), width, sharp(height)]]);

const tickText = (x: number, height: number, text: string, font: number): string =>
  svgText(x, height + tickLength + tickGap + 0.8 * font, text, font, { anchor: 'middle' });

/** Without ticks whose label would cover the one before. */
function withoutOverlap(ticks: readonly Tick[], across: (at: number) => number, shape: ChartShape): readonly Tick[] {
  let free = -Infinity;
  return ticks.filter(({ at, text }) => {
    const half = textWidth(text, shape) / 2;
    if (across(at) - half < free) return false;
    free = across(at) + half;
    return true;
  });
}

function leftAxis(axis: Axis, height: number, font: number): string {
  const widest = Math.max(0, ...axis.ticks.map(({ text }) => text.length)) * 0.6 * font;
  const levels = axis.ticks.map(({ at }) => sharp(yPosition(axis, height, at)));
  return [
    svgLines([[0.5, 0, 0.5, height]]),
    svgLines(levels.map((y) => [-tickLength, y, 0.5, y])),
    ...axis.ticks.map(({ text }, n) =>
      svgText(-tickLength - tickGap, (levels[n] ?? 0) - 0.5 + toBaseline * font, text, font, { anchor: 'end' }),
    ),
    axis.title === null
      ? ''
      : svgText(-tickLength - tickGap - widest - 0.9 * font, height / 2, axis.title, font, {
          anchor: 'middle',
          upwards: true,
        }),
  ].join('');
}
