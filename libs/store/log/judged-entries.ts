import type { NumberedEntry } from '#libs/records/entry.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';
import { numberedEntry } from './entry-json.js';

/**
 * Entries from number `since` in which any lot was judged, held, released or recalled, oldest first. A check of an
 * instrument or a boil upstream judges packs that its entry does not name, so a lot's own history lacks some of its
 * findings.
 */
export async function judgedEntries({ sql, sugarhouse }: SugarhouseReader, since: number): Promise<NumberedEntry[]> {
  const rows = await sql.rows<{ seq: number; json: string }>`SELECT seq, json FROM entry
    WHERE sugarhouse = ${sugarhouse} AND seq >= ${since} AND json LIKE '%"judged":[%' ORDER BY seq`;
  return rows.map(numberedEntry);
}
