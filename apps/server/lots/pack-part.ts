import { labelCountOf, labelCountSentences } from '#libs/actions/label-count.js';
import { thermometersOf } from '#libs/actions/thermometers.js';
import { packAfterActions } from '#libs/actions/pack-after-actions.js';

import { balanceOf, type JarBalance } from '#libs/records/balance.js';
import type { ActionBody, PackBody } from '#libs/records/bodies.js';
import { utcOf } from '#libs/records/instants.js';
import { findRecord, type Lot, recordsAbout } from '#libs/records/lots.js';
import { flowsInto, flowsOutOf } from '#libs/records/trace.js';
import { classSwatch, swatch } from '#libs/reports/swatch.js';
import type { FillReading } from '#libs/syrup/fill-readings.js';
import { coldestInJar } from '#libs/syrup/judge-fill.js';
import { shown, shownDensity } from '#libs/syrup/shown.js';
import { one } from '../forms/field-view.js';
import { type Sent, problemView } from '../forms/form-view.js';
import { fillPad, lastFillAt, padFields } from '../packs/fill-pad.js';
import { named } from '../words/amounts.js';
import { firstHundred } from '../words/first-hundred.js';
import { packSentence } from '../words/lot-sentence.js';
import { clock, dayWords } from '../words/times.js';
import { cautionsFor, type LotGround, type LotPart } from './lot-page.js';

/** A pack: each fill temperature judged at once, the density, the jars, and what may be done with them. */
export async function packPart(at: LotGround, sent: Sent): Promise<LotPart> {
  const { who, lot, place, now, asked } = at;
  const address = `/lots/${encodeURIComponent(lot.code)}`;
  const { read } = who.book;
  const { sugarhouse } = who.desk;
  const record = await findRecord<PackBody>(read, sugarhouse, 'pack', lot.code);
  if (!record) throw new Error(`Pack ${lot.code} is in the index without its record`);
  const actions = (await recordsAbout<ActionBody>(read, sugarhouse, lot.code, 'action')).map((each) => each.body);
  const pack = packAfterActions(record.body, actions);
  const balance = await balanceOf(read, sugarhouse, lot.code, utcOf(who.desk.now));
  const { corrections } = await thermometersOf(read, sugarhouse, lot.year);
  const underway = lot.jars === undefined;
  return {
    template: 'lots/pack',
    told: {
      here: 'packs',
      sentence: packSentence(lot, pack, balance, now),
      underway,
      fills: pack.fillTemps.map((fill) => fillView(fill)),
      lastFill: lastFillAt(pack),
      pad:
        underway || sent.problem ? fillPad(at, pack, { now, thermometers: [...corrections.keys()] }, sent) : undefined,
      problem: problemView(sent.problem, padFields),
      verdictOf: verdictOf(lot, underway),
      readings: readingsOf(lot, pack, place.minimumBrix.value),
      container: pack.container.typed,
      packed: `${dayWords(pack.packedAt, now)} ${clock(pack.packedAt)}`,
      colour: colourOf(lot, pack),
      balance: underway ? undefined : balanceRows(balance),
      labels: underway ? [] : labelCountSentences(await labelCountOf(read, sugarhouse, lot.code, lot.jars ?? 0)),
      from: firstHundred(
        (await flowsInto(read, sugarhouse, lot.code)).map(({ from, typed }) => ({
          code: from,
          typed: typed || 'all that was left',
        })),
        one(asked['from']),
        { address, param: 'from', noun: 'lot' },
      ),
      pouredInto: firstHundred(
        (await flowsOutOf(read, sugarhouse, lot.code)).map(({ into, typed }) => ({ code: into, typed })),
        one(asked['into']),
        { address, param: 'into', noun: 'lot' },
      ),
      wants: wantsOf(pack, underway),
      cautions: underway ? cautionsFor('pack', 'seal') : cautionsFor('seal', 'sell'),
    },
  };
}

