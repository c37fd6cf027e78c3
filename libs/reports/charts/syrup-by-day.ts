import { plotOf, textWidth, type ChartShape } from './chart-shape.js';
import type { ChartSpec } from './chart-spec.js';
import { stripGap } from './draw-chart.js';
import { timeAxis, timeSpan } from './time-axis.js';
import type { ColourName } from '../season/lot.js';
import type { Season } from '../season/season.js';
import { classSwatch } from '../diagram/swatch.js';
import { inSeasonUnit, seasonUnit } from '#libs/format/format-volume.js';

/** Syrup of one colour class packed on one day, in the makers' own unit. */
export interface SyrupOfDay {
  readonly day: string;
  readonly colour: string;
  readonly amount: number;
}

/** Syrup packed on each day, oldest first. */
export function syrupOfDays(season: Season): readonly SyrupOfDay[] {
  const byDay = new Map<string, number>();
  for (const lot of season.lots) {
    const key = `${lot.packedAt.slice(0, 10)}|${lot.colour ?? 'not read'}`;
    byDay.set(key, (byDay.get(key) ?? 0) + inSeasonUnit(season, lot.syrupLitres * 1000));
  }
  return [...byDay].map(([key, amount]) => {
    const [day = '', colour = ''] = key.split('|');
    return { day, colour, amount };
  });
}

/** The colour classes that occur, lightest first; last, syrup whose colour was not read. */
export const presentClasses = (days: readonly SyrupOfDay[]): readonly string[] =>
  [...classes, 'not read'].filter((name) => days.some(({ colour }) => colour === name));

/** One strip per class, with its name beside it: no legend, and readable without colour. */
export function syrupByDay(season: Season, baseShape: ChartShape): ChartSpec {
  const days = syrupOfDays(season);
  if (days.length === 0) return { kind: 'empty', shape: baseShape, text: 'No pack is recorded.' };
  const longest = Math.max(...days.map(({ colour }) => colour.length));
  // The names are at the end of their strips, in bold.
  const shape = { ...baseShape, endWidth: 0.8 * longest * baseShape.font + 8 };
  const bars = days.map(({ day, colour, amount }) => ({ at: Date.parse(`${day}T00:00Z`), colour, amount }));
  const present = presentClasses(days);
  const x = timeAxis(
    bars.map(({ at }) => at),
    shape,
  );
  const unit = seasonUnit(season);
  const most = Math.max(1, Math.ceil(Math.max(...days.map(({ amount }) => amount))));
  const height = Math.floor((plotOf(shape).height - stripGap * (present.length - 1)) / present.length);
  // A figure is above its bar; in a low strip, where that would take half the height, beside the bar's end.
  const isLow = height < 3 * shape.font;
  const headroom = isLow ? 1 : height / (height - 1.2 * shape.font);
  const named = new Set(
    present.flatMap((name) =>
      barsWithFigure(
        bars.filter(({ colour }) => colour === name),
        bars,
        shape,
        isLow,
      ),
    ),
  );
  const y = {
    ...{ from: 0, to: most * headroom, title: null },
    // Between low strips there is no room for two figures: the axis begins at zero anyway.
    ticks: [0, most].map((at) => ({ at, text: isLow && at === 0 ? '' : `${at} ${unit}` })),
  };
  const strips = present.map((name) => ({
    name,
    colour: name === 'not read' ? '#ffffff' : classSwatch(name as ColourName),
    bars: bars
      .filter(({ colour }) => colour === name)
      .map((bar) => ({ at: bar.at, amount: bar.amount, text: named.has(bar) ? bar.amount.toFixed(1) : '' })),
  }));
  return { kind: 'strips', shape, x, y, stripHeight: height, barWidth: barWidth(bars, shape), isLow, strips };
}

interface Bar {
  readonly at: number;
  readonly colour: string;
  readonly amount: number;
}

/** The width of a millisecond on the axis. */
function widthOfMs(bars: readonly Bar[], shape: ChartShape): number {
  const [from, to] = timeSpan(bars.map(({ at }) => at));
  const { width, padding } = plotOf(shape);
  return (width - 2 * padding) / (to - from);
}

/** As wide as a day, so that bars never overlap, with a maximum so that a single bar is no block. */
const barWidth = (bars: readonly Bar[], shape: ChartShape): number =>
  Math.max(2, Math.min(1.6 * shape.font, 86_400_000 * widthOfMs(bars, shape) - 1));

/**
 * The bars whose figure has room, above or beside them, the largest first; the table under the picture has the others.
 */
function barsWithFigure(classBars: readonly Bar[], all: readonly Bar[], shape: ChartShape, isBeside: boolean): Bar[] {
  const [word, wide, msWidth] = [textWidth('10.0', shape), barWidth(all, shape), widthOfMs(all, shape)];
  const named: Bar[] = [];
  for (const bar of [...classBars].sort((one, other) => other.amount - one.amount)) {
    const isFree = classBars.every((other) => {
      if (other === bar) return true;
      const gap = Math.abs(bar.at - other.at) * msWidth;
      if (isBeside) return (other.at > bar.at ? gap : named.includes(other) ? gap : Infinity) > word + wide + 2;
      return (named.includes(other) ? gap > word : true) && (other.amount <= bar.amount || gap > (word + wide) / 2);
    });
    if (isFree) named.push(bar);
  }
  return named;
}

const classes: readonly ColourName[] = ['Golden', 'Amber', 'Dark', 'Very Dark'];
