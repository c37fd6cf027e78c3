import { randomBytes } from 'node:crypto';
import type { Book } from '#libs/store/book.js';
import type { WriteTransaction } from '#libs/store/connection/write-transaction.js';
import { canonicalJson, hashOf } from '#libs/store/log/canonical.js';
import type { EntryType, Entry, Judged } from '#libs/records/entry.js';
import { findSent } from '#libs/store/log/log.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { lotsDownstream, ofKind } from '#libs/store/queries/trace.js';
import type { AcceptedFinding } from '#libs/syrup/rules/accept-findings.js';
import { changedSince } from '../record/concurrency-check.js';
import { clockProblem } from '../record/clock.js';
import { type WriteContext, type SugarhouseContext, loadSugarhouseContext } from '../record/write-context.js';
import { reasonTooLong } from '../record/field-limits.js';
import { judgeLots } from './judge-lots.js';
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

/** What else was sent with the reason: the same key with other values is another release. */
type RequestFields = Readonly<Record<string, string>>;

/** Checks the reason, key, clock and concurrent changes, then appends the entry and judges the packs downstream. */
export const changeStatus = (
  book: Book,
  context: WriteContext,
  typed: string,
  why: string,
  entryType: StatusChange,
  decide: DecideStates,
  requestFields: RequestFields = {},
) => book.write((tx) => changeStatusOn(tx, context, typed, why, entryType, decide, requestFields));

/** The same inside an open write transaction. */
export async function changeStatusOn(
  tx: WriteTransaction,
  context: WriteContext,
  typed: string,
  why: string,
  entryType: StatusChange,
  decide: DecideStates,
  requestFields: RequestFields = {},
): Promise<StatusChanged | Refusal> {
  if (why.trim() === '') return invalid('why', 'the reason, in words', 'nothing');
  const tooLong = reasonTooLong(why);
  if (tooLong) return invalid('why', tooLong.expected, tooLong.got);
  const lot = await lookUpLot(sugarhouseReader(tx.sql, context.sugarhouse), typed);
  if (!lot) return unknown('lot', typed);
  // `deed` is the stored name of an entry's type: hashes kept on phones and in the log were made with it.
  const sent = hashOf(canonicalJson({ deed: entryType, lot: lot.code, why, ...requestFields }));
  const key = context.key ?? `${context.author}:${randomBytes(16).toString('hex')}`;
  const before =
    context.key === undefined
      ? undefined
      : await findSent(sugarhouseReader(tx.sql, context.sugarhouse), context.author, key);
  const packs = ofKind(await lotsDownstream(sugarhouseReader(tx.sql, context.sugarhouse), lot.code), 'pack');
  if (before)
    return before.sent === sent
      ? { entry: before.seq, lot: lot.code, packs: codesOf(packs, before.about), outcome: 'again' }
      : { problem: { kind: 'key-used', entry: before.seq, by: before.by, at: before.typedAt } };

  const houseContext = await loadSugarhouseContext(tx.sql, context);
  const clock = await clockProblem(tx.sql, context, houseContext);
  if (clock) return clock;
  const changed = await changedSince(tx.sql, context, lot.code);
  if (changed) return changed;
  const at = momentIn(houseContext.parseOptions.zone, context.now);
  const change = await decide({ tx, houseContext, lot, packs, at });
  if ('problem' in change) return change;
  const { judged, said, accepting = [] } = change;
  if (judged.length === 0) return { entry: lot.lastSeq, lot: lot.code, packs: [], outcome: 'same' };
  const downstream = packs.map((pack) => pack.code).filter((pack) => pack !== lot.code);
  const entry = await tx.append(
    statusEntry(context, houseContext, {
      entryType,
      at,
      key,
      sent,
      why,
      about: [lot.code, ...downstream],
      judged,
      said,
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
              acceptedByRelease: { lot: lot.code, findings: accepting },
            },
            downstream,
          ),
  );
  return { entry, lot: lot.code, packs: codesOf(packs), outcome: 'new' };
}

/** Their codes; of those that an entry is about where it is given. */
const codesOf = (lots: readonly Lot[], about?: readonly string[]): string[] =>
  lots.map(({ code }) => code).filter((code) => !about || about.includes(code));

interface EntryParts {
  readonly entryType: EntryType;
  readonly at: string;
  readonly key: string;
  readonly sent: string;
  readonly why: string;
  readonly about: readonly string[];
  readonly judged: readonly Judged[];
  readonly said: Entry['said'];
}

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
    sent: parts.sent,
    // The lot itself first; holding a boil doesn't hold each pack by hand, so only the boil is named.
    about: parts.entryType === 'recall' ? parts.about : parts.about.slice(0, 1),
    judged: parts.judged,
    said: parts.said,
    why: parts.why,
    from: context.from,
  };
}
