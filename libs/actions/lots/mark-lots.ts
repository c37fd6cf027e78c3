import { randomBytes } from 'node:crypto';
import type { Book } from '#libs/store/book.js';
import type { WriteTransaction } from '#libs/store/connection/write-transaction.js';
import { canonicalJson, hashOf } from '#libs/store/log/canonical.js';
import type { EntryType, Entry, Judged } from '#libs/records/entry.js';
import { findSent } from '#libs/store/log/log.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { lotsDownstream, ofKind } from '#libs/store/queries/trace.js';
import { type AcceptedFinding, withAccepted } from '#libs/syrup/rules/accept-findings.js';
import { clearsOf } from '#libs/syrup/rules/rules.js';
import type { Finding, Verdict } from '#libs/syrup/rules/verdict.js';
import {
  type AskedAuthority,
  requestedOf,
  requestedDispatch,
  authorityMissing,
  nobodyAsked,
} from './asked-authority.js';
import { changedSince } from '../record/concurrency-check.js';
import { clockProblem } from '../record/clock.js';
import { type WriteContext, type SugarhouseContext, loadSugarhouseContext } from '../record/write-context.js';
import { reasonTooLong } from '../record/field-limits.js';
import { judgeLots } from './judge-lots.js';
import { type Refusal, invalid, refused, unknown } from '../record/problem.js';
import { noRecallNotes, recallNotesFault, formatRecallNotes, type RecallNotes } from '../recall/recall-notes.js';
import { lookUpLot } from '../record/references.js';
import { momentIn } from '../record/times.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export interface Marked {
  readonly entry: number;
  readonly lot: string;
  /** Packs whose state changed with it. */
  readonly packs: readonly string[];
  readonly outcome: 'new' | 'again' | 'same';
}

/** Holds a lot, and with it everything that its syrup went into. */
export const holdLot = (book: Book, context: WriteContext, code: string, why: string): Promise<Marked | Refusal> =>
  markLot(book, context, code, why, 'hold', async ({ lot, at }) =>
    lot.state === 'recalled'
      ? refused('recalled', `${lot.code} is recalled, which holds it already.`)
      : { judged: [{ lot: lot.code, state: 'held', heldSince: lot.state === 'held' ? lot.heldSince : at }] },
  );

/**
 * Releases a held lot, judged anew. A hold rule that new evidence alone clears refuses; one that a release may accept is
 * accepted with the reason, by the words of what was found, and holds again when other evidence says something else.
 */
export const releaseLot = (
  book: Book,
  context: WriteContext,
  code: string,
  why: string,
  request: AskedAuthority = nobodyAsked,
): Promise<Marked | Refusal> =>
  markLot(book, context, code, why, 'release', release(context, why, request), requestedDispatch(request));

const release =
  (context: WriteContext, why: string, request: AskedAuthority): States =>
  async ({ page: tx, houseContext, lot, at }) => {
    const judging = { sql: tx.sql, sugarhouse: context.sugarhouse, houseContext, at };
    const [judged] = await judgeLots(judging, [lot.code]);
    const state = judged?.state ?? lot.state;
    if (lot.state !== 'held' && state !== 'held')
      return refused('not-held', `${lot.code} is ${state}, not held: there is nothing to release.`);
    const anew = judged?.verdict ?? lot.verdict;
    const holds = anew?.findings.filter((finding) => finding.stop) ?? [];
    const uncured = holds.filter(({ rule }) => clearsOf(rule) === 'evidence');
    if (uncured.length > 0) return staysHeld(lot.code, uncured);
    const missing = authorityMissing(lot.code, holds, request);
    if (missing) return missing;
    const provided = holds.map((hold) => ({ rule: hold.rule, found: hold.found, ...requestedOf(hold, request) }));
    const accepted = provided.map((each) => ({ ...each, by: context.by, at, why }));
    return {
      said: accepted.length > 0 ? { accepted: provided } : undefined,
      accepting: accepted,
      judged: [{ lot: lot.code, state: 'released', heldSince: lot.heldSince, verdict: released(anew, accepted) }],
    };
  };

