import {
  chartOf,
  dots,
  ink,
  limitLine,
  mostWordedPoints,
  nothing,
  pointMark,
  timeAxis,
  wall,
  type ChartSpec,
} from './chart-style.js';
import type { SeasonBoil } from '../season/flow.js';
import type { ColourName } from '../season/lot.js';
import type { Season } from '../season/season.js';
import { sapBoiled } from '../season/totals.js';
import { spokenAmount, spokenUnit } from '#libs/format/format-volume.js';
import { classSwatch } from '../diagram/swatch.js';

/** Syrup of one colour class packed on one day, in the makers' own unit. */
export interface SyrupOfDay {
  readonly day: string;
  readonly colour: string;
  readonly amount: number;
}

export function syrupOfDays(season: Season): readonly SyrupOfDay[] {
  const byDay = new Map<string, number>();
  for (const lot of season.lots) {
    const key = `${lot.packedAt.slice(0, 10)}|${lot.colour ?? 'not read'}`;
    byDay.set(key, (byDay.get(key) ?? 0) + spokenAmount(season, lot.syrupLitres * 1000));
  }
  return [...byDay].map(([key, amount]) => {
    const [day = '', colour = ''] = key.split('|');
    return { day, colour, amount };
  });
}

/** The classes that came in, lightest first, and last what nobody read. */
export const presentClasses = (days: readonly SyrupOfDay[]): readonly string[] =>
  [...classes, 'not read'].filter((name) => days.some(({ colour }) => colour === name));

/** A strip for each class, its word beside it: nothing to look up, and readable without colour. */
export function syrupByDay(season: Season): ChartSpec {
  const days = syrupOfDays(season);
  if (days.length === 0) return nothing('No syrup was packed.');
  const bars = days.map(({ day, colour, amount }) => ({ at: Date.parse(`${day}T00:00Z`), colour, amount }));
  const values = bars.map((bar) => ({ ...bar, words: standsFree(bar, bars) ? bar.amount.toFixed(1) : '' }));
  const present = presentClasses(days);
  const colours = present.map((name) => (name === 'not read' ? '#ffffff' : classSwatch(name as ColourName)));
  const x = timeAxis(values.map((value) => value.at));
  const unit = spokenUnit(season);
  const most = Math.max(1, Math.ceil(Math.max(...days.map(({ amount }) => amount))));
  const axis = { values: [0, most], grid: false, labelExpr: `datum.label + ' ${unit}'` };
  const y = { field: 'amount', type: 'quantitative', title: null, scale: { domain: [0, most], nice: false }, axis };
  const worded = values.length <= mostWordedPoints;
  return {
    ...chartOf([]),
    layer: undefined,
    width: undefined,
    height: undefined,
    resolve: undefined,
    autosize: { type: 'pad' },
    data: { values },
    facet: {
      row: {
        field: 'colour',
        sort: present,
        title: null,
        header: { labelAngle: 0, labelAlign: 'left', labelFontWeight: 'bold', labelFontSize: 10, labelPadding: 6 },
      },
    },
    spacing: 8,
    spec: {
      width: 196,
      height: Math.floor((186 - 8 * (present.length - 1)) / present.length),
      layer: [
        {
          mark: { type: 'bar', stroke: ink.black, strokeWidth: 0.6, width: values.length > 40 ? 3 : 9 },
          encoding: { x, y, color: { field: 'colour', scale: { domain: present, range: colours }, legend: null } },
        },
        ...(worded
          ? [
              {
                mark: { type: 'text', dx: 8, align: 'left', baseline: 'top', fontSize: 9 },
                encoding: { x, y, text: { field: 'words' } },
              },
            ]
          : []),
      ],
    },
  };
}

/** A word needs the room of some days after its bar; where another stands there, the table under the picture tells. */
const standsFree = (value: Bar, all: readonly Bar[]): boolean =>
  !all.some(
    (other) =>
      other.colour === value.colour && other.at > value.at && other.at - value.at < wordRoom * (spanOf(all) || 1),
  );

