import { type StoredRecord, type RecordColumns, recordFrom } from './lots.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

/** Complaints and actions that report mouldy jars. There are few, so they are read first. */
export async function mouldyRecords({
  sql,
  sugarhouse,
}: SugarhouseReader): Promise<StoredRecord<'complaint' | 'action'>[]> {
  const rows = await sql.rows<RecordColumns>`SELECT * FROM record
    WHERE sugarhouse = ${sugarhouse} AND kind IN ('complaint', 'action') AND lot IS NOT NULL
      AND (body LIKE '%"mould":"yes"%' OR body LIKE '%"jarsMouldy":%')
    ORDER BY first_seq`;
  return rows.map((row) => recordFrom<'complaint' | 'action'>(row));
}
