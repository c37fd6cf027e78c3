import { type SentTo, stoppedBy, type SeasonLot } from '../season/lot.js';
import type { Season } from '../season/season.js';
import { many } from '#libs/format/format.js';
import { classSwatch, swatch } from './swatch.js';
import { notRead, type LotDiagram, type DiagramDot, type DiagramLink, type DiagramNode } from './shape.js';
import { boilBranch } from './boil-diagram.js';
import { createNode, createLink } from './pieces.js';

/** The diagram of one pack: its sap, its boils, its readings and where its jars went. */
export function packDiagram(season: Season, lot: SeasonLot): LotDiagram {
  const boils = season.boils.filter((boil) => lot.boils.includes(boil.lot));
  const before = lot.boils.filter((code) => !boils.some((boil) => boil.lot === code));
  const upstream = boils.map((boil) => boilBranch(season, boil, true));
  const pack: DiagramNode = {
    id: lot.lot,
    stage: 'packed',
    name: lot.lot,
    amount: many(lot.jarsMade, 'jar'),
    millilitres: lot.syrupLitres * 1000,
    happened: true,
    dots: packDots(lot),
  };
  const intoPack = upstream.map((line): DiagramLink => createLink(line.last, pack.id, null, true));
  const earlier = before.map((code) => createNode(code, 'resting', code, 'of an earlier year', null));
  const out = outOf(lot);
  return {
    code: lot.lot,
    nodes: [...upstream.flatMap((line) => line.nodes), ...earlier, pack, ...out.nodes],
    links: [
      ...upstream.flatMap((line) => line.links),
      ...intoPack,
      ...earlier.map((one) => createLink(one.id, pack.id, null, true)),
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

const maxPlaces = 6;

function outOf(lot: SeasonLot): { nodes: DiagramNode[]; links: DiagramLink[] } {
  const sent = lot.sentTo.slice(0, maxPlaces);
  const rest = lot.sentTo.slice(maxPlaces);
  const ends = sent.map((one) => ({
    name: endName(one),
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
    ...createNode(
      `${lot.lot} out ${index}`,
      'sent out',
      end.name,
      many(end.jars, 'jar'),
      end.jars * lot.containerMillilitres,
    ),
    happened: end.happened,
  }));
  return { nodes, links: nodes.map((one) => createLink(lot.lot, one.id, one.millilitres, one.happened)) };
}

/** Where jars went; of broken and destroyed ones the text says what happened to them and no place. */
const endName = ({ kind, place }: SentTo): string =>
  kind === 'sale' ? place : kind === 'broken' || kind === 'destroyed' ? `${kind}: ${place}` : `${place} (${kind})`;

function packDots(lot: SeasonLot): DiagramDot[] {
  return [
    { what: 'lowest fill', reading: lot.lowestFillTyped ?? notRead, hasStop: stoppedBy(lot, 'fill') },
    {
      what: 'density',
      reading: lot.brix === null ? notRead : `${lot.brix.toFixed(1)} °Bx`,
      hasStop: stoppedBy(lot, 'density'),
    },
  ];
}
