import type { SeasonLot } from '../season/lot.js';
import type { Season } from '../season/season.js';
import { many } from '#libs/format/format.js';
import type { LotDiagram } from './shape.js';
import { node, thread } from './pieces.js';

/** All of a season as one line: sap gathered, syrup drawn, packed, and where it all is. */
export function seasonDiagram(season: Season, sap: string, syrup: string): LotDiagram {
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
