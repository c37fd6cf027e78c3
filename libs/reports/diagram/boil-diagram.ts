import type { SeasonBoil } from '../season/flow.js';
import type { Season } from '../season/season.js';
import { many } from '#libs/format/format.js';
import type { LotDiagram, DiagramDot, DiagramLink, DiagramNode } from './shape.js';
import { dotsOf, node, thread } from './pieces.js';

/** The diagram of one boil, branching into the packs that were filled from it. */
export function boilDiagram(season: Season, boil: SeasonBoil): LotDiagram {
  const packs = season.lots.filter((lot) => lot.inputs.some((input) => input.code === boil.lot));
  const line = boilLines(season, boil, packs.length > 0);
  const ends = packs.flatMap((lot): { nodes: DiagramNode[]; links: DiagramLink[] }[] => {
    const taken = lot.inputs.find((input) => input.code === boil.lot);
    const pack = node(lot.lot, 'packed', '', '', taken?.millilitres ?? null);
    // Several packs are close together: their names are placed beyond the line, where there is room.
    const name = [lot.lot, taken?.volumeTyped ?? ''].filter((part) => part !== '').join(' · ');
    const sent = node(
      `${lot.lot} out`,
      'sent out',
      name,
      many(lot.jarsSentOut, 'jar'),
      lot.jarsSentOut * lot.containerMillilitres,
    );
    const gone = { ...sent, happened: lot.jarsSentOut > 0 };
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

/** A boil from its sap to its rest. `packed` means that it must have passed every stage, recorded or not. */
export function boilLines(
  season: Season,
  boil: SeasonBoil,
  packed: boolean,
): { nodes: DiagramNode[]; links: DiagramLink[]; last: string } {
  const { lot } = boil;
  const sapDots = (code: string): readonly DiagramDot[] =>
    dotsOf(season.gatherings.find((one) => one.id === code)?.readings ?? [], { 'sap sugar': 'sap' });
  const each = boil.inputs.map((input) => ({
    ...node(`${lot}<${input.code}`, 'gathered', input.code, input.volumeTyped, input.millilitres),
    dots: sapDots(input.code),
  }));
  const total = boil.inputs.reduce((sum, input) => sum + input.millilitres, 0);
  const sap =
    each.length <= maxSapStrands && each.length > 0
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
    dots: dotsOf(boil.readings, { 'water boils': 'water boils', finish: 'finish' }),
  };
  const filtered = {
    ...node(`${lot} filtered`, 'filtered', '', boil.filterMedium ?? '', boil.syrupMillilitres),
    happened: packed || boil.filterMedium !== null || boil.readings.some((reading) => reading.kind === 'filter'),
    dots: dotsOf(boil.readings, { filter: 'filter' }),
  };
  const rested = {
    ...node(
      `${lot} rested`,
      'resting',
      '',
      boil.restedFrom === null ? '' : `since ${boil.restedFrom.slice(11, 16)}`,
      boil.syrupMillilitres,
    ),
    happened: packed || boil.restedFrom !== null,
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

/** Sap of more gatherings than this is drawn as one strand. */
const maxSapStrands = 3;
