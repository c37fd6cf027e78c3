import { attachmentTable, householdTables } from './copy-book.js';
import { indexTables, stagedNames } from '../projection/index-tables.js';
import type { Sql } from '../connection/sql.js';

/** A trigger, view or table that this program did not make: it could change data as it is written. */
export async function unexpectedObject(sql: Sql): Promise<string | undefined> {
  const known = new Set([
    'migrations',
    'record_head',
    'entry',
    ...householdTables,
    attachmentTable,
    ...indexTables.map(({ name }) => name),
    ...stagedNames(),
  ]);
  const found =
    sql.engine === 'sqlite'
      ? await sql.rows<Found>`SELECT type AS kind, name, tbl_name AS tab FROM sqlite_master ORDER BY name`
      : await sql.rows<Found>`SELECT 'trigger' AS kind, trigger_name AS name, event_object_table AS tab
          FROM information_schema.triggers WHERE trigger_schema = current_schema()
          UNION ALL SELECT 'view', table_name, table_name FROM information_schema.views WHERE table_schema = current_schema()`;
  const strange = found.find(({ kind, name, tab }) => {
    if (name.startsWith('sqlite_')) return false;
    return kind === 'trigger' || kind === 'view' || !known.has(tab);
  });
  return strange && `${strange.kind} ${strange.name}: it is not of this program`;
}

interface Found {
  readonly kind: string;
  readonly name: string;
  readonly tab: string;
}
