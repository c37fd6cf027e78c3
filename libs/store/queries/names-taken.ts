import type { RecordKind } from '#libs/records/record-types.js';
import { rowsInList } from '../connection/in-list.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

/** Which of these are the id, or the maker's own id, of a record of the kind. */
export async function namesTaken(
  { sql, sugarhouse }: SugarhouseReader,
  kind: RecordKind,
  names: readonly string[],
): Promise<string[]> {
  const taken: string[] = [];
  for (const column of ['id', 'own_id'] as const) {
    const text = `SELECT ${column} AS name FROM record WHERE sugarhouse = ? AND kind = ? AND ${column} IN (LIST)`;
    taken.push(...(await rowsInList<{ name: string }>(sql, text, [sugarhouse, kind], names)).map(({ name }) => name));
  }
  return taken;
}
