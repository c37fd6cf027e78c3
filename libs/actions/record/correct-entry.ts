import { withArticle } from '#libs/format/with-article.js';
import type { Book } from '#libs/store/book.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { findRecord, type StoredRecord } from '#libs/store/queries/lots.js';
import { findEntry } from '#libs/store/log/log.js';
import type { WriteContext } from './write-context.js';
import { reasonTooLong } from './field-limits.js';
import { kindOfRecord } from '../kinds/registry.js';
import type { RecordInput } from './parsed-field.js';
import { type Refusal, invalid, refused, unknown } from './problem.js';
import { type Recorded, recordInTransaction } from './record.js';
import { lookUpLot } from './references.js';
import { supportingRecordKinds } from '../kinds/supporting-records.js';
import { type SugarhouseReader, sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/**
 * Corrects what an entry recorded: the named fields get new text (an empty one makes the field blank), the rest stay.
 * The old entry stays in the log, and the record's history shows both with the reason. `entry` is its number in the
 * log; a lot code means that lot's own record.
 */
export function correctEntry(
  book: Book,
  context: WriteContext,
  entry: string,
  why: string,
  changes: RecordInput,
): Promise<Recorded | Refusal> {
  return book.write(async (tx): Promise<Recorded | Refusal> => {
    if (why.trim() === '') return invalid('why', 'the reason for the correction, in words', 'nothing');
    const tooLong = reasonTooLong(why);
    if (tooLong) return invalid('why', tooLong.expected, tooLong.got);
    const saved = await findCorrectableRecord(sugarhouseReader(tx.sql, context.sugarhouse), entry);
    if ('problem' in saved) return saved;
    const kind = kindOfRecord(saved);
    if (!kind)
      return refused(
        'not-corrected',
        `Entry ${entry} is ${withArticle(saved.kind)}, which can’t be corrected: record a new one.`,
      );
    const named = Object.fromEntries(Object.entries(changes).map(([field, text]) => [toFieldName(field), text]));
    if (Object.keys(named).length === 0)
      return invalid('field', `a new value for one of the fields ${Object.keys(kind.fields).join(', ')}`, 'nothing');
    return recordInTransaction(tx, context, kind, { ...saved.typed, ...named }, { why, of: saved.id });
  });
}

/**
 * The record that a correction of `entry` changes: `entry` is its number in the log, a lot code, or a record's id. A
 * refusal where there is none.
 */
export async function findCorrectableRecord(reader: SugarhouseReader, entry: string): Promise<StoredRecord | Refusal> {
  const { sql, sugarhouse } = reader;
  if (/^\d{1,9}$/.test(entry)) {
    const found = await findEntry(sql, Number(entry));
    if (found?.sugarhouse === sugarhouse) {
      if (!found.record)
        return refused(
          'not-corrected',
          `Entry ${entry} is ${withArticle(found.entryType)}: record another one instead of correcting it.`,
        );
      const saved = await findRecord(reader, found.record.kind, found.record.id);
      if (saved) return saved;
    }
  }
  const lot = await lookUpLot(reader, entry);
  const own = lot && (await findRecord(reader, lot.kind, lot.code));
  if (own) return own;
  for (const kind of kindsById) {
    const named = await findRecord(reader, kind, entry);
    if (named) return named;
  }
  return unknown('entry', entry);
}

/** Kinds identified by an id of their own, in the order in which an id is looked up. */
export const kindsById: readonly RecordKind[] = [
  ...(['dispatch', 'count', 'spent', 'draw', 'action', 'answer'] as const),
  ...supportingRecordKinds.map(({ kind }) => kind),
];

/** fill_temps, fill-temps and fillTemps are the same field. */
const toFieldName = (field: string): string =>
  field.trim().replace(/[_-]([a-z])/g, (_, letter: string) => letter.toUpperCase());
