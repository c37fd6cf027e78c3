import { type StoredRecord, type RecordColumns, recordFrom } from './lots.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

/** Questions about lots that somebody answered with “yes”, oldest first. There are few, so they are read first. */
export async function answersYes({ sql, sugarhouse }: SugarhouseReader): Promise<StoredRecord<'answer'>[]> {
  const rows = await sql.rows<RecordColumns>`SELECT * FROM record
    WHERE sugarhouse = ${sugarhouse} AND kind = 'answer' AND lot IS NOT NULL AND body LIKE '%"answer":"yes"%'
    ORDER BY first_seq`;
  return rows.map((row) => recordFrom<'answer'>(row));
}