function released(verdict: Verdict | undefined, accepted: readonly AcceptedFinding[]): Verdict | undefined {
  if (!verdict) return undefined;
  const { awaitsRelease: _, heldJars: __, ...rest } = verdict;
  return { ...rest, findings: withAccepted(verdict.findings, accepted) };
}

/** Holds that an answer, another lot or destroying clears, and no corrective action on jars. */
const answeredOtherwise: readonly string[] = [
  'mould',
  'mould-looked-at',
  'spoilage-question',
  'held-upstream',
  'defoamer-allergens',
  'allergen-contradiction',
  'outside-these-rules',
];

function staysHeld(lot: string, holds: readonly Finding[]): Refusal {
  const [first] = holds;
  const ways = [...new Set(holds.flatMap(({ wayOut }) => wayOut ?? []))];
  const isActedOn = holds.some(({ rule }) => !answeredOtherwise.includes(rule));
  const act = isActedOn ? ['Then record the corrective action with its jars and its cause (book act).'] : [];
  return refused(
    first?.rule ?? 'stop',
    `${lot} stays held. ${holds.map((hold) => `${hold.rule}: found ${hold.found}; limit ${hold.limit}.`).join(' ')} ${[...ways, ...act].join(' ')}`,
  );
}

/** Calls a lot back, and everything its syrup went into. It stays called back. */
export async function recallLot(
  book: Book,
  context: WriteContext,
  code: string,
  why: string,
  notes = noRecallNotes,
): Promise<Marked | Refusal> {
  const fault = recallNotesFault(notes);
  return fault ?? markLot(book, context, code, why, 'recall', recalledWith(notes), formatRecallNotes(notes));
}

/**
 * Calls several lots back, each with an entry of its own and all of them in one write: a refusal of any leaves none
 * called back. Each has a key of its own too, so the same sent twice recalls each once.
 */
export function recallLots(
  book: Book,
  context: WriteContext,
  codes: readonly string[],
  why: string,
  notes = noRecallNotes,
): Promise<{ readonly marked: readonly Marked[] } | Refusal> {
  const fault = recallNotesFault(notes);
  if (fault) return Promise.resolve(fault);
  return book.write(async (tx) => {
    // What another wrote since is asked of every lot before any is written: the first recall is news to the second.
    for (const code of codes) {
      const lot = await lookUpLot(sugarhouseReader(tx.sql, context.sugarhouse), code);
      if (!lot) return unknown('lot', code);
      const changed = (await sentAlready(tx, keyed(context, code)))
        ? undefined
        : await changedSince(tx.sql, context, lot.code);
      if (changed) return changed;
    }
    const marked: Marked[] = [];
    for (const code of codes) {
      const done = await markOn(
        tx,
        { ...keyed(context, code), seen: undefined },
        code,
        why,
        'recall',
        recalledWith(notes),
        formatRecallNotes(notes),
      );
      if ('problem' in done) return done;
      marked.push(done);
    }
    return { marked };
  });
}

const keyed = (context: WriteContext, code: string): WriteContext =>
  context.key === undefined ? context : { ...context, key: `${context.key}:${code}` };
const sentAlready = async (tx: WriteTransaction, context: WriteContext) =>
  context.key !== undefined &&
  (await findSent(sugarhouseReader(tx.sql, context.sugarhouse), context.author, context.key));

const recalledWith =
  (notes: RecallNotes): States =>
  ({ lot, packs }) =>
    Promise.resolve({
      said: formatRecallNotes(notes),
      judged: [lot, ...packs.filter((pack) => pack.code !== lot.code)]
        .filter((each) => each.state !== 'recalled')
        .map((each) => ({ lot: each.code, state: 'recalled' as const, heldSince: each.heldSince })),
    });

interface Before {
  readonly page: WriteTransaction;
  readonly houseContext: SugarhouseContext;
  readonly lot: Lot;
  /** Packs downstream, itself too where it is one. */
  readonly packs: readonly Lot[];
  readonly at: string;
}

type Mark = EntryType & ('hold' | 'release' | 'recall');
/** The states that a mark gives, and what its entry says beside the reason. */
interface Given {
  readonly judged: readonly Judged[];
  readonly said?: Entry['said'];
  /** What a release accepts: its packs are judged with it. */
  readonly accepting?: readonly AcceptedFinding[];
}
type States = (before: Before) => Promise<Given | Refusal>;

