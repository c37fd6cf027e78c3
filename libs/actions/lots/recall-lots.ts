import type { Book } from '#libs/store/book.js';
import type { WriteTransaction } from '#libs/store/connection/write-transaction.js';
import { findSent } from '#libs/store/log/log.js';
import { refuseIfChanged } from '../record/concurrency-check.js';
import type { WriteContext } from '../record/write-context.js';
import { type Refusal, unknown } from '../record/problem.js';
import { noRecallNotes, recallNotesFault, formatRecallNotes, type RecallNotes } from '../recall/recall-notes.js';
import { lookUpLot } from '../record/references.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import {
  changeStatus,
  changeStatusInTransaction,
  type DecideStates,
  type StatusChanged,
  type StatusRequest,
} from './change-status.js';

/** Recalls a lot and everything its syrup went into. A recall is final. */
export async function recallLot(
  book: Book,
  context: WriteContext,
  code: string,
  why: string,
  notes = noRecallNotes,
): Promise<StatusChanged | Refusal> {
  const fault = recallNotesFault(notes);
  return fault ?? changeStatus(book, context, recallRequest(code, why, notes));
}

/**
 * Recalls several lots, each with its own entry, all in one write: refusing one recalls none. Each has its own key too,
 * so a repeated request recalls each once.
 */
export function recallLots(
  book: Book,
  context: WriteContext,
  codes: readonly string[],
  why: string,
  notes = noRecallNotes,
): Promise<{ readonly marked: readonly StatusChanged[] } | Refusal> {
  const fault = recallNotesFault(notes);
  if (fault) return Promise.resolve(fault);
  return book.write(async (tx) => {
    // Every lot is checked for newer entries before any is written, since the first recall would count as a newer entry
    // for the second.
    for (const code of codes) {
      const lot = await lookUpLot(sugarhouseReader(tx.sql, context.sugarhouse), code);
      if (!lot) return unknown('lot', code);
      const changed = (await findRepeated(tx, withLotKey(context, code)))
        ? undefined
        : await refuseIfChanged(tx.sql, context, lot.code);
      if (changed) return changed;
    }
    const marked: StatusChanged[] = [];
    for (const code of codes) {
      const done = await changeStatusInTransaction(
        tx,
        { ...withLotKey(context, code), seen: undefined },
        recallRequest(code, why, notes),
      );
      if ('problem' in done) return done;
      marked.push(done);
    }
    return { marked };
  });
}

const recallRequest = (lot: string, why: string, notes: RecallNotes): StatusRequest => ({
  lot,
  why,
  entryType: 'recall',
  decide: decideRecall(notes),
  fields: formatRecallNotes(notes),
});

/** Each lot has its own key, so that a repeated request finds each entry again. */
const withLotKey = (context: WriteContext, code: string): WriteContext =>
  context.key === undefined ? context : { ...context, key: `${context.key}:${code}` };
const findRepeated = async (tx: WriteTransaction, context: WriteContext) =>
  context.key !== undefined &&
  (await findSent(sugarhouseReader(tx.sql, context.sugarhouse), context.author, context.key));

const decideRecall =
  (notes: RecallNotes): DecideStates =>
  ({ lot, packs }) =>
    Promise.resolve({
      said: formatRecallNotes(notes),
      judged: [lot, ...packs.filter((pack) => pack.code !== lot.code)]
        .filter((each) => each.state !== 'recalled')
        .map((each) => ({ lot: each.code, state: 'recalled' as const, heldSince: each.heldSince })),
    });
