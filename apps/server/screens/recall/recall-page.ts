import { whomToAsk } from '#libs/actions/places/authority.js';
import { needed, text, type Fields } from '#libs/actions/record/fields.js';
import { instrumentInDoubt, lotsInDoubt, type RecallFrom } from '#libs/actions/lots/suspect-lots.js';
import type { Problem } from '#libs/actions/record/problem.js';
import { recallNoteFields } from '#libs/actions/recall/recall-notes.js';
import { momentIn } from '#libs/actions/record/times.js';
import { lotsInState } from '#libs/store/queries/work-in-progress.js';
import { findLot } from '#libs/store/queries/lots.js';
import { callsOf, reachWords } from '#libs/reports/recall/recall-calls.js';
import { howWords } from '#libs/reports/recall/how-sent.js';
import type { Recall } from '#libs/reports/recall/recall.js';
import { all, one, type Posted } from '../../forms/field-view.js';
import { formGround, formGroups, problemView, type Sent } from '../../forms/form-view.js';
import { seenOn } from '../../forms/last-seen.js';
import type { Visitor } from '../../http/principal.js';
import { many } from '../../text/amounts.js';
import { doubtWords } from '../../text/suspect-text.js';
import { firstHundred } from '../../text/first-hundred.js';
import { accountedFor, jarRows } from '../../text/jar-rows.js';
import { momentWords } from '../../text/times.js';
import { recallFrom } from './calls-page.js';

/** What the address or the form asks: lots parted by blanks or commas, a thermometer, a day. */
export const askedFrom = (asked: Posted): RecallFrom => ({
  lots: all(asked['lot']).flatMap((each) => each.split(/[\s,;]+/).filter(Boolean)),
  thermometer: one(asked['thermometer']) || undefined,
  check: one(asked['check']) || undefined,
  day: one(asked['day']) || undefined,
});

const recallFields: Fields = {
  why: needed(text, { label: 'Why', example: 'thermometer T1 read 4 °F too high' }),
  ...recallNoteFields,
};

/** The form to begin from and, where something was asked, every lot it reaches and where their jars went. */
export async function recallPage(who: Visitor, asked: Posted, sent: Sent = {}) {
  const from = askedFrom(asked);
  const blank = {
    title: 'Recall',
    here: 'find',
    lots: from.lots?.join(' ') ?? '',
    thermometer: from.thermometer ?? '',
    day: from.day ?? '',
    doubt: '',
    refused: undefined as Problem | undefined,
    summary: undefined as ReturnType<typeof problemView>,
    list: undefined as Awaited<ReturnType<typeof shownList>> | undefined,
  };
  if (!from.lots?.length && !from.thermometer && !from.check && !from.day) {
    const recalled = await lotsInState(who.book.read, who.desk.sugarhouse, 'recalled');
    return { ...blank, recalled: recalled.map((lot) => lot.code) };
  }
  const codes = await lotsInDoubt(who.book.read, who.desk.sugarhouse, from);
  if ('problem' in codes) return { ...blank, refused: codes.problem, summary: problemView(codes.problem, asks) };
  return { ...blank, doubt: await doubtSaid(who, from), list: await shownList(who, codes, sent, asked) };
}

/** Between which checks an instrument's readings are in doubt, where one was asked for. */
async function doubtSaid(who: Visitor, { thermometer, check }: RecallFrom): Promise<string> {
  if (!thermometer && !check) return '';
  const told = await instrumentInDoubt(who.book.read, who.desk.sugarhouse, { thermometer, check });
  if ('problem' in told) return '';
  const { manner } = await formGround(who);
  return doubtWords(told, (ms) =>
    momentWords(momentIn(manner.zone, new Date(ms)), momentIn(manner.zone, who.desk.now)),
  );
}

/** What the fields of the search are called where one of them is wrong. */
const asks: Fields = { lot: needed(text, { label: 'Lots' }), day: needed(text, { label: 'Day' }) };

async function shownList(who: Visitor, codes: readonly string[], sent: Sent, asked: Posted) {
  const { sugarhouse } = who.desk;
  const seen = await seenOn(who, sent.problem);
  const ground = await formGround(who);
  const recall = await recallFrom(who, codes);
  if (!recall) return undefined;
  const states = await Promise.all(codes.map((code) => findLot(who.book.read, sugarhouse, code)));
  const now = momentIn(ground.manner.zone, who.desk.now);
  return {
    codes,
    query: new URLSearchParams(lotsAsked(codes)).toString(),
    began: firstHundred(codes, undefined, { address: '/recall', param: 'began', noun: 'lot' }),
    declared: states.every((lot) => lot?.state === 'recalled'),
    ...shownRecall(recall, codes, asked, now),
    reach: reachWords(recall),
    why: recall.why,
    hazard: recall.hazard,
    calls: { count: callsOf(recall).length, reached: callsOf(recall).filter((call) => call.reached).length },
    authorities: recall.authorities.map((each) => `${each.name}: telephone ${each.contact ?? 'not recorded'}`),
    said: whomToAsk(ground),
    form: {
      ...seen,
      problem: problemView(sent.problem, recallFields),
      fields: formGroups(recallFields, [{ names: Object.keys(recallFields) }], ground, sent)[0]?.fields ?? [],
    },
  };
}

function shownRecall(recall: Recall, codes: readonly string[], asked: Posted, now: string) {
  const beside = [...lotsAsked(codes), ...listsAsked(asked)];
  const part = <Row>(rows: readonly Row[], param: string, noun: string, plural?: string) =>
    firstHundred(rows, one(asked[param]), { address: '/recall', param, noun, ...(plural ? { plural } : {}), beside });
  const went = part(recall.dispatches, 'went', 'dispatch', 'dispatches');
  const plans = part(recall.plans, 'plans', 'planned dispatch', 'planned dispatches');
  const sum = (of: (lot: Recall['lots'][number]) => number): number =>
    recall.lots.reduce((total, lot) => total + of(lot), 0);
  const uncounted = recall.lots.filter((lot) => lot.unaccounted === null).length;
  return {
    packs: part(recall.lots, 'packs', 'pack'),
    went: {
      ...went,
      rows: went.rows.map((each) => ({
        lot: each.lot,
        jars: many(each.jars, 'jar'),
        kind: each.kind === 'returned' ? each.kind : howWords(each),
        to: each.to,
        contact: [each.telephone, each.contact].filter(Boolean).join(', '),
        when: momentWords(each.sentAt, now),
      })),
    },
    plans: { ...plans, rows: plans.rows.map((each) => ({ lot: each.lot, jars: many(each.jars, 'jar'), to: each.to })) },
    upstream: part(recall.upstream, 'upstream', 'lot'),
    balance: [
      ...jarRows({
        made: sum((lot) => lot.jarsMade),
        onHand: sum((lot) => lot.jarsOnHand),
        sentOut: sum((lot) => lot.jarsSentOut),
        other: sum((lot) => lot.jarsOther),
        destroyed: sum((lot) => lot.jarsDestroyed),
        unaccounted: uncounted < recall.lots.length ? sum((lot) => lot.unaccounted ?? 0) : null,
      }).filter(([words]) => uncounted === 0 || words !== accountedFor),
      ...(uncounted > 0 ? [['packs not counted yet', uncounted]] : []),
    ],
  };
}

const lotsAsked = (codes: readonly string[]): [string, string][] => codes.map((code) => ['lot', code]);
const listsAsked = (asked: Posted): [string, string][] =>
  ['packs', 'went', 'plans', 'upstream']
    .map((param): [string, string] => [param, one(asked[param])])
    .filter(([, begins]) => begins !== '');
