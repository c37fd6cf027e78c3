import { isNone } from '#libs/syrup/free-text/short-answers.js';
import type { LineBody } from '#libs/records/kinds/boil-line.js';
import { hotCup } from '#libs/actions/kinds/boil-line.js';
import type { BoilBody } from '#libs/records/kinds/boil.js';
import { findRecord, recordsAbout } from '#libs/store/queries/lots.js';
import { drawnFrom, flowsInto, flowsOutOf } from '#libs/store/queries/trace.js';
import { formatTemperature, formatDensity } from '#libs/syrup/quantities/format-quantities.js';
import type { BoilProps } from '#pages/lots/boil.js';
import { firstText } from '../../forms/field-view.js';
import { boilProgress, type BoilProgress } from '../boils/boil-progress.js';
import { hotCupView } from '../boils/hot-cup.js';
import { volumeText } from '#libs/format/format-house-volume.js';
import { pageOfRows } from '../../text/paged-rows.js';
import { isWithoutSap } from '../boils/without-sap.js';
import { boilSentence } from '../../text/lot-sentence.js';
import { cautionsFor } from '../../text/cautions.js';
import type { LotContext } from './lot-context.js';
import { nextBoilAction } from './next-action.js';

/** A boil's part of the page: its last readings, today's finishing temperature, and the buttons of its log. */
export async function boilProps(context: LotContext): Promise<BoilProps> {
  const { principal: principal, lot, measures, now, query } = context;
  const { read } = principal.book;
  const { sugarhouse } = principal.writeContext;
  const address = `/lots/${encodeURIComponent(lot.code)}`;
  const boil = (await findRecord({ sql: read, sugarhouse }, 'boil', lot.code))?.body;
  if (!boil) throw new Error(`Boil ${lot.code} is in the index without its record`);
  const lines = await recordsAbout({ sql: read, sugarhouse }, lot.code, 'line');
  const draws = await recordsAbout({ sql: read, sugarhouse }, lot.code, 'draw');
  const left =
    lot.millilitres === undefined
      ? undefined
      : Math.max(0, lot.millilitres - (await drawnFrom({ sql: read, sugarhouse }, lot.code)));
  const leftText = volumeText(left ?? 0, measures.volumes, measures.canada);
  const underway = !boil.finishedAt && !boil.syrupVolume;
  const mayPack = Boolean(boil.syrupVolume) && (left ?? 0) >= 1;
  const filtered = draws.some(({ body }) => body.filterTemp ?? body.filterMedium);
  const bodies = lines.map((line) => line.body);
  const progress = boilProgress(context, boil, bodies, now);
  const panLines = bodies.filter(({ what }) => what !== hotCup);
  return {
    sentence: boilSentence(
      boil,
      {
        millilitres: left,
        text: leftText,
        filteredAsDrawn: filtered,
        isStopped: lot.state === 'held' || lot.state === 'recalled',
      },
      now,
    ),
    restedFrom: boil.restedFrom && !boil.restedUntil ? boil.restedFrom : undefined,
    began: underway ? boil.beganAt : undefined,
    readings: readings(boil, panLines.at(-1), progress, draws.length, underway),
    underway,
    isWithoutSap: isWithoutSap(boil),
    progress: underway ? progress : undefined,
    cup: underway ? hotCupView(context, bodies) : undefined,
    taps: oneTapSteps(boil),
    buttons: formSteps(boil, filtered),
    mayPack,
    next: nextBoilAction(principal, lot, boil, { mayPack }),
    inputs: pageOfRows(
      (await flowsInto({ sql: read, sugarhouse }, lot.code)).map(({ from, typed, kind }) => ({
        code: from,
        typed,
        kind,
      })),
      firstText(query['inputs']),
      { address, param: 'inputs', noun: 'lot' },
    ),
    into: pageOfRows(
      (await flowsOutOf({ sql: read, sugarhouse }, lot.code)).map(({ into, typed, kind }) => ({
        code: into,
        typed,
        kind,
      })),
      firstText(query['into']),
      { address, param: 'into', noun: 'lot' },
    ),
    cautions: cautionsFor('boil', ...(underway ? ([] as const) : (['filter'] as const))),
  };
}

/** During the boil, the last reading and the finishing point are in the bar above the page. */
function readings(
  boil: BoilBody,
  last: LineBody | undefined,
  progress: BoilProgress,
  draws: number,
  underway: boolean,
) {
  const density = last?.density ? formatDensity(last.density) : undefined;
  const reading = underway ? density : last?.temperature ? formatTemperature(last.temperature) : density;
  return [
    ...(boil.syrupVolume ? [{ reading: boil.syrupVolume.typed, limit: 'syrup made' }] : []),
    ...(reading ? [{ reading, limit: `${last?.pan || 'last reading'}, ${last?.at.slice(11, 16) ?? ''}` }] : []),
    ...(progress.finish && !underway ? [progress.finish] : []),
    ...(boil.filterTemp
      ? [
          {
            reading: formatTemperature(boil.filterTemp),
            limit: `filtered${boil.filterMedium ? `, ${boil.filterMedium}` : ''}; hot is ${boil.filterTemp.unit === 'C' ? '85 °C' : '185 °F'} or more`,
          },
        ]
      : []),
    ...(draws > 0 ? [{ reading: String(draws), limit: draws === 1 ? 'draw-off' : 'draw-offs' }] : []),
  ];
}

/** Steps that take one tap: each is recorded with the time chosen beside it. */
function oneTapSteps(boil: BoilBody): { what: string; text: string }[] {
  const isBoiling = !boil.finishedAt && !boil.syrupVolume;
  return [
    ...(isBoiling
      ? [
          { what: 'fire', text: 'Wood added' },
          { what: 'skim', text: 'Skimmed' },
          { what: 'pan', text: 'Moved between pans' },
          { what: 'off', text: 'End boil' },
        ]
      : []),
    ...(boil.restedFrom || isBoiling ? [] : [{ what: 'rest', text: 'Start rest' }]),
    ...(boil.restedFrom && !boil.restedUntil ? [{ what: 'rested', text: 'End rest' }] : []),
  ];
}

/**
 * Steps that need a form, in the order of an evening. One that is already recorded becomes a correction, not a button.
 */
function formSteps(boil: BoilBody, filteredAsDrawn: boolean): { what: string; text: string }[] {
  const finished = Boolean(boil.syrupVolume);
  return [
    ...(finished
      ? []
      : [
          { what: 'cup', text: 'Hot cup' },
          { what: 'reading', text: 'Density' },
          { what: 'sap', text: 'Sap in' },
          { what: 'draw', text: 'Draw off' },
        ]),
    ...(boil.waterBoilsAt ? [] : [{ what: 'water', text: 'Water boils at' }]),
    ...(boil.defoamer === '' ? [{ what: 'defoamer', text: 'Defoamer' }] : []),
    ...(isNone(boil.defoamer) || boil.defoamerAllergens !== '' ? [] : [{ what: 'allergens', text: 'Allergens' }]),
    ...(filteredAsDrawn || (boil.filterTemp && boil.filterMedium) ? [] : [{ what: 'filter', text: 'Filter' }]),
    { what: 'note', text: 'Note' },
    ...(finished ? [] : [{ what: 'finish', text: 'Syrup made' }]),
  ];
}
