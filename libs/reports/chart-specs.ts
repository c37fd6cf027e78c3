import { chartOf, dots, ink, limitLine, nothing, pointMark, timeAxis, type ChartSpec } from './chart-ink.js';
import type { SeasonBoil } from './season-flow.js';
import type { SeasonLot } from './season-lot.js';
import type { ColourName, Season } from './season.js';
import { classSwatch } from './swatch.js';

export type PictureName = 'fillTemperatures' | 'density' | 'syrupByDay' | 'sapToSyrup' | 'jarsByPlace';

/** A picture before it is drawn: its title, what it shows in words, and a specification that can go to a thread. */
export interface PicturePlan {
  readonly title: string;
  readonly words: string;
  readonly spec: ChartSpec;
}

export function picturePlans(season: Season): Readonly<Record<PictureName, PicturePlan>> {
  const { fillLimit, densityLimit } = season.house;
  return {
    fillTemperatures: {
      title: 'Lowest fill temperature of each lot, in the jar when capped',
      words: `Lowest fill of each lot over the limit: ${fillLimit.words}.`,
      spec: fillTemperatures(season),
    },
    density: {
      title: 'Density of each lot, °Bx at 20 °C',
      words: `Density of each lot against the band: ${densityLimit.words}.`,
      spec: density(season),
    },
    syrupByDay: {
      title: 'Syrup packed by day, gallons of each colour class',
      words: 'Gallons of syrup packed each day, a strip for each colour class.',
      spec: syrupByDay(season),
    },
    sapToSyrup: {
      title: 'Sap boiled for one part of syrup, boil by boil',
      words: 'Parts of sap for one of syrup in each boil, with that of the season.',
      spec: sapToSyrup(season),
    },
    jarsByPlace: { title: 'Jars sent out, by place', words: 'Jars sent out, most first.', spec: jarsByPlace(season) },
  };
}

/** Points beyond this many speak for themselves only where they are out of bounds. */
const mostWordedPoints = 12;

/** Wall time as if it were UTC, so that no machine's own zone moves a day. */
const wall = (iso: string): number => Date.parse(`${iso.slice(0, 16)}Z`);

/**
 * Each lot's lowest fill by how far it is over the limit in the unit it was read in, so that 82 °C, which passes,
 * never stands under the line of 180 °F.
 */
function fillTemperatures(season: Season): ChartSpec {
  const limit = season.house.fillLimit;
  const read = season.lots.flatMap((lot) => {
    const over = overLimit(lot, limit);
    return over === null ? [] : [{ at: wall(lot.packedAt), over, out: over < 0, words: lot.lowestFillTyped ?? '' }];
  });
  const unread = season.lots
    .filter((lot) => lot.lowestFillTyped === null)
    .map((lot) => ({ at: wall(lot.packedAt), words: 'not read' }));
  if (read.length + unread.length === 0) return nothing('No lot was packed.');
  const least = Math.min(-1, ...read.map((point) => point.over));
  const most = Math.max(4, ...read.map((point) => point.over));
  const y = {
    field: 'over',
    type: 'quantitative',
    title: null,
    scale: { domain: [Math.floor(least - 1), Math.ceil(most + 1)], nice: false },
    axis: { labelExpr: `format(datum.value + ${limit.f}, 'd') + ' °F'`, tickCount: 6 },
  };
  return chartOf([
    limitLine(0, `limit ${limit.f} °F`, y.scale),
    ...dots(read, y, read.length <= mostWordedPoints),
    ...(unread.length === 0
      ? []
      : [
          {
            data: {
              values: unread.slice(0, mostWordedPoints).map((one) => ({ ...one, floor: Math.floor(least - 1) })),
            },
            mark: { type: 'text', fontWeight: 'bold', fill: ink.stamp, angle: 0, dy: -4, baseline: 'bottom' },
            encoding: {
              x: timeAxis([...read, ...unread].map((point) => point.at)),
              y: { ...y, field: 'floor', axis: null },
              text: { field: 'words' },
            },
          },
        ]),
  ]);
}