/** `also` is what else was sent with the reason: the same key with other words is another release. */
type Also = Readonly<Record<string, string>>;

const markLot = (
  book: Book,
  context: WriteContext,
  typed: string,
  why: string,
  entryType: Mark,
  states: States,
  also: Also = {},
) => book.write((tx) => markOn(tx, context, typed, why, entryType, states, also));

async function markOn(
  tx: WriteTransaction,
  context: WriteContext,
  typed: string,
  why: string,
  entryType: Mark,
  states: States,
  also: Also = {},
): Promise<Marked | Refusal> {
  if (why.trim() === '') return invalid('why', 'the reason, in words', 'nothing');
  const long = reasonTooLong(why);
  if (long) return invalid('why', long.expected, long.got);
  const lot = await lookUpLot(sugarhouseReader(tx.sql, context.sugarhouse), typed);
  if (!lot) return unknown('lot', typed);
  const sent = hashOf(canonicalJson({ deed: entryType, lot: lot.code, why, ...also }));
  const key = context.key ?? `${context.author}:${randomBytes(16).toString('hex')}`;
  const before =
    context.key === undefined
      ? undefined
      : await findSent(sugarhouseReader(tx.sql, context.sugarhouse), context.author, key);
  if (before)
    return before.sent === sent
      ? { entry: before.seq, lot: lot.code, packs: [], outcome: 'again' }
      : { problem: { kind: 'key-used', entry: before.seq, by: before.by, at: before.typedAt } };

  const houseContext = await loadSugarhouseContext(tx.sql, context);
  const clock = await clockProblem(tx.sql, context, houseContext);
  if (clock) return clock;
  const changed = await changedSince(tx.sql, context, lot.code);
  if (changed) return changed;
  const packs = ofKind(await lotsDownstream(sugarhouseReader(tx.sql, context.sugarhouse), lot.code), 'pack');
  const at = momentIn(houseContext.parseOptions.zone, context.now);
  const provided = await states({ page: tx, houseContext, lot, packs, at });
  if ('problem' in provided) return provided;
  const { judged, said: formatted, accepting = [] } = provided;
  if (judged.length === 0) return { entry: lot.lastSeq, lot: lot.code, packs: [], outcome: 'same' };
  const downstream = packs.map((pack) => pack.code).filter((pack) => pack !== lot.code);
  const entry = await tx.append(
    markEntry(context, houseContext, {
      entryType,
      at,
      key,
      sent,
      why,
      about: [lot.code, ...downstream],
      judged,
      said: formatted,
    }),
    (sql) =>
      entryType === 'recall'
        ? Promise.resolve([])
        : judgeLots(
            {
              sql,
              sugarhouse: context.sugarhouse,
              houseContext,
              at,
              entryType,
              upstreamReleased: entryType === 'release',
              accepting: { lot: lot.code, findings: accepting },
            },
            downstream,
          ),
  );
  return { entry, lot: lot.code, packs: packs.map((pack) => pack.code), outcome: 'new' };
}

interface MarkParts {
  readonly entryType: EntryType;
  readonly at: string;
  readonly key: string;
  readonly sent: string;
  readonly why: string;
  readonly about: readonly string[];
  readonly judged: readonly Judged[];
  readonly said: Entry['said'];
}

function markEntry(context: WriteContext, houseContext: SugarhouseContext, parts: MarkParts): Entry {
  return {
    format: 1,
    sugarhouse: context.sugarhouse,
    deed: parts.entryType,
    by: context.by,
    happenedAt: parts.at,
    typedAt: momentIn(houseContext.parseOptions.zone, context.now),
    author: context.author,
    key: parts.key,
    sent: parts.sent,
    // The lot itself first; a hold of a boil is not a hold by hand of each pack, so only it is marked.
    about: parts.entryType === 'recall' ? parts.about : parts.about.slice(0, 1),
    judged: parts.judged,
    said: parts.said,
    why: parts.why,
    from: context.from,
  };
}
