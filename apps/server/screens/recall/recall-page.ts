import { ownAuthorities } from '#libs/actions/places/authority.js';
import { required, text, type Fields } from '#libs/actions/record/fields.js';
import { suspectInstrument, suspectLots, type RecallFrom } from '#libs/actions/facts/suspect-lots.js';
import type { Problem } from '#libs/actions/record/problem.js';
import { recallNoteFields } from '#libs/actions/recall/recall-notes.js';
import { momentIn } from '#libs/actions/record/times.js';
import { lotsListed } from '#libs/store/queries/lists.js';
import { lotsInState } from '#libs/store/queries/work-in-progress.js';
import { findLot } from '#libs/store/queries/lots.js';
import { callsOf, reachText } from '#libs/reports/recall/recall-calls.js';
import { howText } from '#libs/reports/recall/how-sent.js';
import type { Recall } from '#libs/reports/recall/recall.js';
import { allTexts, firstText, type Posted } from '../../forms/field-view.js';
import { formContext, formGroups, problemView, type SubmittedForm } from '../../forms/form-view.js';
import { withRemembered } from '../../forms/remembered.js';
import { lastSeenFor } from '../../forms/last-seen.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { many } from '../../text/amounts.js';
import { suspectText } from '../../text/suspect-text.js';
import { pageOfRows } from '../../text/paged-rows.js';
import { accountedFor, jarRows } from '../../text/jar-rows.js';
import { momentText, withDaysAsText } from '../../text/times.js';
import { loadRecall } from './calls-page.js';
import { recallOffersFor } from './recall-offers.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** The search from the address or the form: lots separated by blanks or commas, a thermometer, a day. */
export const parseRecallSearch = (query: Posted): RecallFrom => ({
  lots: allTexts(query['lot']).flatMap((each) => each.split(/[\s,;]+/).filter(Boolean)),
  // Picked or typed: the text box comes last and takes precedence.
  thermometer: allTexts(query['thermometer']).at(-1),
  check: firstText(query['check']) || undefined,
  day: firstText(query['day']) || undefined,
});

const recallFields: Fields = {
  why: required(text, { label: 'Why', example: 'thermometer T1 read 4 °F too high' }),
  ...recallNoteFields,
};

/** The form to start from and, after a search, every lot it reaches and where their jars went. */
export async function recallPage(principal: Principal, query: Posted, sent: SubmittedForm = {}) {
  const from = parseRecallSearch(query);
  const blank = {
    title: 'Recall',
    here: 'find',
    lots: from.lots ?? [],
    ...(await startChoices(principal)),
    thermometer: from.thermometer ?? '',
    day: from.day ?? '',
    suspectPeriod: '',
    refused: undefined as Problem | undefined,
    summary: undefined as ReturnType<typeof problemView>,
    list: undefined as Awaited<ReturnType<typeof recallListView>> | undefined,
    recalled: [] as string[],
  };
  if (!from.lots?.length && !from.thermometer && !from.check && !from.day) {
    const recalled = await lotsInState(readerOf(principal), 'recalled');
    return { ...blank, recalled: recalled.map((lot) => lot.code) };
  }
  const codes = await suspectLots(readerOf(principal), from);
  if ('problem' in codes)
    return { ...blank, refused: codes.problem, summary: problemView(codes.problem, searchFields) };
  return {
    ...blank,
    suspectPeriod: await formatSuspectPeriod(principal, from),
    list: await recallListView(principal, codes, sent, query),
  };
}

const newestLots = 40;

/** The starting points of a search: the book's instruments and its newest lots. */
async function startChoices(principal: Principal) {
  const { remembered } = await withRemembered(principal, ['instrument'], {});
  const part = { from: 1, most: newestLots };
  const packs = await lotsListed(readerOf(principal), 'pack', part, 'boil');
  return {
    instruments: (remembered['instrument'] ?? []).map(({ value }) => value),
    known: packs.lots.map(({ code }) => code),
  };
}

/** The checks between which an instrument's readings are suspect, where an instrument was given. */
async function formatSuspectPeriod(principal: Principal, { thermometer, check }: RecallFrom): Promise<string> {
  if (!thermometer && !check) return '';
  const view = await suspectInstrument(readerOf(principal), { thermometer, check });
  if ('problem' in view) return '';
  const { parseOptions: options } = await formContext(principal);
  return suspectText(view, (ms) =>
    momentText(momentIn(options.zone, new Date(ms)), momentIn(options.zone, principal.writeContext.now)),
  );
}