export interface FillView {
  readonly reading: string;
  readonly low: boolean;
  readonly beside: string;
}

/** Each reading against the limit in its own unit; the whole lot is judged by the rules. */
export function fillView(fill: FillReading): FillView {
  const { temperature, clock: when, thermometer, jars } = fill;
  return {
    reading: shown(temperature),
    low: temperature.degrees < coldestInJar[temperature.unit],
    beside: [when?.slice(-5), thermometer, jars].filter(Boolean).join(' '),
  };
}

function verdictOf(lot: Lot, underway: boolean) {
  const stops = lot.verdict?.findings.filter((finding) => finding.stop) ?? [];
  // What isn't read yet while jars are still being filled is no fault of the pack so far.
  const sofar = underway ? stops.filter((finding) => !finding.rule.endsWith('-not-read')) : stops;
  if (lot.state === 'recalled') return { kind: 'stops', words: 'RECALLED' };
  if (lot.state === 'held' && (!underway || sofar.length > 0)) return { kind: 'stops', words: 'may not go out' };
  if (underway) return { kind: 'advice', words: 'being filled' };
  return { kind: 'passes', words: 'may go out' };
}

function readingsOf(lot: Lot, pack: PackBody, leastBrix: number) {
  const { verdict } = lot;
  const low = verdict?.lowestFill;
  const density = pack.densityReading;
  const sample = pack.densityAt ? ` at ${shown(pack.densityAt)}` : '';
  return [
    low
      ? {
          reading: shown(low),
          limit: `lowest in the jar; asked ${coldestInJar[low.unit]} °${low.unit} or more`,
          low: low.degrees < coldestInJar[low.unit],
        }
      : { reading: 'not read', limit: 'lowest in the jar; asked 180 °F or 82 °C or more', low: true, word: true },
    density
      ? {
          reading: shownDensity(density),
          limit: `read${sample}${(verdict?.brix ?? null) === null ? '' : `: ${(verdict?.brix ?? 0).toFixed(1)} ± ${(verdict?.brixUncertainty ?? 0).toFixed(1)} °Bx`}; asked ${leastBrix} °Bx or more`,
        }
      : { reading: 'not read', limit: `density; asked ${leastBrix} °Bx or more`, low: true, word: true },
    ...(pack.hotPackTemp ? [{ reading: shown(pack.hotPackTemp), limit: 'in the kettle or filler' }] : []),
    ...(lot.jars === undefined
      ? []
      : [{ reading: String(lot.jars), limit: `${named(lot.jars, 'jar')}, ${pack.container.typed}` }]),
    ...(pack.sealsFailed === undefined
      ? []
      : [
          {
            reading: String(pack.sealsFailed),
            limit: `${named(pack.sealsFailed, 'seal')} failed${pack.sealsOutcome ? `: ${pack.sealsOutcome}` : ''}`,
          },
        ]),
  ];
}

function colourOf(lot: Lot, pack: PackBody) {
  const colour = lot.verdict?.colour;
  if (!colour && !pack.transmittance) return undefined;
  const fill = pack.transmittance ? swatch(pack.transmittance.percent) : colour ? classSwatch(colour) : '';
  return {
    fill,
    words: colour ?? '',
    beside: pack.transmittance ? `${pack.transmittance.percent} % at 560 nm` : 'as classed by eye',
  };
}

function balanceRows(balance: JarBalance) {
  const { made, onHand, sentOut, destroyed, other, unaccounted } = balance;
  return [
    ['made', made],
    ['on hand', onHand],
    ['sent out', sentOut],
    ['kept, samples, broken', other],
    ['destroyed', destroyed],
    ['unaccounted', unaccounted ?? 'not counted yet'],
  ];
}

function wantsOf(pack: PackBody, underway: boolean) {
  return {
    density: pack.densityReading === undefined,
    seals: !underway && pack.sealsFailed === undefined,
    colour: pack.transmittance === undefined && pack.colourClass === '',
  };
}