function overLimit(lot: SeasonLot, limit: { readonly f: number; readonly c: number }): number | null {
  const fills = lot.readings.filter((reading) => reading.kind === 'fill' && reading.celsius !== null);
  const read = fills.find((reading) => reading.typed === lot.lowestFillTyped);
  if (read) return read.unit === 'C' ? (read.number - limit.c) * 1.8 : read.number - limit.f;
  return lot.lowestFillF === null ? null : lot.lowestFillF - limit.f;
}

function density(season: Season): ChartSpec {
  const { leastBrix, mostBrix } = season.house.densityLimit;
  const points = season.lots.flatMap((lot) =>
    lot.brix === null
      ? []
      : [
          {
            at: wall(lot.packedAt),
            over: lot.brix,
            out: lot.brix < leastBrix || (mostBrix !== null && lot.brix > mostBrix),
            words: lot.brix.toFixed(1),
          },
        ],
  );
  if (points.length === 0) return nothing('No density was read.');
  const low = Math.min(leastBrix, ...points.map((point) => point.over)) - 0.6;
  const high = Math.max(mostBrix ?? leastBrix + 2, ...points.map((point) => point.over)) + 0.6;
  const y = {
    field: 'over',
    type: 'quantitative',
    title: null,
    scale: { domain: [low, high], nice: false },
    axis: { tickCount: 6, format: '.1f' },
  };
  const band = {
    data: { values: [{ low: leastBrix, high: mostBrix ?? high }] },
    mark: { type: 'rect', fill: ink.band, stroke: null },
    encoding: { y: { ...y, field: 'low', axis: null }, y2: { field: 'high' } },
  };
  return chartOf([
    band,
    limitLine(leastBrix, `least ${leastBrix.toFixed(1)}`, y.scale),
    ...(mostBrix === null ? [] : [limitLine(mostBrix, `most ${mostBrix.toFixed(1)}`, y.scale)]),
    ...dots(points, y, points.length <= mostWordedPoints),
  ]);
}

const classes: readonly ColourName[] = ['Golden', 'Amber', 'Dark', 'Very Dark'];

/** A strip for each class, its word beside it: nothing to look up, and readable without colour. */
function syrupByDay(season: Season): ChartSpec {
  const byDay = new Map<string, number>();
  for (const lot of season.lots) {
    const key = `${lot.packedAt.slice(0, 10)}|${lot.colour ?? 'not read'}`;
    byDay.set(key, (byDay.get(key) ?? 0) + lot.syrupLitres / 3.785411784);
  }
  if (byDay.size === 0) return nothing('No syrup was packed.');
  const values = [...byDay].map(([key, gallons]) => {
    const [day = '', colour = ''] = key.split('|');
    return { at: Date.parse(`${day}T00:00Z`), colour, gallons, words: gallons.toFixed(1) };
  });
  const present = [...classes, 'not read'].filter((name) => values.some((value) => value.colour === name));
  const colours = present.map((name) => (name === 'not read' ? '#ffffff' : classSwatch(name as ColourName)));
  const x = timeAxis(values.map((value) => value.at));
  const y = { field: 'gallons', type: 'quantitative', title: null, axis: { tickCount: 2, grid: false } };
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
      width: 232,
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

/** Gallons of sap for one of syrup, boil by boil, and the season's own ratio as a line. */
function sapToSyrup(season: Season): ChartSpec {
  const boils = season.boils.filter(
    (boil): boil is SeasonBoil & { sapMillilitres: number } =>
      boil.sapMillilitres !== null && boil.syrupMillilitres > 0,
  );
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
    title: null,
    scale: { domain: [Math.floor(Math.min(...ratios) - 1), Math.ceil(Math.max(...ratios) + 1)], nice: false },
    axis: { tickCount: 5 },
  };
  return chartOf([
    limitLine(sap / syrup, `season ${(sap / syrup).toFixed(1)}`, y.scale),
    ...dots(points, y, points.length <= mostWordedPoints),
  ]);
}

const mostPlaces = 12;

function jarsByPlace(season: Season): ChartSpec {
  const places = new Map<string, number>();
  for (const lot of season.lots)
    for (const sent of lot.sentTo)
      if (sent.kind === 'sale' || sent.kind === 'gift')
        places.set(sent.place, (places.get(sent.place) ?? 0) + sent.jars);
  const sorted = [...places].sort((one, other) => other[1] - one[1]);
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
