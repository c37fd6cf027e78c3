import { columnNames, indexTables, type IndexTable, stagedName } from '../projection/index-tables.js';
import type { Sql, SqlValue } from '../connection/sql.js';

/** Entries and index rows that were prepared on a copy, numbered as on the copy. */
export interface Staged {
  /** Their id in the staging tables: a time and a random part. */
  readonly batch: string;
  /** Entries of the book when the copy was made. */
  readonly copiedAt: number;
  readonly leaves: readonly string[];
  /** Whether one of its entries corrects another of them. */
  readonly namesItself: boolean;
  /** `HOUSE CODE` of each lot that it changes or names. */
  readonly lots: ReadonlySet<string>;
  /** `HOUSE KIND ID` of each record that it changes. */
  readonly records: ReadonlySet<string>;
  /** Keys of index rows that the new entries deleted, by table. */
  readonly gone: ReadonlyMap<IndexTable, readonly (readonly SqlValue[])[]>;
}

/** Tables that are only added to: an existing row was added by another write in the meantime. */
const addedOnly: ReadonlySet<string> = new Set(['jar', 'mention']);

/** Columns that hold an entry's sequence number. */
const places: ReadonlySet<string> = new Set(['first_seq', 'last_seq', 'seq']);

/**
 * Moves staged entries and rows into log and index in a few statements, whatever their number, inside the transaction
 * of `sql`. `entries` is the current length of the log: numbers assigned on the copy are raised by what was written
 * since.
 */
export async function moveIn(sql: Sql, { batch, copiedAt, gone }: Staged, entries: number): Promise<void> {
  const by = entries - copiedAt;
  for (const [table, keys] of gone) await removeRows(sql, table, keys);
  await sql.run`INSERT INTO entry (seq, sugarhouse, author, idempotency_key, sent, json, leaf)
    SELECT place + ${by}, sugarhouse, author, idempotency_key, sent, json, leaf FROM staged_entry WHERE batch = ${batch}`;
  for (const table of indexTables) {
    const columns = columnNames(table);
    const values = columns.map((column) =>
      places.has(column) ? `CASE WHEN ${column} > ${copiedAt} THEN ${column} + ${by} ELSE ${column} END` : column,
    );
    await sql.statement(
      `INSERT INTO ${table.name} (${columns.join(', ')})
       SELECT ${values.join(', ')} FROM ${stagedName(table)} WHERE batch = ${sql.engine === 'postgres' ? '$1' : '?'}${onConflict(table)}`,
      [batch],
    );
  }
}

function onConflict(table: IndexTable): string {
  if (addedOnly.has(table.name)) return '';
  const rest = columnNames(table).filter((column) => !table.key.includes(column));
  const change =
    rest.length === 0 ? 'NOTHING' : `UPDATE SET ${rest.map((column) => `${column} = excluded.${column}`).join(', ')}`;
  return ` ON CONFLICT (${table.key.join(', ')}) DO ${change}`;
}

async function removeRows(sql: Sql, table: IndexTable, keys: readonly (readonly SqlValue[])[]): Promise<void> {
  const placeholders = table.key.map((column, n) => `${column} = ${sql.engine === 'postgres' ? `$${n + 1}` : '?'}`);
  for (const key of keys) await sql.statement(`DELETE FROM ${table.name} WHERE ${placeholders.join(' AND ')}`, key);
}

/** Removes one batch of a staging table, and those that a killed process left more than a day ago. */
export async function removeStaged(sql: Sql, name: string, batch: string, aDayAgo: string): Promise<void> {
  const placeholders = sql.engine === 'postgres' ? ['$1', '$2'] : ['?', '?'];
  await sql.statement(`DELETE FROM ${name} WHERE batch = ${placeholders[0]} OR batch < ${placeholders[1]}`, [
    batch,
    aDayAgo,
  ]);
}