/** The names of the search fields in messages. */
const searchFields: Fields = { lot: required(text, { label: 'Lots' }), day: required(text, { label: 'Day' }) };

async function recallListView(principal: Principal, codes: readonly string[], sent: SubmittedForm, query: Posted) {
  const { sugarhouse } = principal.writeContext;
  const seen = await lastSeenFor(principal, sent.problem);
  const houseContext = await formContext(principal);
  const recall = await loadRecall(principal, codes);
  if (!recall) return undefined;
  const states = await Promise.all(
    codes.map((code) => findLot(sugarhouseReader(principal.book.read, sugarhouse), code)),
  );
  const now = momentIn(houseContext.parseOptions.zone, principal.writeContext.now);
  return {
    codes,
    query: new URLSearchParams(lotParams(codes)).toString(),
    began: pageOfRows(codes, undefined, { address: '/recall', param: 'began', noun: 'lot' }),
    declared: states.every((lot) => lot?.state === 'recalled'),
    ...recallView(recall, codes, query, now),
    withThem: `/recall?${new URLSearchParams(lotParams([...codes, ...recall.sameSyrup.map(({ lot }) => lot)])).toString()}`,
    reach: reachText(recall),
    why: recall.why,
    hazard: recall.hazard,
    calls: { count: callsOf(recall).length, reached: callsOf(recall).filter((call) => call.reached).length },
    authorities: recall.authorities,
    ownAuthorities: ownAuthorities(houseContext.house),
    form: {
      ...seen,
      problem: problemView(sent.problem, recallFields),
      fields:
        formGroups(recallFields, [{ names: Object.keys(recallFields) }], houseContext, sent, {
          remembered: await recallOffersFor(principal, codes),
        })[0]?.fields ?? [],
    },
  };
}

function recallView(recall: Recall, codes: readonly string[], query: Posted, now: string) {
  const beside = [...lotParams(codes), ...listParams(query)];
  const part = <Row>(rows: readonly Row[], param: string, noun: string, plural?: string) =>
    pageOfRows(rows, firstText(query[param]), {
      address: '/recall',
      param,
      noun,
      ...(plural ? { plural } : {}),
      beside,
    });
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
        kind: each.kind === 'returned' ? each.kind : howText(each),
        to: each.to,
        contact: [each.telephone, each.contact].filter(Boolean).join(', '),
        when: momentText(each.sentAt, now),
      })),
    },
    plans: { ...plans, rows: plans.rows.map((each) => ({ lot: each.lot, jars: many(each.jars, 'jar'), to: each.to })) },
    sameSyrup: part(
      recall.sameSyrup.map(({ lot, packedAt, sources, jarsMade, state }) => ({
        lot,
        packed: `packed ${momentText(packedAt, now)} from ${sources.join(' and ')}`,
        jars: many(jarsMade, 'jar'),
        state,
      })),
      'same',
      'pack',
    ),
    upstream: part(
      recall.upstream.map(({ code, words }) => ({ code, words: withDaysAsText(words, now) })),
      'upstream',
      'lot',
    ),
    balance: [
      ...jarRows({
        made: sum((lot) => lot.jarsMade),
        onHand: sum((lot) => lot.jarsOnHand),
        sentOut: sum((lot) => lot.jarsSentOut),
        other: sum((lot) => lot.jarsOther),
        destroyed: sum((lot) => lot.jarsDestroyed),
        unaccounted: uncounted < recall.lots.length ? sum((lot) => lot.unaccounted ?? 0) : null,
      }).filter(([label]) => uncounted === 0 || label !== accountedFor),
      ...(uncounted > 0 ? [['packs not counted yet', uncounted] as const] : []),
    ],
  };
}

const lotParams = (codes: readonly string[]): [string, string][] => codes.map((code) => ['lot', code]);
const listParams = (query: Posted): [string, string][] =>
  ['packs', 'same', 'went', 'plans', 'upstream']
    .map((param): [string, string] => [param, firstText(query[param])])
    .filter(([, begins]) => begins !== '');
