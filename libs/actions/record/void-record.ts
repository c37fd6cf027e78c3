import { randomBytes } from 'node:crypto';
import type { RecordKind } from '#libs/records/record-types.js';
import type { Book } from '#libs/store/book.js';
import type { WriteTransaction } from '#libs/store/connection/write-transaction.js';
import { canonicalJson, hashOf } from '#libs/store/log/canonical.js';
import { findSent } from '#libs/store/log/log.js';
import { titleOf } from '#libs/syrup/rules/rules.js';
import { findLot, findRecord, type StoredRecord } from '#libs/store/queries/lots.js';
import { flowsInto, flowsOutOf } from '#libs/store/queries/trace.js';
import { recordsNaming, voidedBy } from '#libs/store/queries/voided.js';
import { kindByName } from '../kinds/registry.js';
import { judgeWithAffected } from '../lots/judge-lots.js';
import { affectedLots } from './affected-lots.js';
import { clockProblem } from './clock.js';
import { recordChangedSince } from './concurrency-check.js';
import { reasonTooLong } from './field-limits.js';
import { type Refusal, invalid, refused, unknown } from './problem.js';
import { momentIn } from './times.js';
import { loadSugarhouseContext, type WriteContext } from './write-context.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export interface Voided {
  readonly entry: number;
  readonly id: string;
  /** The lot that the record was about, where it was no lot itself. */
  readonly lot: string | undefined;
  readonly outcome: 'new' | 'again';
}

/** Kinds that may be voided. What holds, answers or releases a lot is superseded by another entry instead. */
export const voidable: readonly RecordKind[] = [
  ...(['gathering', 'receipt', 'boil', 'pack', 'line', 'draw', 'dispatch', 'count', 'spent'] as const),
  ...(['check', 'cleaning', 'filter'] as const),
];
/** Whether records of this kind can be voided; others are corrected. */
export const mayBeVoided = (kind: RecordKind): boolean => voidable.includes(kind);

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
): Promise<Voided | Refusal> => book.write((tx) => voidRecordOn(tx, context, kind, id, why));

/** Voids a record inside an open write transaction. A refusal where other records build on it. */
export async function voidRecordOn(
  tx: WriteTransaction,
  context: WriteContext,
  kindName: RecordKind,
  id: string,
  why: string,
): Promise<Voided | Refusal> {
  const { sugarhouse } = context;
  if (why.trim() === '') return invalid('why', 'why it did not happen, in words', 'nothing');
  const long = reasonTooLong(why);
  if (long) return invalid('why', long.expected, long.got);
  const sent = hashOf(canonicalJson({ deed: 'void', kind: kindName, id, why }));
  const key = context.key ?? `${context.author}:${randomBytes(16).toString('hex')}`;
  const before =
    context.key === undefined ? undefined : await findSent(sugarhouseReader(tx.sql, sugarhouse), context.author, key);
  if (before)
    return before.sent === sent
      ? { entry: before.seq, id, lot: before.about.find((lot) => lot !== id), outcome: 'again' }
      : { problem: { kind: 'key-used', entry: before.seq, by: before.by, at: before.typedAt } };
  const kind = kindByName.get(kindName);
  const saved = kind && (await findRecord(sugarhouseReader(tx.sql, sugarhouse), kindName, id));
  if (!kind || !saved) {
    const earlier = await voidedBy(sugarhouseReader(tx.sql, sugarhouse), kindName, id);
    return earlier === undefined
      ? unknown(kind?.noun ?? 'record', id)
      : refused('voided-already', `${id} was already voided, by entry ${earlier}.`);
  }
  const houseContext = await loadSugarhouseContext(tx.sql, context);
  const obstacle =
    (await clockProblem(tx.sql, context, houseContext)) ??
    (await recordChangedSince(tx.sql, context, saved)) ??
    (await whyNotVoidable(tx, sugarhouse, saved));
  if (obstacle) return obstacle;
  const isLot = (await findLot(sugarhouseReader(tx.sql, sugarhouse), saved.id)) !== undefined;
  const lots = [...new Set([...(isLot ? [saved.id] : []), ...(saved.lot === undefined ? [] : [saved.lot])])];
  const sources = isLot
    ? (await flowsInto(sugarhouseReader(tx.sql, sugarhouse), saved.id)).map(({ from }) => from)
    : [];
  const at = momentIn(houseContext.parseOptions.zone, context.now);
  const entry = await tx.append(
    {
      format: 1,
      sugarhouse,
      entryType: 'void',
      by: context.by,
      happenedAt: at,
      typedAt: at,
      author: context.author,
      key,
      sent,
      about: lots,
      voids: { kind: kindName, id: saved.id },
      corrects: saved.lastSeq,
      why,
      from: context.from,
    },
    async (sql) => {
      const asWritten = {
        id: saved.id,
        lot: saved.lot,
        body: saved.body,
        happenedAt: at,
        about: [],
        judge: [],
        notes: [],
      };
      const touched = await affectedLots({
        sql,
        sugarhouse,
        kind,
        prepared: asWritten,
        before: saved,
        voided: true,
      });
      const judging = { sql, sugarhouse, houseContext, at, entryType: 'void' as const };
      const own = lots.filter((code) => code !== saved.id || !isLot);
      const others = [...touched, ...sources].filter((code) => !own.includes(code) && code !== saved.id);
      return judgeWithAffected(judging, own, others);
    },
  );
  return { entry, id: saved.id, lot: saved.lot, outcome: 'new' };
}

/** Why a record can't be voided, in a sentence: its kind, records that build on it, or a hold rule that it broke. */
async function whyNotVoidable(
  tx: WriteTransaction,
  sugarhouse: string,
  saved: StoredRecord,
): Promise<Refusal | undefined> {
  if (!mayBeVoided(saved.kind))
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
    return refused('has-dependants', `${lot.code} went into ${listed(into)}: void what was made of it first.`);
  const naming = (await recordsNaming(sugarhouseReader(tx.sql, sugarhouse), lot.code)).map(
    ({ kind, id }) => `${kind} ${id}`,
  );
  if (naming.length > 0)
    return refused('has-dependants', `${lot.code} has records of its own (${listed(naming)}): void those first.`);
  const broken = lot.verdict?.findings.find(({ stop, rule }) => stop && !rule.endsWith('-not-read'));
  if (broken ?? lot.state === 'recalled')
    return refused(
      'hold-stays',
      `${lot.code} was ${lot.state === 'recalled' ? 'recalled' : `held by the rule “${titleOf(broken?.rule ?? '')}”`}: it can’t be voided. Correct it, record a corrective action, or record its jars as destroyed.`,
    );
  return undefined;
}

const listed = (names: readonly string[]): string =>
  names.length > 3 ? `${names.slice(0, 3).join(', ')} and ${names.length - 3} more` : names.join(', ');
