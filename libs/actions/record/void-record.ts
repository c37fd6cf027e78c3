import { randomBytes } from 'node:crypto';
import { utcOf } from '#libs/store/connection/instants.js';
import type { Entry } from '#libs/records/entry.js';
import type { Kind } from './kind.js';
import type { RecordKind } from '#libs/records/record-types.js';
import type { Book } from '#libs/store/book.js';
import type { WriteTransaction } from '#libs/store/connection/write-transaction.js';
import { requestHashOf } from '#libs/store/log/entry-json.js';
import { findSent } from '#libs/store/log/log.js';
import { missingFromRecord, ruleTitle } from '#libs/syrup/rules/rules.js';
import { findLot, findRecord, type StoredRecord } from '#libs/store/queries/lots.js';
import { flowsInto, flowsOutOf } from '#libs/store/queries/trace.js';
import { recordsNaming, voidedBy } from '#libs/store/queries/voided.js';
import { kindByName } from '../kinds/registry.js';
import { judgeWithAffected } from '../judging/judge-lots.js';
import { affectedLots } from './affected-lots.js';
import { refuseWrongClock } from './clock.js';
import { refuseIfRecordChanged } from './concurrency-check.js';
import { reasonTooLong } from './field-limits.js';
import { type Refusal, invalid, refused, unknown } from './problem.js';
import { momentIn } from './times.js';
import { loadSugarhouseContext, type SugarhouseContext, type WriteContext } from './write-context.js';
import { type SugarhouseReader, sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export interface Voided {
  readonly entry: number;
  readonly id: string;
  /** The lot that the record was about, where it was no lot itself. */
  readonly lot: string | undefined;
  readonly outcome: 'new' | 'again';
}

/**
 * Kinds that may be voided. What holds, answers or releases a lot is superseded by another entry instead. Without a
 * corrective action its lot is judged by what was there before: a hold that it cleared is back, one that it brought
 * waits for a release.
 */
export const voidableKinds: readonly RecordKind[] = [
  ...(['gathering', 'receipt', 'boil', 'pack', 'line', 'draw', 'dispatch', 'count', 'spent'] as const),
  ...(['action', 'check', 'cleaning', 'filter'] as const),
];
/** Whether records of this kind can be voided; others are corrected. */
export const isVoidable = (kind: RecordKind): boolean => voidableKinds.includes(kind);

/**
 * Records that something did not happen: a dispatch, a boil begun by mistake, a double entry. The record and this entry
 * stay in the log; lists, sums and diagrams leave the record out. A hold that it removes stays until a maker releases
 * the lot.
 */
export const voidRecord = (
  book: Book,
  context: WriteContext,
  kind: RecordKind,
  id: string,
  why: string,
): Promise<Voided | Refusal> => book.write((tx) => voidRecordInTransaction(tx, context, kind, id, why));

/** Voids a record inside an open write transaction. A refusal where other records build on it. */
export async function voidRecordInTransaction(
  tx: WriteTransaction,
  context: WriteContext,
  kindName: RecordKind,
  id: string,
  why: string,
): Promise<Voided | Refusal> {
  const reader = sugarhouseReader(tx.sql, context.sugarhouse);
  if (why.trim() === '') return invalid('why', 'why it did not happen, in words', 'nothing');
  const tooLong = reasonTooLong(why);
  if (tooLong) return invalid('why', tooLong.expected, tooLong.got);
  const requestHash = requestHashOf('void', { kind: kindName, id, why });
  const key = context.key ?? `${context.author}:${randomBytes(16).toString('hex')}`;
  const before = context.key === undefined ? undefined : await findSent(reader, context.author, key);
  if (before)
    return before.sent === requestHash
      ? { entry: before.seq, id, lot: before.about.find((lot) => lot !== id), outcome: 'again' }
      : { problem: { kind: 'key-used', entry: before.seq, by: before.by, at: before.typedAt } };
  const kind = kindByName.get(kindName);
  const saved = kind && (await findRecord(reader, kindName, id));
  if (!kind || !saved) return refuseMissing(reader, kindName, id);
  const houseContext = await loadSugarhouseContext(tx.sql, context);
  const refusal =
    (await refuseWrongClock(tx.sql, context, houseContext)) ??
    (await refuseIfRecordChanged(tx.sql, context, saved)) ??
    (await refuseVoiding(tx, context.sugarhouse, saved));
  if (refusal) return refusal;
  const entry = await appendVoidEntry(tx, { context, houseContext, kind, saved, why, key, requestHash });
  return { entry, id: saved.id, lot: saved.lot, outcome: 'new' };
}

/** Refuses an id that no record of the kind has, or whose record was voided before. */
async function refuseMissing(reader: SugarhouseReader, kind: RecordKind, id: string): Promise<Refusal> {
  const earlier = await voidedBy(reader, kind, id);
  return earlier === undefined
    ? unknown(kindByName.get(kind)?.noun ?? 'record', id)
    : refused('voided-already', `${id} was already voided, by entry ${earlier}.`);
}

interface VoidRequest {
  readonly context: WriteContext;
  readonly houseContext: SugarhouseContext;
  readonly kind: Kind;
  readonly saved: StoredRecord;
  readonly why: string;
  readonly key: string;
  readonly requestHash: string;
}

/** Appends the entry and judges the record's lot, its sources and other lots that it affected; returns the entry. */
async function appendVoidEntry(
  tx: WriteTransaction,
  { context, houseContext, kind, saved, why, key, requestHash }: VoidRequest,
): Promise<number> {
  const { sugarhouse } = context;
  const reader = sugarhouseReader(tx.sql, sugarhouse);
  const isLot = (await findLot(reader, saved.id)) !== undefined;
  const lots = [...new Set([...(isLot ? [saved.id] : []), ...(saved.lot === undefined ? [] : [saved.lot])])];
  const sources = isLot ? (await flowsInto(reader, saved.id)).map(({ from }) => from) : [];
  const at = momentIn(houseContext.parseOptions.zone, context.now);
  const entry: Entry = {
    format: 1,
    sugarhouse,
    entryType: 'void',
    by: context.by,
    happenedAt: at,
    typedAt: at,
    author: context.author,
    key,
    sent: requestHash,
    about: lots,
    voids: { kind: saved.kind, id: saved.id },
    corrects: saved.lastSeq,
    why,
    from: context.from,
  };
  return tx.append(entry, async (sql) => {
    const { id, lot, body } = saved;
    const prepared = { id, lot, body, happenedAt: at, about: [], judge: [], notes: [] };
    const affected = await affectedLots({
      sql,
      sugarhouse,
      kind,
      prepared,
      before: saved,
      nowUtc: utcOf(context.now),
      voided: true,
    });
    const judging = { sql, sugarhouse, houseContext, at, entryType: 'void' as const };
    const ownLots = lots.filter((code) => code !== saved.id || !isLot);
    const others = [...affected, ...sources].filter((code) => !ownLots.includes(code) && code !== saved.id);
    return judgeWithAffected(judging, ownLots, others);
  });
}

/** Why a record can't be voided, in a sentence: its kind, records that build on it, or a hold rule that it broke. */
async function refuseVoiding(
  tx: WriteTransaction,
  sugarhouse: string,
  saved: StoredRecord,
): Promise<Refusal | undefined> {
  if (!isVoidable(saved.kind))
    return refused(
      'not-voided',
      `A record of the kind ${saved.kind} can’t be voided: correct it, or add another record.`,
    );
  const lot = await findLot(sugarhouseReader(tx.sql, sugarhouse), saved.id);
  if (lot?.kind !== saved.kind) return undefined;
  const into = [
    ...new Set((await flowsOutOf(sugarhouseReader(tx.sql, sugarhouse), lot.code)).map((flow) => flow.into)),
  ];
  if (into.length > 0)
    return refused('has-dependants', `${lot.code} went into ${firstThree(into)}: void what was made of it first.`);
  const naming = (await recordsNaming(sugarhouseReader(tx.sql, sugarhouse), lot.code)).map(
    ({ kind, id }) => `${kind} ${id}`,
  );
  if (naming.length > 0)
    return refused('has-dependants', `${lot.code} has records of its own (${firstThree(naming)}): void those first.`);
  const broken = lot.verdict?.findings.find(({ stop, rule }) => stop && missingFromRecord(rule) !== 'reading');
  if (broken ?? lot.state === 'recalled')
    return refused(
      'hold-stays',
      `${lot.code} was ${lot.state === 'recalled' ? 'recalled' : `held by the rule “${ruleTitle(broken?.rule ?? '')}”`}: it can’t be voided. Correct it, record a corrective action, or record its jars as destroyed.`,
    );
  return undefined;
}

const firstThree = (names: readonly string[]): string =>
  names.length > 3 ? `${names.slice(0, 3).join(', ')} and ${names.length - 3} more` : names.join(', ');
