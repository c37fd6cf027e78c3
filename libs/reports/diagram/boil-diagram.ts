import type { SeasonBoil } from '../season/flow.js';
import type { Season } from '../season/season.js';
import { many } from '#libs/format/format.js';
import type { LotDiagram, DiagramDot, DiagramLink, DiagramNode } from './shape.js';
import { dotsOf, createNode, createLink } from './pieces.js';

/** The diagram of one boil, branching into the packs that were filled from it. */
export function boilDiagram(season: Season, boil: SeasonBoil): LotDiagram {
  const packs = season.lots.filter((lot) => lot.inputs.some((input) => input.code === boil.lot));
  const line = boilBranch(season, boil, packs.length > 0);
  const ends = packs.flatMap((lot): { nodes: DiagramNode[]; links: DiagramLink[] }[] => {
    const taken = lot.inputs.find((input) => input.code === boil.lot);
    const pack = createNode(lot.lot, 'packed', '', '', taken?.millilitres ?? null);
    // Several packs are close together: their names are placed beyond the line, where there is room.
    const name = [lot.lot, taken?.volumeTyped ?? ''].filter((part) => part !== '').join(' · ');
    const sent = createNode(
      `${lot.lot} out`,
      'sent out',
      name,
      many(lot.jarsSentOut, 'jar'),
      lot.jarsSentOut * lot.containerMillilitres,
    );
    const sentOut = { ...sent, happened: lot.jarsSentOut > 0 };
    return [
      {
        nodes: [pack, sentOut],
        links: [createLink(line.last, pack.id, null, true), createLink(pack.id, sentOut.id, null, sentOut.happened)],
      },
    ];
  });
  const stillToPack = packs.length > 0 ? [] : [{ ...createNode('pack', 'packed', '', '', null), happened: false }];
  return {
    code: boil.lot,
    nodes: [...line.nodes, ...ends.flatMap((end) => end.nodes), ...stillToPack],
    links: [
      ...line.links,
      ...ends.flatMap((end) => end.links),
      ...stillToPack.map((one) => createLink(line.last, one.id, null, false)),
    ],
    syrupColour: null,
  };
}

/** A boil from its sap to its rest. `packed` means that it must have passed every stage, recorded or not. */
export function boilBranch(
  season: Season,
  boil: SeasonBoil,
  packed: boolean,
): { nodes: DiagramNode[]; links: DiagramLink[]; last: string } {
  const { lot } = boil;
  const sapDots = (code: string): readonly DiagramDot[] =>
    dotsOf(season.gatherings.find((one) => one.id === code)?.readings ?? [], { 'sap sugar': 'sap' });
  const each = boil.inputs.map((input) => ({
    ...createNode(`${lot}<${input.code}`, 'gathered', input.code, input.volumeTyped, input.millilitres),
    dots: sapDots(input.code),
  }));
  const total = boil.inputs.reduce((sum, input) => sum + input.millilitres, 0);
  const sap =
    each.length <= maxSapStrands && each.length > 0
      ? each
      : [
          createNode(
            `${lot}<sap`,
            'gathered',
            each.length === 0 ? 'sap' : many(each.length, 'gathering'),
            boil.sapVolumeTyped ?? '',
            boil.sapMillilitres ?? (total || null),
          ),
        ];
  const boiled = {
    ...createNode(lot, 'boiled', lot, boil.syrupVolumeTyped, boil.syrupMillilitres),
    dots: dotsOf(boil.readings, { 'water boils': 'water boils', finish: 'finish' }),
  };
  const filtered = {
    ...createNode(`${lot} filtered`, 'filtered', '', boil.filterMedium ?? '', boil.syrupMillilitres),
    happened: packed || boil.filterMedium !== null || boil.readings.some((reading) => reading.kind === 'filter'),
    dots: dotsOf(boil.readings, { filter: 'filter' }),
  };
  const rested = {
    ...createNode(`${lot} rested`, 'resting', '', restText(boil), boil.syrupMillilitres),
    happened: packed || boil.restedFrom !== null,
  };
  return {
    nodes: [...sap, boiled, filtered, rested],
    links: [
      ...sap.map((one) => createLink(one.id, lot, one.millilitres, true)),
      createLink(lot, filtered.id, boil.syrupMillilitres, filtered.happened),
      createLink(filtered.id, rested.id, boil.syrupMillilitres, rested.happened),
    ],
    last: rested.id,
  };
}

/** Sap of more gatherings than this is drawn as one strand. */
const maxSapStrands = 3;

/** `since 20:10` while it rests, `20:10 to 09:00` afterwards; blank where no rest is recorded. */
function restText({ restedFrom, restedUntil }: SeasonBoil): string {
  if (restedFrom === null) return '';
  const from = restedFrom.slice(11, 16);
  return restedUntil === null ? `since ${from}` : `${from} to ${restedUntil.slice(11, 16)}`;
}
