import { randomBytes } from 'node:crypto';
import type { Book } from '#libs/store/book.js';
import type { WriteTransaction } from '#libs/store/connection/write-transaction.js';
import { requestHashOf } from '#libs/store/log/entry-json.js';
import type { EntryType, Entry, Judged } from '#libs/records/entry.js';
import { findSent } from '#libs/store/log/log.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { lotsDownstream, ofKind } from '#libs/store/queries/trace.js';
import type { AcceptedFinding } from '#libs/syrup/rules/accept-findings.js';
import { refuseIfChanged } from '../record/concurrency-check.js';
import { refuseWrongClock } from '../record/clock.js';
import { type WriteContext, type SugarhouseContext, loadSugarhouseContext } from '../record/write-context.js';
import { reasonTooLong } from '../record/field-limits.js';
import { judgeLots } from '../judging/judge-lots.js';
import { type Refusal, invalid, unknown } from '../record/problem.js';
import { lookUpLot } from '../record/references.js';
import { momentIn } from '../record/times.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export interface StatusChanged {
  readonly entry: number;
  readonly lot: string;
  /** Packs whose state this changes. */
  readonly packs: readonly string[];
  readonly outcome: 'new' | 'again' | 'same';
}

interface StatusInput {
  readonly tx: WriteTransaction;
  readonly houseContext: SugarhouseContext;
  readonly lot: Lot;
  /** Packs downstream; the lot itself too where it is one. */
  readonly packs: readonly Lot[];
  readonly at: string;
}

export type StatusChange = EntryType & ('hold' | 'release' | 'recall');
/** The new states, and what the entry stores beside the reason. */
interface NewStates {
  readonly judged: readonly Judged[];
  readonly said?: Entry['said'];
  /** Findings that a release accepts: its packs are judged with them. */
  readonly accepting?: readonly AcceptedFinding[];
}
/** Decides the new states from the lots as read inside the write transaction. */
export type DecideStates = (before: StatusInput) => Promise<NewStates | Refusal>;

export interface StatusRequest {
  /** The lot as typed. */
  readonly lot: string;
  readonly why: string;
  readonly entryType: StatusChange;
  readonly decide: DecideStates;
  /** What else was sent with the reason: the same key with other values is another request. */
  readonly fields?: Readonly<Record<string, string>> | undefined;
}

/** Checks the reason, key, clock and concurrent changes, then appends the entry and judges the packs downstream. */
export const changeStatus = (book: Book, context: WriteContext, request: StatusRequest) =>
  book.write((tx) => changeStatusInTransaction(tx, context, request));

/** The same inside an open write transaction. */
export async function changeStatusInTransaction(
  tx: WriteTransaction,
  context: WriteContext,
  { lot: typed, why, entryType, decide, fields = {} }: StatusRequest,
): Promise<StatusChanged | Refusal> {
  if (why.trim() === '') return invalid('why', 'the reason, in words', 'nothing');
  const tooLong = reasonTooLong(why);
  if (tooLong) return invalid('why', tooLong.expected, tooLong.got);
  const reader = sugarhouseReader(tx.sql, context.sugarhouse);
  const lot = await lookUpLot(reader, typed);
  if (!lot) return unknown('lot', typed);
  const requestHash = requestHashOf(entryType, { lot: lot.code, why, ...fields });
  const key = context.key ?? `${context.author}:${randomBytes(16).toString('hex')}`;
  const earlier = context.key === undefined ? undefined : await findSent(reader, context.author, key);
  const packs = ofKind(await lotsDownstream(reader, lot.code), 'pack');
  if (earlier)
    return earlier.sent === requestHash
      ? { entry: earlier.seq, lot: lot.code, packs: codesOf(packs, earlier.about), outcome: 'again' }
      : { problem: { kind: 'key-used', entry: earlier.seq, by: earlier.by, at: earlier.typedAt } };

  const houseContext = await loadSugarhouseContext(tx.sql, context);
  const refusal =
    (await refuseWrongClock(tx.sql, context, houseContext)) ?? (await refuseIfChanged(tx.sql, context, lot.code));
  if (refusal) return refusal;
  const at = momentIn(houseContext.parseOptions.zone, context.now);
  const change = await decide({ tx, houseContext, lot, packs, at });
  if ('problem' in change) return change;
  if (change.judged.length === 0) return { entry: lot.lastSeq, lot: lot.code, packs: [], outcome: 'same' };
  const entry = await appendStatusEntry(tx, context, houseContext, {
    entryType,
    at,
    key,
    requestHash,
    why,
    lot: lot.code,
    change,
    downstream: packs.map((pack) => pack.code).filter((pack) => pack !== lot.code),
  });
  return { entry, lot: lot.code, packs: codesOf(packs), outcome: 'new' };
}

/** Their codes; of those that an entry is about where it is given. */
const codesOf = (lots: readonly Lot[], about?: readonly string[]): string[] =>
  lots.map(({ code }) => code).filter((code) => !about || about.includes(code));

interface EntryParts {
  readonly entryType: StatusChange;
  readonly at: string;
  readonly key: string;
  readonly requestHash: string;
  readonly why: string;
  readonly lot: string;
  /** Packs into which the lot's syrup went, without the lot itself. */
  readonly downstream: readonly string[];
  readonly change: NewStates;
}

/** Appends the entry and judges the packs downstream; a recall has set their state itself. Returns the entry. */
const appendStatusEntry = (
  tx: WriteTransaction,
  context: WriteContext,
  houseContext: SugarhouseContext,
  parts: EntryParts,
): Promise<number> =>
  tx.append(statusEntry(context, houseContext, parts), async (sql) => {
    const { entryType, at, lot, downstream, change } = parts;
    if (entryType === 'recall') return [];
    const judging = {
      sql,
      sugarhouse: context.sugarhouse,
      houseContext,
      at,
      entryType,
      upstreamReleased: entryType === 'release',
      acceptedByRelease: { lot, findings: change.accepting ?? [] },
    };
    return judgeLots(judging, downstream);
  });

function statusEntry(context: WriteContext, houseContext: SugarhouseContext, parts: EntryParts): Entry {
  return {
    format: 1,
    sugarhouse: context.sugarhouse,
    entryType: parts.entryType,
    by: context.by,
    happenedAt: parts.at,
    typedAt: momentIn(houseContext.parseOptions.zone, context.now),
    author: context.author,
    key: parts.key,
    sent: parts.requestHash,
    // The lot itself first; holding a boil doesn't hold each pack by hand, so only the boil is named.
    about: parts.entryType === 'recall' ? [parts.lot, ...parts.downstream] : [parts.lot],
    judged: parts.change.judged,
    said: parts.change.said,
    why: parts.why,
    from: context.from,
  };
}
