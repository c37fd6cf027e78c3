import { withArticle } from '#libs/format/with-article.js';
import type { Book } from '#libs/store/book.js';
import type { WriteTransaction } from '#libs/store/connection/write-transaction.js';
import { findEntry, findSent } from '#libs/store/log/log.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { kindOfRecord } from '../kinds/registry.js';
import { type Refusal, refused, unknown } from './problem.js';
import { recordInTransaction } from './record.js';
import { storedFields } from './stored-fields.js';
import { isVoidable, voidRecordInTransaction } from './void-record.js';
import type { WriteContext } from './write-context.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export interface Undone {
  readonly entry: number;
  /** Whether a whole record was voided; otherwise an addition to one was reverted. */
  readonly voided: boolean;
  readonly id: string;
  readonly lot: string | undefined;
}

/** How long an entry's writer may undo it without the right to correct. */
export const undoMinutes = 15;

/**
 * Reverts the last entry of a record by a new entry: a new record is voided, an addition or correction is corrected to
 * the former value. A hold that it removes stays until a maker releases the lot.
 */
export const undoEntry = (book: Book, context: WriteContext, seq: number): Promise<Undone | Refusal> =>
  book.write((tx) => undoEntryInTransaction(tx, context, seq));

/** Reverts the entries of one save, such as the dispatches of a tray: all of them, newest first, or none. */
export const undoEntries = (
  book: Book,
  context: WriteContext,
  seqs: readonly number[],
): Promise<readonly Undone[] | Refusal> =>
  book.write(async (tx): Promise<readonly Undone[] | Refusal> => {
    const all: Undone[] = [];
    for (const seq of [...seqs].sort((one, other) => other - one)) {
      const key = seqs.length > 1 && context.key !== undefined ? { key: `${context.key}:${seq}` } : {};
      const done = await undoEntryInTransaction(tx, { ...context, ...key }, seq);
      if ('problem' in done) return done;
      all.push(done);
    }
    return all;
  });

async function undoEntryInTransaction(
  tx: WriteTransaction,
  context: WriteContext,
  seq: number,
): Promise<Undone | Refusal> {
  const entry = await findEntry(tx.sql, seq);
  if (!entry || entry.sugarhouse !== context.sugarhouse) return unknown('entry', String(seq));
  const { record } = entry;
  if (!record || !['record', 'add', 'correct'].includes(entry.entryType))
    return refused(
      'not-undone',
      `Entry ${seq} is ${withArticle(entry.entryType)}: record another entry instead of undoing it.`,
    );
  const reader = sugarhouseReader(tx.sql, context.sugarhouse);
  const saved = await findRecord(reader, record.kind, record.id);
  if (!saved) {
    // The same request again, because its response was lost.
    const before = context.key === undefined ? undefined : await findSent(reader, context.author, context.key);
    if (before?.voids?.id === record.id) return { entry: before.seq, voided: true, id: record.id, lot: undefined };
    return refused('not-undone', `${record.id} was already voided.`);
  }
  if (saved.lastSeq !== seq)
    return refused('not-undone', `Entry ${saved.lastSeq} changed ${record.id} after entry ${seq}: correct it instead.`);
  const why = `Undone: entry ${seq}`;
  const prior = entry.corrects === undefined ? undefined : (await findEntry(tx.sql, entry.corrects))?.record;
  if (!prior) {
    const voided = await voidRecordInTransaction(tx, context, record.kind, record.id, why);
    return 'problem' in voided ? voided : { entry: voided.entry, voided: true, id: record.id, lot: saved.lot };
  }
  const kind = kindOfRecord(prior);
  if (!kind)
    return refused('not-undone', `Entry ${seq} is ${withArticle(record.kind)}, which can’t be undone: record another.`);
  const blank = Object.fromEntries(Object.keys(saved.typed).map((name) => [name, '']));
  const done = await recordInTransaction(
    tx,
    context,
    kind,
    { ...blank, ...storedFields(kind.fields, prior) },
    { why, of: record.id },
  );
  return 'problem' in done ? done : { entry: done.entry, voided: false, id: record.id, lot: saved.lot ?? saved.id };
}

/** Whether an entry of this kind can be undone; decides whether the page shows the button. */
export const isUndoable = (outcome: string, kind: Parameters<typeof isVoidable>[0]): boolean =>
  outcome === 'added' || outcome === 'corrected' || (outcome === 'new' && isVoidable(kind));