interface Bar {
  readonly at: number;
  readonly colour: string;
}
const wordRoom = 0.13;
const spanOf = (all: readonly Bar[]): number =>
  Math.max(...all.map(({ at }) => at)) - Math.min(...all.map(({ at }) => at));

const classes: readonly ColourName[] = ['Golden', 'Amber', 'Dark', 'Very Dark'];

/** Boils of which both sap and syrup are known: the sap as it was measured, else what went in by its portions. */
export const boilsWithRatio = (season: Season): readonly (SeasonBoil & { readonly sapMillilitres: number })[] =>
  season.boils
    .map((boil) => ({ ...boil, sapMillilitres: sapBoiled(boil) ?? 0 }))
    .filter((boil) => boil.sapMillilitres > 0 && boil.syrupMillilitres > 0);

/** Gallons of sap for one of syrup, boil by boil, and the season's own ratio as a line. */
export function sapToSyrup(season: Season): ChartSpec {
  const boils = boilsWithRatio(season);
  if (boils.length === 0) return nothing('No boil has both its sap and its syrup.');
  const points = boils.map((boil) => {
    const over = boil.sapMillilitres / boil.syrupMillilitres;
    return { at: wall(boil.beganAt), over, out: false, words: over.toFixed(1) };
  });
  const ratios = points.map((point) => point.over);
  const sap = boils.reduce((sum, boil) => sum + boil.sapMillilitres, 0);
  const syrup = boils.reduce((sum, boil) => sum + boil.syrupMillilitres, 0);
  const y = {
    field: 'over',
    type: 'quantitative',
    title: 'parts of sap for one',
    scale: { domain: [Math.floor(Math.min(...ratios) - 1), Math.ceil(Math.max(...ratios) + 1)], nice: false },
    axis: { tickCount: 5 },
  };
  return chartOf([
    limitLine(sap / syrup, `season ${(sap / syrup).toFixed(1)}`, y.scale),
    ...dots(points, y, points.length <= mostWordedPoints, { lines: [sap / syrup] }),
  ]);
}

/** Jars sold and given, by place, most first. */
export function jarsSentTo(season: Season): readonly (readonly [string, number])[] {
  const places = new Map<string, number>();
  for (const lot of season.lots)
    for (const sent of lot.sentTo)
      if (sent.kind === 'sale' || sent.kind === 'gift')
        places.set(sent.place, (places.get(sent.place) ?? 0) + sent.jars);
  return [...places].sort((one, other) => other[1] - one[1]);
}

export function jarsByPlace(season: Season): ChartSpec {
  const sorted = jarsSentTo(season);
  if (sorted.length === 0) return nothing('No jar has been sent out.');
  const shown = sorted.slice(0, mostPlaces).map(([place, jars]) => ({ place, jars, words: `${place}  ${jars}` }));
  const rest = sorted.slice(mostPlaces);
  if (rest.length > 0) {
    const jars = rest.reduce((sum, [, count]) => sum + count, 0);
    shown.push({ place: 'other places', jars, words: `${rest.length} other places  ${jars}` });
  }
  const y = { field: 'place', type: 'nominal', sort: null, axis: null };
  const x = {
    field: 'jars',
    type: 'quantitative',
    axis: null,
    scale: { domain: [0, Math.max(...shown.map((one) => one.jars)) * 1.9] },
  };
  return {
    ...chartOf([]),
    resolve: undefined,
    autosize: { type: 'pad' },
    width: 320,
    height: { step: 17 },
    data: { values: shown },
    layer: [
      { mark: { ...pointMark, type: 'bar', height: 10, fill: ink.black }, encoding: { x, y } },
      { mark: { type: 'text', align: 'left', dx: 5, fontSize: 10 }, encoding: { x, y, text: { field: 'words' } } },
    ],
  };
}

const mostPlaces = 12;
