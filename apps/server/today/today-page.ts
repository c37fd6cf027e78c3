import { thermometersOf } from '#libs/actions/thermometers.js';
import { momentIn } from '#libs/actions/times.js';
import type { BoilBody, PackBody } from '#libs/records/bodies.js';
import { lotsInHand, lotsInState, type LotInHand } from '#libs/records/in-hand.js';
import { recordsOf } from '#libs/records/lots.js';
import { cautionsFor } from '../lots/lot-page.js';
import { reportsWaiting } from '../came-back/reports-waiting.js';
import { formGround } from '../forms/form-view.js';
import { mayEnter } from '../web/access.js';
import type { Visitor } from '../web/visitor.js';
import { many, volumeWords } from '../words/amounts.js';
import { boilSentence } from '../words/lot-sentence.js';
import { dayWords, elapsed } from '../words/times.js';

/** One thing in hand: what it is, what matters now, and the one tap to the next entry. */
export interface InHand {
  readonly code: string;
  readonly href: string;
  readonly sentence: string;
  readonly next?: { readonly href: string; readonly words: string };
  readonly state?: string;
  /** A clock that runs from here. */
  readonly since?: string;
}

/** What is in hand and what it needs now, in the order in which it can't wait. */
export async function todayPage(who: Visitor) {
  const { measures, manner } = await formGround(who);
  const { read } = who.book;
  const { sugarhouse } = who.desk;
  const now = momentIn(manner.zone, who.desk.now);
  const year = Number(now.slice(0, 4));
  const boils = await lotsInHand(read, sugarhouse, 'boil', 60);
  const boilBodies = new Map((await recordsOf<BoilBody>(read, sugarhouse, 'boil')).map((each) => [each.id, each.body]));
  const packs = (await recordsOf<PackBody>(read, sugarhouse, 'pack')).filter((each) => each.year >= year - 1);
  const gatherings = (await lotsInHand(read, sugarhouse, 'gathering', 60)).filter(
    (lot) => (lot.leftMillilitres ?? 0) >= 1,
  );
  const held = [...(await lotsInState(read, sugarhouse, 'recalled')), ...(await lotsInState(read, sugarhouse, 'held'))];
  const underway = new Set(packs.filter((each) => each.body.jars === undefined).map((each) => each.id));
  const words = (lot: LotInHand): string => volumeWords(lot.leftMillilitres ?? 0, measures.volumes, measures.canada);
  const ofBoil = (lot: LotInHand): InHand => boilInHand(lot, boilBodies.get(lot.code), words(lot), now);

  const fires = boils.filter((lot) => isBurning(boilBodies.get(lot.code)));
  const cooling = boils.filter(
    (lot) => !fires.includes(lot) && (lot.millilitres === undefined || (lot.leftMillilitres ?? 0) >= 1),
  );
  const seals = packs.filter(
    (each) => each.body.jars !== undefined && each.body.sealsFailed === undefined && each.year === year,
  );
  const { checked } = await thermometersOf(read, sugarhouse, year);
  const groups: { title: string; rows: InHand[] }[] = [
    { title: 'From a customer', rows: mayEnter(who.role, 'maker') ? await reportsWaiting(who, now) : [] },
    { title: 'On the fire', rows: fires.map(ofBoil) },
    { title: 'On the bench', rows: packs.filter((each) => underway.has(each.id)).map(packInHand) },
    { title: 'Filter, rest, pack', rows: cooling.map(ofBoil) },
    {
      title: 'Sap waiting',
      rows: gatherings.map((lot) => ({
        code: lot.code,
        href: `/lots/${encodeURIComponent(lot.code)}`,
        sentence: `${words(lot)} waiting, ${elapsed(lot.at, now)} old.`,
        next: { href: '/boils/begin', words: 'Begin a boil' },
      })),
    },
    {
      title: 'Seals to check',
      rows: seals.map((each) => ({
        code: each.id,
        href: `/lots/${each.id}`,
        sentence: `${many(each.body.jars ?? 0, 'jar')} filled ${dayWords(each.body.packedAt, now)}.`,
        next: { href: `/packs/${each.id}/seals`, words: 'Check the seals' },
      })),
    },
    {
      title: 'Held',
      rows: held
        .filter((lot) => !underway.has(lot.code))
        .map((lot) => ({
          code: lot.code,
          href: `/lots/${lot.code}`,
          sentence:
            lot.state === 'recalled'
              ? 'Called back.'
              : heldSentence(lot.verdict?.findings.find((finding) => finding.stop)),
          state: lot.state,
        })),
    },
  ];
  return {
    title: 'Today',
    here: 'today',
    day: dayWords(now),
    groups: groups.filter((group) => group.rows.length > 0),
    thermometerDue: !checked,
    year,
    cautions: fires.length > 0 ? cautionsFor('boil') : [],
    empty: boils.length + packs.length + gatherings.length === 0,
  };
}

const isBurning = (boil: BoilBody | undefined): boolean => boil !== undefined && !boil.finishedAt && !boil.syrupVolume;

function boilInHand(lot: LotInHand, boil: BoilBody | undefined, left: string, now: string): InHand {
  const href = `/lots/${lot.code}`;
  const base = { code: lot.code, href, sentence: boil ? boilSentence(boil, lot.leftMillilitres, left, now) : '' };
  if (!boil) return base;
  const step = (what: string, words: string) => ({ next: { href: `/boils/${lot.code}/log/${what}`, words } });
  if (isBurning(boil)) return { ...base, ...step('reading', 'Write a reading'), since: boil.beganAt };
  if (!boil.syrupVolume) return { ...base, ...step('finish', 'Syrup made') };
  if (boil.restedFrom && !boil.restedUntil)
    return { ...base, since: boil.restedFrom, next: { href: `/packs/begin?from=${lot.code}`, words: 'Pack it' } };
  if (!boil.filterTemp && boil.filterMedium === '') return { ...base, ...step('filter', 'Filter') };
  if (!boil.restedFrom) return { ...base, ...step('rest', 'Rest begins') };
  return { ...base, next: { href: `/packs/begin?from=${lot.code}`, words: 'Pack it' } };
}

function packInHand(pack: { readonly id: string; readonly body: PackBody }): InHand {
  const last = pack.body.fillTemps.at(-1);
  return {
    code: pack.id,
    href: `/lots/${pack.id}`,
    sentence: last
      ? `${many(pack.body.fillTemps.length, 'jar')} read, the last ${last.typed.split('@')[0]?.trim() ?? ''}.`
      : 'Nothing read in a jar yet.',
    next: { href: `/lots/${pack.id}#fill`, words: last ? 'Next jar' : 'First jar' },
  };
}

const heldSentence = (stop: { found: string; limit: string } | undefined): string =>
  stop ? `Found ${stop.found}; asked ${stop.limit}.` : 'Held by hand.';
