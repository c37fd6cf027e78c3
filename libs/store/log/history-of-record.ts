import type { NumberedEntry } from '#libs/records/entry.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { findRecord } from '../queries/lots.js';
import { voidedBy } from '../queries/voided.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';
import { numberedEntry } from './entry-json.js';

/**
 * Every entry of a record, oldest first: the first one and its corrections, found backwards along `corrects`. For a
 * voided record the voiding entry is the last.
 */
export async function entriesOfRecord(
  reader: SugarhouseReader,
  kind: RecordKind,
  id: string,
): Promise<NumberedEntry[]> {
  const { sql } = reader;
  const entries: NumberedEntry[] = [];
  const last = (await findRecord(reader, kind, id))?.lastSeq ?? (await voidedBy(reader, kind, id));
  for (let seq = last; seq !== undefined;) {
    const row = await sql.row<{ json: string }>`SELECT json FROM entry WHERE seq = ${seq}`;
    if (!row) break;
    const entry = numberedEntry({ seq, json: row.json });
    entries.unshift(entry);
    seq = entry.corrects;
  }
  return entries;
}
