import { reckon } from '#libs/actions/reckon.js';
import type { BoilBody, DrawBody, LineBody } from '#libs/records/bodies.js';
import { findRecord, recordsAbout } from '#libs/records/lots.js';
import { drawnFrom, flowsInto, flowsOutOf } from '#libs/records/trace.js';
import { shown, shownDensity } from '#libs/syrup/shown.js';
import { one } from '../forms/field-view.js';
import { volumeWords } from '../words/amounts.js';
import { firstHundred } from '../words/first-hundred.js';
import { boilSentence } from '../words/lot-sentence.js';
import { cautionsFor, type LotGround, type LotPart } from './lot-page.js';

/** A boil: what was read last, where it should finish today, and the buttons of its log. */
export async function boilPart(at: LotGround): Promise<LotPart> {
  const { who, lot, measures, now, asked } = at;
  const { read } = who.book;
  const { sugarhouse } = who.desk;
  const address = `/lots/${encodeURIComponent(lot.code)}`;
  const boil = (await findRecord<BoilBody>(read, sugarhouse, 'boil', lot.code))?.body;
  if (!boil) throw new Error(`Boil ${lot.code} is in the index without its record`);
  const lines = await recordsAbout<LineBody>(read, sugarhouse, lot.code, 'line');
  const draws = await recordsAbout<DrawBody>(read, sugarhouse, lot.code, 'draw');
  const left =
    lot.millilitres === undefined
      ? undefined
      : Math.max(0, lot.millilitres - (await drawnFrom(read, sugarhouse, lot.code)));
  const leftWords = volumeWords(left ?? 0, measures.volumes, measures.canada);
  const underway = !boil.finishedAt && !boil.syrupVolume;
  return {
    template: 'lots/boil',
    told: {
      here: 'boils',
      sentence: boilSentence(boil, left, leftWords, now),
      restedFrom: boil.restedFrom && !boil.restedUntil ? boil.restedFrom : undefined,
      began: underway ? boil.beganAt : undefined,
      readings: readingsOf(at, boil, lines.at(-1)?.body, draws.length),
      underway,
      near: underway ? nearness(at, boil, lines.at(-1)?.body) : undefined,
      buttons: buttonsOf(
        boil,
        draws.some((each) => each.body.filterTemp ?? each.body.filterMedium),
      ),
      mayPack: Boolean(boil.syrupVolume) && (left ?? 0) >= 1,
      inputs: firstHundred(
        (await flowsInto(read, sugarhouse, lot.code)).map(({ from, typed, kind }) => ({ code: from, typed, kind })),
        one(asked['inputs']),
        { address, param: 'inputs', noun: 'lot' },
      ),
      into: firstHundred(
        (await flowsOutOf(read, sugarhouse, lot.code)).map(({ into, typed, kind }) => ({ code: into, typed, kind })),
        one(asked['into']),
        { address, param: 'into', noun: 'lot' },
      ),
      cautions: cautionsFor('boil', ...(underway ? ([] as const) : (['filter'] as const))),
    },
  };
}

function readingsOf(at: LotGround, boil: BoilBody, last: LineBody | undefined, draws: number) {
  const reading = last?.temperature ? shown(last.temperature) : last?.density ? shownDensity(last.density) : undefined;
  return [
    ...(boil.syrupVolume ? [{ reading: boil.syrupVolume.typed, limit: 'syrup made' }] : []),
    ...(reading ? [{ reading, limit: `${last?.pan || 'last reading'}, ${last?.at.slice(11, 16) ?? ''}` }] : []),
    ...finishingPoint(at, boil),
    ...(boil.filterTemp
      ? [
          {
            reading: shown(boil.filterTemp),
            limit: `filtered${boil.filterMedium ? `, ${boil.filterMedium}` : ''}; hot is 185 °F or more`,
          },
        ]
      : []),
    ...(draws > 0 ? [{ reading: String(draws), limit: draws === 1 ? 'draw-off' : 'draw-offs' }] : []),
  ];
}

/** Within 2.5 °F of the finishing point an inch in a flat pan is minutes from ruined (worked, reference of cautions). */
const nearFahrenheit = 2.5;

/** How near the last reading is to the finishing point of the day, where both were read in one unit. */
function nearness(at: LotGround, boil: BoilBody, last: LineBody | undefined): string | undefined {
  const point = finishDegrees(at, boil);
  if (point === undefined || !last?.temperature || last.temperature.unit !== boil.waterBoilsAt?.unit) return undefined;
  const { degrees, unit } = last.temperature;
  const left = point - degrees;
  if (left > (unit === 'F' ? nearFahrenheit : nearFahrenheit / 1.8)) return undefined;
  return left > 0.05
    ? `Near: ${left.toFixed(1)} °${unit} to go at ${last.at.slice(11, 16)}. Do not leave the pan.`
    : 'At the finishing point. Test the density now, and do not leave the pan.';
}

/** The finishing point of the day, from where water boils today; a thermometer says test now, never that it passes. */
function finishingPoint(at: LotGround, boil: BoilBody) {
  const point = finishDegrees(at, boil);
  if (point === undefined || !boil.waterBoilsAt) return [];
  return [
    {
      reading: `${point.toFixed(1)} °${boil.waterBoilsAt.unit}`,
      limit: `test for ${leastBrix(at)} °Bx here today: water boils at ${shown(boil.waterBoilsAt)}`,
    },
  ];
}

const leastBrix = ({ place }: LotGround): number =>
  (place.minimumBrix.gates ? place.minimumBrix : (place.standInMinimumBrix ?? place.minimumBrix)).value;

function finishDegrees(at: LotGround, boil: BoilBody): number | undefined {
  if (!boil.waterBoilsAt) return undefined;
  const answer = reckon('finish', { waterBoils: boil.waterBoilsAt.typed, density: `${leastBrix(at)} Bx` }, at.manner);
  if ('problem' in answer) return undefined;
  const point = answer.figures[boil.waterBoilsAt.unit === 'C' ? 'finishC' : 'finishF'];
  return typeof point === 'number' ? point : undefined;
}

/** The big buttons of the log, in the order of the evening. What is done already is a correction, not a button. */
function buttonsOf(boil: BoilBody, filteredAsDrawn: boolean): { what: string; words: string }[] {
  const finished = Boolean(boil.syrupVolume);
  return [
    ...(finished
      ? []
      : [
          { what: 'reading', words: 'Reading' },
          { what: 'sap', words: 'Sap in' },
          { what: 'pan', words: 'Pan to pan' },
          { what: 'draw', words: 'Draw off' },
          { what: 'fire', words: 'Fire' },
        ]),
    ...(boil.waterBoilsAt ? [] : [{ what: 'water', words: 'Water boils at' }]),
    ...(boil.defoamer === '' ? [{ what: 'defoamer', words: 'Defoamer' }] : []),
    ...(filteredAsDrawn || (boil.filterTemp && boil.filterMedium) ? [] : [{ what: 'filter', words: 'Filter' }]),
    ...(boil.restedFrom ? [] : [{ what: 'rest', words: 'Rest begins' }]),
    ...(boil.restedFrom && !boil.restedUntil ? [{ what: 'rested', words: 'Rest is over' }] : []),
    { what: 'note', words: 'Note' },
    ...(finished ? [] : [{ what: 'finish', words: 'Syrup made' }]),
  ];
}
