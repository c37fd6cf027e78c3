import { classSwatch, swatch } from './swatch.js';
import type { SeasonBoil } from './season-flow.js';
import type { Reading, ReadingKind, SeasonLot } from './season-lot.js';
import type { Season } from './season.js';
import { many } from './shown.js';
import type { Taper, TaperKnot, TaperLink, TaperNode } from './taper-layout.js';

/** The way of one pack: its sap, its boils, its readings and the places its jars went. */
export function packTaper(season: Season, lot: SeasonLot): Taper {
  const boils = season.boils.filter((boil) => lot.boils.includes(boil.lot));
  const before = lot.boils.filter((code) => !boils.some((boil) => boil.lot === code));
  const upstream = boils.map((boil) => boilLines(season, boil));
  const pack: TaperNode = {
    id: lot.lot,
    stage: 'packed',
    name: lot.lot,
    amount: many(lot.jarsMade, 'jar'),
    millilitres: lot.syrupLitres * 1000,
    happened: true,
    knots: packKnots(lot),
  };
  const intoPack = upstream.map((line): TaperLink => thread(line.last, pack.id, null, true));
  const earlier = before.map((code) => node(code, 'resting', code, 'of an earlier year', null));
  const out = outOf(lot);
  return {
    code: lot.lot,
    nodes: [...upstream.flatMap((line) => line.nodes), ...earlier, pack, ...out.nodes],
    links: [
      ...upstream.flatMap((line) => line.links),
      ...intoPack,
      ...earlier.map((one) => thread(one.id, pack.id, null, true)),
      ...out.links,
    ],
    syrupColour:
      lot.transmittancePercent !== null
        ? swatch(lot.transmittancePercent)
        : lot.colour === null
          ? null
          : classSwatch(lot.colour),
  };
}

/** The way of one boil, forking into the packs that were filled from it. */
export function boilTaper(season: Season, boil: SeasonBoil): Taper {
  const line = boilLines(season, boil);
  const packs = season.lots.filter((lot) => lot.inputs.some((input) => input.code === boil.lot));
  const ends = packs.flatMap((lot): { nodes: TaperNode[]; links: TaperLink[] }[] => {
    const taken = lot.inputs.find((input) => input.code === boil.lot);
    const pack = node(lot.lot, 'packed', lot.lot, taken?.volumeTyped ?? '', taken?.millilitres ?? null);
    const sent = node(
      `${lot.lot} out`,
      'sent out',
      '',
      many(lot.jarsSentOut, 'jar'),
      lot.jarsSentOut * lot.containerMillilitres,
    );
    const gone = { ...sent, name: lot.lot, happened: lot.jarsSentOut > 0 };
    return [
      {
        nodes: [pack, gone],
        links: [thread(line.last, pack.id, null, true), thread(pack.id, gone.id, null, gone.happened)],
      },
    ];
  });
  const ahead = packs.length > 0 ? [] : [{ ...node('pack', 'packed', '', '', null), happened: false }];
  return {
    code: boil.lot,
    nodes: [...line.nodes, ...ends.flatMap((end) => end.nodes), ...ahead],
    links: [
      ...line.links,
      ...ends.flatMap((end) => end.links),
      ...ahead.map((one) => thread(line.last, one.id, null, false)),
    ],
    syrupColour: null,
  };
}

/** All of a season as one line: sap gathered, syrup drawn, packed, and where it all is. */
export function wholeSeasonTaper(season: Season, sap: string, syrup: string): Taper {
  const sum = (numbers: readonly number[]): number => numbers.reduce((total, one) => total + one, 0);
  const sapMl = sum(season.boils.map((boil) => boil.sapMillilitres ?? 0));
  const syrupMl = sum(season.boils.map((boil) => boil.syrupMillilitres));
  const jars = (of: (lot: SeasonLot) => number): { count: number; ml: number } => ({
    count: sum(season.lots.map(of)),
    ml: sum(season.lots.map((lot) => of(lot) * lot.containerMillilitres)),
  });
  const packed = jars((lot) => lot.jarsMade);
  const ends = [
    { name: 'sent out', ...jars((lot) => lot.jarsSentOut), happened: true },
    { name: 'on hand', ...jars((lot) => lot.jarsOnHand), happened: false },
    { name: 'kept, samples, broken', ...jars((lot) => lot.jarsOther), happened: true },
    { name: 'destroyed', ...jars((lot) => lot.jarsDestroyed), happened: true },
  ].filter((end) => end.count > 0);
  const line = [
    node('sap', 'gathered', '', sap, sapMl),
    node('boiled', 'boiled', many(season.boils.length, 'boil'), syrup, syrupMl),
    node('filtered', 'filtered', '', '', syrupMl),
    node('resting', 'resting', '', '', syrupMl),
    node('packed', 'packed', many(season.lots.length, 'lot'), many(packed.count, 'jar'), packed.ml),
  ];
  return {
    code: String(season.year),
    nodes: [
      ...line,
      ...ends.map((end) => ({
        ...node(end.name, 'sent out', end.name, many(end.count, 'jar'), end.ml),
        happened: end.happened,
      })),
    ],
    links: [
      ...line.slice(1).map((to, index) => thread(line[index]?.id ?? '', to.id, null, true)),
      ...ends.map((end) => thread('packed', end.name, end.ml, end.happened)),
    ],
    syrupColour: null,
  };
}

