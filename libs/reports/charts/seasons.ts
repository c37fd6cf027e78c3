import type { ChartShape } from './chart-shape.js';
import type { ChartSpec } from './chart-spec.js';
import { placeTexts } from './chart-text.js';
import { valueAxis } from './ticks.js';
import { shapeWithRoom, timeAxis, timeSpan, wallClockMs } from './time-axis.js';
import type { SeasonBoil } from '../season/flow.js';
import type { Reading } from '../season/lot.js';
import { seasonTotals, syrupMillilitres } from '../season/totals.js';
import type { Season } from '../season/season.js';
import { inSeasonUnit, seasonUnit } from '#libs/format/format-volume.js';

/** The boil whose log has the most temperatures; undefined where it has fewer than three. */
export function boilWithPanLog(season: Season): SeasonBoil | undefined {
  const [most] = [...season.boils].sort((one, other) => other.panLog.length - one.panLog.length);
  return most && most.panLog.filter((reading) => reading.takenAt !== null).length >= 3 ? most : undefined;
}

/** Temperatures of one boil's log over time, in the unit they were recorded in, with the draw-off temperature. */
export function panTemperature(season: Season, baseShape: ChartShape): ChartSpec {
  const boil = boilWithPanLog(season);
  if (!boil) return { kind: 'empty', shape: baseShape, text: 'No boil has three pan temperatures recorded.' };
  const unit = boil.panLog[0]?.unit === 'C' ? 'C' : 'F';
  const points = boil.panLog.flatMap((reading) =>
    reading.takenAt === null
      ? []
      : [
          {
            at: wallClockMs(reading.takenAt),
            over: degreesIn(reading, unit),
            out: false,
            text: reading.typed,
            drawn: reading.kind === 'draw',
          },
        ],
  );
  const finish = boil.readings.find((reading) => reading.kind === 'finish');
  const drawnText = `drawn off ${finish?.typed ?? ''}`;
  const times = points.map((point) => point.at);
  const shape = shapeWithRoom(baseShape, finish ? [drawnText] : [], times);
  const drawOff = finish ? degreesIn(finish, unit) : undefined;
  const all = [...points.map((point) => point.over), ...(drawOff === undefined ? [] : [drawOff])];
  const y = valueAxis([Math.floor(Math.min(...all) - 2), Math.ceil(Math.max(...all) + 2)], 5, {
    title: `in the pan, °${unit}`,
  });
  const limits = drawOff === undefined ? [] : [{ at: drawOff, text: drawnText }];
  const texts = placeTexts(
    points.map((point) => ({ ...point, out: point.drawn })),
    { at: timeSpan(times), over: [y.from, y.to], joined: true, lines: limits.map(({ at }) => at) },
    shape,
  );
  return {
    kind: 'points',
    shape,
    x: timeAxis(times, shape),
    y,
    band: null,
    limits,
    joined: true,
    points,
    texts,
    foot: [],
  };
}

function degreesIn({ number, unit, celsius }: Reading, wanted: 'F' | 'C'): number {
  if (unit === wanted || celsius === null) return number;
  return wanted === 'C' ? celsius : celsius * 1.8 + 32;
}

/** This season and earlier ones, oldest first: syrup made by their boils, in the makers' own unit. */
export function seasonsBeside(
  season: Season,
): readonly { readonly year: number; readonly amount: number; readonly jars: number }[] {
  const earlier = (season.earlier ?? []).map(({ year, syrupMillilitres: made, jars }) => ({
    year,
    amount: inSeasonUnit(season, made),
    jars,
  }));
  const { jarsMade } = seasonTotals(season);
  const now = { year: season.year, amount: inSeasonUnit(season, syrupMillilitres(season)), jars: jarsMade };
  return [...earlier, now].filter(({ amount, jars }) => amount > 0 || jars > 0);
}

/** This season beside earlier ones. */
export function earlierSeasonsChart(season: Season, shape: ChartShape): ChartSpec {
  const bars = seasonsBeside(season)
    .slice(-maxSeasons)
    .map(({ year, amount }) => ({ year: String(year), amount, text: amount.toFixed(1), now: year === season.year }));
  if (bars.length < 2) return { kind: 'empty', shape, text: 'No earlier season is in this book.' };
  const y = valueAxis([0, Math.max(...bars.map((one) => one.amount)) * 1.15], 4, {
    title: `syrup, ${seasonUnit(season)}`,
  });
  return { kind: 'seasons', shape, y, bars };
}

const maxSeasons = 10;
