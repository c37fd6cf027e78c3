import { pointChart } from './point-chart.js';
import type { ChartShape } from './chart-shape.js';
import type { ChartPoint, ChartSpec, Tick } from './chart-spec.js';
import { cacheLayout } from './cache-layout.js';
import { valueAxis } from './ticks.js';
import { shapeWithRoom, wallClockMs } from './time-axis.js';
import { stoppedBy, type Reading, type SeasonLot } from '../season/lot.js';
import type { Season } from '../season/season.js';

/**
 * Every reading in a jar by its distance from the limit in its own unit, so that 82 °C, which passes, is never drawn
 * below the line of 180 °F.
 */
export const fillTemperatures = (season: Season, shape: ChartShape): ChartSpec => fillChart(fillFigures(season), shape);

interface FillFigures {
  readonly foot: number;
  readonly unit: string;
  readonly read: readonly ChartPoint[];
  readonly unread: readonly Tick[];
}

function fillFigures(season: Season): FillFigures {
  const limit = season.house.fillLimit;
  const isCelsius = mostlyCelsius(season);
  // The axis is in the unit of most readings.
  const [step, foot, unit] = isCelsius ? [1 / 1.8, limit.c, '°C'] : [1, limit.f, '°F'];
  const read = season.lots.flatMap((lot) => {
    const checks = fillsOf(lot);
    if (checks.length === 0 && lot.lowestFillF !== null) {
      const over = (lot.lowestFillF - limit.f) * step;
      return [{ at: wallClockMs(lot.packedAt), over, out: stoppedBy(lot, 'fill'), text: lot.lowestFillTyped ?? '' }];
    }
    return checks.map((reading) => ({
      at: wallClockMs(reading.takenAt ?? lot.packedAt),
      over: overLimit(season, reading) * step,
      out: isCold(season, reading),
      text: reading.typed,
    }));
  });
  const unread = season.lots
    .filter((lot) => lot.lowestFillTyped === null)
    .map((lot) => ({ at: wallClockMs(lot.packedAt), text: 'not read' }));
  return { foot, unit, read, unread };
}

const fillChart = cacheLayout(({ foot, unit, read, unread }: FillFigures, baseShape: ChartShape): ChartSpec => {
  const limitText = `limit ${foot} ${unit}`;
  if (read.length + unread.length === 0) return { kind: 'empty', shape: baseShape, text: 'No pack is recorded.' };
  const times = [...read, ...unread].map(({ at }) => at);
  const shape = shapeWithRoom(baseShape, [limitText], times);
  const least = Math.min(-1, ...read.map((point) => point.over));
  const most = Math.max(4, ...read.map((point) => point.over));
  const y = valueAxis([Math.floor(least - 1), Math.ceil(most + 1)], 6, {
    text: (at) => `${Math.round(at + foot)} ${unit}`,
  });
  return pointChart(read, y, shape, { limits: [{ at: 0, text: limitText }], foot: unread });
});

/** Readings in the jars of a lot when they were capped, in order, and those read again. */
export const fillsOf = (lot: SeasonLot): readonly Reading[] =>
  lot.fills.map((fill) => fill.reading).filter((reading) => reading.celsius !== null);

const mostlyCelsius = (season: Season): boolean => {
  const all = season.lots.flatMap(fillsOf);
  return all.filter((reading) => reading.unit === 'C').length * 2 > all.length;
};

/** Whether a fill reading is below the limit of its unit. */
export const isCold = (season: Season, reading: Reading): boolean => overLimit(season, reading) < 0;

/** In °F. */
function overLimit({ house: { fillLimit } }: Season, { unit, number }: Reading): number {
  return unit === 'C' ? (number - fillLimit.c) * 1.8 : number - fillLimit.f;
}

/** Lots that a rule held are highlighted: a place with a hydrometer chart judges by that, not by the line. */
export const density = (season: Season, shape: ChartShape): ChartSpec => densityChart(densityFigures(season), shape);

interface DensityFigures {
  readonly minBrix: number;
  readonly maxBrix: number | null;
  readonly points: readonly ChartPoint[];
}

function densityFigures(season: Season): DensityFigures {
  const { minBrix, maxBrix } = season.house.densityLimit;
  const points = season.lots.flatMap((lot) =>
    lot.brix === null
      ? []
      : [
          {
            at: wallClockMs(lot.packedAt),
            over: lot.brix,
            out: stoppedBy(lot, 'density'),
            text: lot.brix.toFixed(1),
          },
        ],
  );
  return { minBrix, maxBrix, points };
}

const densityChart = cacheLayout(({ minBrix, maxBrix, points }: DensityFigures, baseShape: ChartShape): ChartSpec => {
  if (points.length === 0) return { kind: 'empty', shape: baseShape, text: 'No density is recorded.' };
  const shape = shapeWithRoom(
    baseShape,
    ['least 66.9'],
    points.map(({ at }) => at),
  );
  const low = Math.min(minBrix, ...points.map((point) => point.over)) - 0.6;
  const high = Math.max(maxBrix ?? minBrix + 2, ...points.map((point) => point.over)) + 0.6;
  const y = valueAxis([low, high], 6, { title: '°Bx at 20 °C', text: (at) => at.toFixed(1) });
  const limits = [{ at: minBrix, text: `min. ${minBrix.toFixed(1)}` }];
  if (maxBrix !== null) limits.push({ at: maxBrix, text: `max. ${maxBrix.toFixed(1)}` });
  return pointChart(points, y, shape, { limits, band: [minBrix, maxBrix ?? high] });
});
