import { columnNames, indexTables, type IndexTable, stagedName } from '../projection/index-tables.js';
import type { Sql, SqlValue } from '../connection/sql.js';

/** Where the rows to move in are read from: what follows FROM, and the values of its placeholders. */
export interface RowSource {
  readonly entries: string;
  readonly rows: (table: IndexTable) => string;
  readonly values: readonly SqlValue[];
}

/** The rows of one batch in the staging tables of PostgreSQL. */
export const stagedUnder = (batch: string): RowSource => ({
  entries: '(SELECT * FROM staged_entry WHERE batch = $1) AS staged',
  rows: (table) => `(SELECT * FROM ${stagedName(table)} WHERE batch = $1) AS staged`,
  values: [batch],
});

/** The new entries and changed rows of a scratch book whose file is attached as `scratch`. */
export const attachedScratch = (copiedAt: number): RowSource => ({
  entries: `(SELECT seq AS place, * FROM scratch.entry WHERE seq > ${copiedAt}) AS staged`,
  rows: (table) => `(SELECT own.* FROM scratch.changed_${table.name} AS changed CROSS JOIN scratch.${table.name} AS own
     WHERE ${table.key.map((column) => `own.${column} = changed.${column}`).join(' AND ')}) AS staged`,
  values: [],
});

/** Entries and index rows that were prepared on a copy, numbered as on the copy. */
export interface Staged {
  readonly source: RowSource;
  /** Entries of the book when the copy was made. */
  readonly copiedAt: number;
  readonly leaves: readonly string[];
  /** What it concerns, read from the copy when first asked: only entries written meanwhile are compared with it. */
  readonly concerns: () => Promise<StagedConcerns>;
  /** Keys of index rows that the new entries deleted, by table. */
  readonly gone: ReadonlyMap<IndexTable, readonly (readonly SqlValue[])[]>;
}

export interface StagedConcerns {
  /** Whether one of its entries corrects another of them. */
  readonly namesItself: boolean;
  /** `HOUSE CODE` of each lot that it changes or names. */
  readonly lots: ReadonlySet<string>;
  /** `HOUSE KIND ID` of each record that it changes. */
  readonly records: ReadonlySet<string>;
}

/** Tables that are only added to: an existing row was added by another write in the meantime. */
const addedOnly: ReadonlySet<string> = new Set(['jar', 'lot_entry']);

/** Columns that hold an entry's sequence number. */
const places: ReadonlySet<string> = new Set(['first_seq', 'last_seq', 'seq']);

/**
 * Moves staged entries and rows into log and index in a few statements, whatever their number, inside the transaction
 * of `sql`. `entries` is the current length of the log: numbers assigned on the copy are raised by what was written
 * since.
 */
export async function moveIn(sql: Sql, { source, copiedAt, gone }: Staged, entries: number): Promise<void> {
  const by = entries - copiedAt;
  for (const [table, keys] of gone) await removeRows(sql, table, keys);
  const columns = 'sugarhouse, author, idempotency_key, sent, json, leaf';
  await sql.statement(
    `INSERT INTO entry (seq, ${columns}) SELECT place + ${by}, ${columns} FROM ${source.entries}`,
    source.values,
  );
  for (const table of indexTables) {
    const names = columnNames(table);
    const values = names.map((column) =>
      places.has(column) ? `CASE WHEN ${column} > ${copiedAt} THEN ${column} + ${by} ELSE ${column} END` : column,
    );
    // SQLite takes an ON after a SELECT without WHERE for that of a join.
    await sql.statement(
      `INSERT INTO ${table.name} (${names.join(', ')})
       SELECT ${values.join(', ')} FROM ${source.rows(table)} WHERE true${onConflict(table)}`,
      source.values,
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

/** Removes one batch of a staging table of PostgreSQL, and those that a killed process left more than a day ago. */
export async function removeStaged(sql: Sql, name: string, batch: string, aDayAgo: string): Promise<void> {
  await sql.statement(`DELETE FROM ${name} WHERE batch = $1 OR batch < $2`, [batch, aDayAgo]);
}
