import type { Entry, NumberedEntry } from '#libs/records/entry.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { findRecord } from '../queries/lots.js';
import type { Sql } from '../connection/sql.js';

/** Every entry that made a record what it is, oldest first: the first one and its corrections, back along `corrects`. */
export async function entriesOfRecord(
  sql: Sql,
  sugarhouse: string,
  kind: RecordKind,
  id: string,
): Promise<NumberedEntry[]> {
  const entries: NumberedEntry[] = [];
  for (let seq = (await findRecord(sql, sugarhouse, kind, id))?.lastSeq; seq !== undefined;) {
    const row = await sql.row<{ json: string }>`SELECT json FROM entry WHERE seq = ${seq}`;
    if (!row) break;
    const entry = JSON.parse(row.json) as Entry;
    entries.unshift({ ...entry, seq });
    seq = entry.corrects;
  }
  return entries;
}
