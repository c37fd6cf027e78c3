import { needed, text, type Fields } from '#libs/actions/fields.js';
import { lotsInDoubt, type RecallFrom } from '#libs/actions/lots-in-doubt.js';
import type { Problem } from '#libs/actions/problem.js';
import { seasonGround } from '#libs/actions/season-ground.js';
import { momentIn } from '#libs/actions/times.js';
import { lotsInState } from '#libs/records/in-hand.js';
import { findLot } from '#libs/records/lots.js';
import { readRecall } from '#libs/reports/read-recall.js';
import type { Recall } from '#libs/reports/recall.js';
import { all, one, type Posted } from '../forms/field-view.js';
import { formGround, formGroups, problemView, type Sent } from '../forms/form-view.js';
import { seenOn } from '../forms/seen.js';
import type { Visitor } from '../web/visitor.js';
import { many } from '../words/amounts.js';
import { momentWords } from '../words/times.js';

/** What the address or the form asks: lots parted by blanks or commas, a thermometer, a day. */
export const askedFrom = (asked: Posted): RecallFrom => ({
  lots: all(asked['lot']).flatMap((each) => each.split(/[\s,;]+/).filter(Boolean)),
  thermometer: one(asked['thermometer']) || undefined,
  day: one(asked['day']) || undefined,
});

const whyField: Fields = {
  why: needed(text, { label: 'Why', example: 'thermometer T1 read 4 °F too high' }),
};

/** The form to begin from and, where something was asked, every lot it reaches and where their jars went. */
export async function recallPage(who: Visitor, from: RecallFrom, sent: Sent = {}) {
  const blank = {
    title: 'Recall',
    here: 'find',
    lots: from.lots?.join(' ') ?? '',
    thermometer: from.thermometer ?? '',
    day: from.day ?? '',
    refused: undefined as Problem | undefined,
    summary: undefined as ReturnType<typeof problemView>,
    list: undefined as Awaited<ReturnType<typeof shownList>> | undefined,
  };
  if (!from.lots?.length && !from.thermometer && !from.day) {
    const recalled = await lotsInState(who.book.read, who.desk.sugarhouse, 'recalled');
    return { ...blank, recalled: recalled.map((lot) => lot.code) };
  }
  const codes = await lotsInDoubt(who.book.read, who.desk.sugarhouse, from);
  if ('problem' in codes) return { ...blank, refused: codes.problem, summary: problemView(codes.problem, asks) };
  return { ...blank, list: await shownList(who, codes, sent) };
}

/** What the fields of the search are called where one of them is wrong. */
const asks: Fields = { lot: needed(text, { label: 'Lots' }), day: needed(text, { label: 'Day' }) };

async function shownList(who: Visitor, codes: readonly string[], sent: Sent) {
  const { sugarhouse, by } = who.desk;
  const seen = await seenOn(who, sent.problem);
  const ground = await formGround(who);
  const recall = await who.book.snapshot(
    async (sql) => readRecall(sql, sugarhouse, codes, await seasonGround(sql, who.desk), { by, members: who.readsAll }),
    { rerun: true },
  );
  const states = await Promise.all(codes.map((code) => findLot(who.book.read, sugarhouse, code)));
  const now = momentIn(ground.manner.zone, who.desk.now);
  return {
    codes,
    query: new URLSearchParams(codes.map((code): [string, string] => ['lot', code])).toString(),
    declared: states.every((lot) => lot?.state === 'recalled'),
    ...(recall ? shownRecall(recall, now) : { packs: [], went: [], plans: [], more: 0, balance: [], upstream: [] }),
    said: ground.place.authority.map((each) => `${each.name}: ${each.ask}`),
    form: {
      ...seen,
      problem: problemView(sent.problem, whyField),
      fields: formGroups(whyField, [{ names: ['why'] }], ground, sent)[0]?.fields ?? [],
    },
  };
}

const mostShown = 100;

function shownRecall(recall: Recall, now: string) {
  const went = recall.dispatches.map((each) => ({
    lot: each.lot,
    jars: many(each.jars, 'jar'),
    kind: each.kind,
    to: each.to,
    contact: each.contact ?? '',
    when: momentWords(each.sentAt, now),
  }));
  const sum = (of: (lot: Recall['lots'][number]) => number): number =>
    recall.lots.reduce((total, lot) => total + of(lot), 0);
  const uncounted = recall.lots.filter((lot) => lot.unaccounted === null).length;
  return {
    packs: recall.lots.slice(0, mostShown),
    morePacks: Math.max(0, recall.lots.length - mostShown),
    went: went.slice(0, mostShown),
    more: Math.max(0, went.length - mostShown),
    plans: recall.plans.map((each) => ({ lot: each.lot, jars: many(each.jars, 'jar'), to: each.to })),
    upstream: recall.upstream,
    balance: [
      ['made', sum((lot) => lot.jarsMade)],
      ['on hand', sum((lot) => lot.jarsOnHand)],
      ['sent out', sum((lot) => lot.jarsSentOut)],
      ['kept, samples, broken', sum((lot) => lot.jarsOther)],
      ['destroyed', sum((lot) => lot.jarsDestroyed)],
      ['unaccounted', uncounted < recall.lots.length ? sum((lot) => lot.unaccounted ?? 0) : 'not counted yet'],
      ...(uncounted > 0 ? [['packs not counted yet', uncounted]] : []),
    ],
  };
}