/** Sap of more gatherings than this is drawn as one strand. */
const mostSapStrands = 3;
const mostPlaces = 6;

function boilLines(season: Season, boil: SeasonBoil): { nodes: TaperNode[]; links: TaperLink[]; last: string } {
  const { lot } = boil;
  const sapKnots = (code: string): readonly TaperKnot[] =>
    knotsOf(season.gatherings.find((one) => one.id === code)?.readings ?? [], { 'sap sugar': 'sap' });
  const each = boil.inputs.map((input) => ({
    ...node(`${lot}<${input.code}`, 'gathered', input.code, input.volumeTyped, input.millilitres),
    knots: sapKnots(input.code),
  }));
  const total = boil.inputs.reduce((sum, input) => sum + input.millilitres, 0);
  const sap =
    each.length <= mostSapStrands && each.length > 0
      ? each
      : [
          node(
            `${lot}<sap`,
            'gathered',
            each.length === 0 ? 'sap' : many(each.length, 'gathering'),
            boil.sapVolumeTyped ?? '',
            boil.sapMillilitres ?? (total || null),
          ),
        ];
  const boiled = {
    ...node(lot, 'boiled', lot, boil.syrupVolumeTyped, boil.syrupMillilitres),
    knots: knotsOf(boil.readings, { 'water boils': 'water boils', finish: 'finish' }),
  };
  const filtered = {
    ...node(`${lot} filtered`, 'filtered', '', boil.filterMedium ?? '', boil.syrupMillilitres),
    happened: boil.filterMedium !== null || boil.readings.some((reading) => reading.kind === 'filter'),
    knots: knotsOf(boil.readings, { filter: 'filter' }),
  };
  const rested = {
    ...node(
      `${lot} rested`,
      'resting',
      '',
      boil.restedFrom === null ? '' : `since ${boil.restedFrom.slice(11, 16)}`,
      boil.syrupMillilitres,
    ),
    happened: boil.restedFrom !== null,
  };
  return {
    nodes: [...sap, boiled, filtered, rested],
    links: [
      ...sap.map((one) => thread(one.id, lot, one.millilitres, true)),
      thread(lot, filtered.id, boil.syrupMillilitres, filtered.happened),
      thread(filtered.id, rested.id, boil.syrupMillilitres, rested.happened),
    ],
    last: rested.id,
  };
}

function outOf(lot: SeasonLot): { nodes: TaperNode[]; links: TaperLink[] } {
  const sent = lot.sentTo.slice(0, mostPlaces);
  const rest = lot.sentTo.slice(mostPlaces);
  const ends = sent.map((one) => ({
    name: one.kind === 'sale' ? one.place : `${one.place} (${one.kind})`,
    jars: one.jars,
    happened: true,
  }));
  if (rest.length > 0)
    ends.push({
      name: `${rest.length} more places`,
      jars: rest.reduce((sum, one) => sum + one.jars, 0),
      happened: true,
    });
  if (lot.jarsOnHand > 0 || ends.length === 0) ends.push({ name: 'on hand', jars: lot.jarsOnHand, happened: false });
  const nodes = ends.map((end, index) => ({
    ...node(
      `${lot.lot} out ${index}`,
      'sent out',
      end.name,
      many(end.jars, 'jar'),
      end.jars * lot.containerMillilitres,
    ),
    happened: end.happened,
  }));
  return { nodes, links: nodes.map((one) => thread(lot.lot, one.id, one.millilitres, one.happened)) };
}

function packKnots(lot: SeasonLot): TaperKnot[] {
  const stops = (reading: string): boolean =>
    lot.findings.some((finding) => finding.stop && finding.found.includes(reading));
  const stopped = (rule: string): boolean =>
    lot.findings.some((finding) => finding.stop && finding.rule.includes(rule));
  const density = lot.brix === null ? 'not read' : `${lot.brix.toFixed(1)} °Bx`;
  const lowest = lot.lowestFillTyped ?? 'not read';
  return [
    { what: 'lowest fill', reading: lowest, stops: stops(lowest) || (lot.lowestFillTyped === null && stopped('fill')) },
    { what: 'density', reading: density, stops: stops(density) },
  ];
}

function knotsOf(readings: readonly Reading[], what: Partial<Record<ReadingKind, string>>): TaperKnot[] {
  return readings.flatMap((reading) => {
    const words = what[reading.kind];
    return words === undefined ? [] : [{ what: words, reading: reading.typed, stops: false }];
  });
}

const node = (
  id: string,
  stage: TaperNode['stage'],
  name: string,
  amount: string,
  millilitres: number | null,
): TaperNode => ({
  id,
  stage,
  name,
  amount,
  millilitres,
  happened: true,
  knots: [],
});

const thread = (from: string, to: string, millilitres: number | null, happened: boolean): TaperLink => ({
  from,
  to,
  millilitres,
  happened,
});
