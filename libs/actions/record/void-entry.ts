import type { Book } from '#libs/store/book.js';
import { findEntry } from '#libs/store/log/log.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { voidedBy } from '#libs/store/queries/voided.js';
import type { VoidedRecord } from '#libs/records/entry.js';
import { kindsById } from './correct-entry.js';
import { invalid, type Refusal, unknown } from './problem.js';
import { lookUpLot } from './references.js';
import { voidableKinds, type Voided, voidRecordInTransaction } from './void-record.js';
import type { WriteContext } from './write-context.js';
import { type SugarhouseReader, sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/**
 * Records that what an entry recorded did not happen. `entry` is its number in the log, a lot code, or a record's id.
 * Refused for a record that others build on, or that a hold rule stopped (see `voidRecord`).
 */
export const voidEntry = (book: Book, context: WriteContext, entry: string, why: string): Promise<Voided | Refusal> =>
  book.write(async (tx): Promise<Voided | Refusal> => {
    if (entry.trim() === '')
      return invalid('entry', 'the number of an entry, a lot code or the id of a record', 'nothing');
    const record = await findVoidableRecord(sugarhouseReader(tx.sql, context.sugarhouse), entry);
    return record ? voidRecordInTransaction(tx, context, record.kind, record.id, why) : unknown('entry', entry);
  });

/**
 * The record that `entry` names: the number of its entry, a lot code, or its id. Also finds one that is already voided, so
 * that a repeated request gets the same response.
 */
export async function findVoidableRecord(reader: SugarhouseReader, entry: string): Promise<VoidedRecord | undefined> {
  const typed = entry.trim();
  if (typed === '') return undefined;
  const { sql, sugarhouse } = reader;
  if (/^[1-9]\d{0,8}$/.test(typed)) {
    const found = await findEntry(sql, Number(typed));
    if (found?.sugarhouse === sugarhouse && found.record) return { kind: found.record.kind, id: found.record.id };
  }
  const lot = await lookUpLot(reader, typed);
  if (lot) return { kind: lot.kind, id: lot.code };
  for (const kind of voidableKinds) if (await findRecord(reader, kind, typed)) return { kind, id: typed };
  // Of a kind that is corrected and not voided: it is found, and the refusal says so.
  for (const kind of kindsById) if (await findRecord(reader, kind, typed)) return { kind, id: typed };
  for (const kind of voidableKinds) if ((await voidedBy(reader, kind, typed)) !== undefined) return { kind, id: typed };
  return undefined;
}
