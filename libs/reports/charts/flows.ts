import { pointChart } from './point-chart.js';
import { textWidth, type ChartShape } from './chart-shape.js';
import type { ChartSpec } from './chart-spec.js';
import { valueAxis } from './ticks.js';
import { shapeWithRoom, wallClockMs } from './time-axis.js';
import type { SeasonBoil } from '../season/flow.js';
import type { Season } from '../season/season.js';
import { sapBoiled } from '../season/totals.js';
import { many } from '#libs/format/format.js';

/** Boils with both sap and syrup known: the sap as measured, else the sum of its portions. */
export const boilsWithRatio = (season: Season): readonly (SeasonBoil & { readonly sapMillilitres: number })[] =>
  season.boils
    .map((boil) => ({ ...boil, sapMillilitres: sapBoiled(boil) ?? 0 }))
    .filter((boil) => boil.sapMillilitres > 0 && boil.syrupMillilitres > 0);

/** Gallons of sap per gallon of syrup, boil by boil, and the season's own ratio as a line. */
export function sapToSyrup(season: Season, baseShape: ChartShape): ChartSpec {
  const boils = boilsWithRatio(season);
  if (boils.length === 0) return { kind: 'empty', shape: baseShape, text: 'No boil has both sap and syrup recorded.' };
  const points = boils.map((boil) => {
    const over = boil.sapMillilitres / boil.syrupMillilitres;
    return { at: wallClockMs(boil.beganAt), over, out: false, text: over.toFixed(1) };
  });
  const shape = shapeWithRoom(
    baseShape,
    ['season 46.2'],
    points.map(({ at }) => at),
  );
  const ratios = points.map((point) => point.over);
  const sap = boils.reduce((sum, boil) => sum + boil.sapMillilitres, 0);
  const syrup = boils.reduce((sum, boil) => sum + boil.syrupMillilitres, 0);
  const y = valueAxis([Math.floor(Math.min(...ratios) - 1), Math.ceil(Math.max(...ratios) + 1)], 5, {
    title: 'parts of sap to one of syrup',
  });
  return pointChart(points, y, shape, {
    limits: [{ at: sap / syrup, text: `season ${(sap / syrup).toFixed(1)}` }],
  });
}

/** Jars sold and given, by destination, most first. */
export function jarsSentTo(season: Season): readonly (readonly [string, number])[] {
  const places = new Map<string, number>();
  for (const lot of season.lots)
    for (const sent of lot.sentTo)
      if (sent.kind === 'sale' || sent.kind === 'gift')
        places.set(sent.place, (places.get(sent.place) ?? 0) + sent.jars);
  return [...places].sort((one, other) => other[1] - one[1]);
}

/** Bars of jars sent out by destination, most first. */
export function jarsByPlace(season: Season, shape: ChartShape): ChartSpec {
  const sorted = jarsSentTo(season);
  if (sorted.length === 0) return { kind: 'empty', shape, text: 'No dispatch is recorded.' };
  const shown = sorted
    .slice(0, maxPlaces)
    .map(([place, jars]) => ({ jars, text: `${shorten(place, shape)}  ${many(jars, 'jar')}` }));
  const rest = sorted.slice(maxPlaces);
  if (rest.length > 0) {
    const jars = rest.reduce((sum, [, count]) => sum + count, 0);
    shown.push({ jars, text: `${rest.length} other places  ${many(jars, 'jar')}` });
  }
  // Room after the longest bar for its text.
  const most = Math.max(...shown.map(({ jars }) => jars)) * scaleMargin(shown, shape);
  return { kind: 'places', shape, most, bars: shown };
}

const maxPlaces = 12;

/** A name that would leave no room for the bars is shortened; the table under the picture has it in full. */
function shorten(place: string, shape: ChartShape): string {
  const most = Math.floor((0.6 * shape.width) / textWidth('a', shape));
  return place.length <= most ? place : `${place.slice(0, most - 1)}…`;
}

/** The ratio of the scale to the longest bar, so that the text after each bar stays inside the picture. */
function scaleMargin(bars: readonly { readonly jars: number; readonly text: string }[], shape: ChartShape): number {
  const most = Math.max(...bars.map(({ jars }) => jars));
  const width = shape.width - 4;
  return Math.max(
    1.05,
    ...bars.map(({ jars, text }) => jars / most / Math.max(0.2, 1 - (textWidth(text, shape) + 5) / width)),
  );
}
