import { columnName, indexTables } from '../projection/index-tables.js';
import { rowsInList } from './in-list.js';
import type { Row, Sql, SqlValue } from './sql.js';

/** A row's key but for its last column: the house of a lot, the house and the kind of a record. */
export type KeyStart = { readonly table: 'lot'; readonly sugarhouse: string } | RecordStart;
interface RecordStart {
  readonly table: 'record';
  readonly sugarhouse: string;
  readonly kind: string;
}
export type KeyedTable = KeyStart['table'];

/** Rows of lots and records, which a write transaction knows by their keys, there or not, and writes some at a time. */
export interface KeyedRows {
  /** The row of a key, or an empty list where there is none; undefined where that has to be read. */
  known(start: KeyStart, last: string): readonly Row[] | undefined;
  read(start: KeyStart, last: readonly string[]): Promise<Row[]>;
  put(table: KeyedTable, row: Row, stays: readonly string[]): Promise<void>;
  change(start: KeyStart, last: string, columns: Row): Promise<void>;
  /** How many records there are of a kind. */
  count(start: RecordStart): Promise<number>;
}

/** Rows by their keys, of which `last` holds the last column: codes of lots, ids of records; in any order. */
export const rowsByKey = <T>(sql: Sql, start: KeyStart, last: readonly string[]): Promise<T[]> =>
  (sql.keyed ? sql.keyed.read(start, last) : readRows(sql, start, last)) as Promise<T[]>;

/** The row of one key; undefined where there is none. A write knows most of them, and is asked for them most often. */
export async function rowByKey<T>(sql: Sql, start: KeyStart, last: string): Promise<T | undefined> {
  const [row] = sql.keyed?.known(start, last) ?? (await rowsByKey<Row>(sql, start, [last]));
  return row as T | undefined;
}

/** Writes a row. Where there is one of its key, the columns that `stays` names stay as they are. */
export const putRow = (sql: Sql, table: KeyedTable, row: Row, stays: readonly string[]): Promise<void> =>
  sql.keyed ? sql.keyed.put(table, row, stays) : writeRows(sql, table, [row], stays);

/** Changes columns of the row of this key; nothing where there is none. */
export const changeRow = (sql: Sql, start: KeyStart, last: string, columns: Row): Promise<void> =>
  sql.keyed ? sql.keyed.change(start, last, columns) : updateRow(sql, start, last, columns);

/** How many records there are of a kind; a write counts on from what it has read. */
export const countOfKind = (sql: Sql, start: RecordStart): Promise<number> =>
  sql.keyed ? sql.keyed.count(start) : countRows(sql, start);

/** `countOfKind`, asked of the connection in any case. */
export async function countRows(sql: Sql, { sugarhouse, kind }: RecordStart): Promise<number> {
  const row = await sql.row<{ n: number | string }>`SELECT COUNT(*) AS n FROM record
    WHERE sugarhouse = ${sugarhouse} AND kind = ${kind}`;
  return Number(row?.n ?? 0);
}

/** `rowsByKey`, asked of the connection in any case. */
export function readRows(sql: Sql, start: KeyStart, last: readonly string[]): Promise<Row[]> {
  const [one] = last.length === 1 ? last : [];
  const { sugarhouse } = start;
  if (start.table === 'lot') {
    if (one !== undefined) return sql.rows`SELECT * FROM lot WHERE sugarhouse = ${sugarhouse} AND code = ${one}`;
    return rowsOfKeys(sql, 'SELECT * FROM lot WHERE sugarhouse = ? AND code IN (LIST)', [sugarhouse], last);
  }
  const { kind } = start;
  if (one !== undefined)
    return sql.rows`SELECT * FROM record WHERE sugarhouse = ${sugarhouse} AND kind = ${kind} AND id = ${one}`;
  const several = 'SELECT * FROM record WHERE sugarhouse = ? AND kind = ? AND id IN (LIST)';
  return rowsOfKeys(sql, several, [sugarhouse, kind], last);
}

/** `rowsInList`; SQLite gets the list as one value, so that the text is the same for any length and prepared once. */
function rowsOfKeys(sql: Sql, text: string, before: readonly string[], last: readonly string[]): Promise<Row[]> {
  if (sql.engine === 'postgres' || last.length === 0) return rowsInList(sql, text, before, last);
  const filled = text.replace('(LIST)', '(SELECT value FROM json_each(?))');
  return sql.statement(filled, [...before, JSON.stringify(last)]);
}

/** `putRow` of several rows in one statement; no two may have the same key. */
export async function writeRows(
  sql: Sql,
  table: KeyedTable,
  rows: readonly Row[],
  stays: readonly string[],
): Promise<void> {
  const { key } = tableOf(table);
  const columns = columnsOf(table);
  const changes = columns.filter((column) => !key.includes(column) && !stays.includes(column)).map(columnName);
  await sql.insert(
    table,
    columns.map(columnName),
    rows.map((row) => columns.map((column) => row[column] ?? null)),
    `ON CONFLICT (${key.join(', ')}) DO UPDATE SET ${changes.map((column) => `${column} = excluded.${column}`).join(', ')}`,
  );
}

async function updateRow(sql: Sql, start: KeyStart, last: string, columns: Row): Promise<void> {
  let n = 0;
  const is = (column: string): string => `${columnName(column)} = ${sql.engine === 'postgres' ? `$${++n}` : '?'}`;
  const set = Object.keys(columns).map(is).join(', ');
  const where = tableOf(start.table).key.map(is).join(' AND ');
  await sql.statement(`UPDATE ${start.table} SET ${set} WHERE ${where}`, [
    ...Object.values(columns),
    ...keyOf(start, last),
  ]);
}

/** The values of a row's key. */
export const keyOf = (start: KeyStart, last: string): SqlValue[] =>
  start.table === 'lot' ? [start.sugarhouse, last] : [start.sugarhouse, start.kind, last];

/** Where a row of a table stands: the parts of its key. */
export function placeOf(table: KeyedTable, row: Row): { readonly start: KeyStart; readonly last: string } {
  const sugarhouse = String(row['sugarhouse']);
  return table === 'lot'
    ? { start: { table, sugarhouse }, last: String(row['code']) }
    : { start: { table, sugarhouse, kind: String(row['kind']) }, last: String(row['id']) };
}

/** The columns of a table in the order in which the engines give them. */
export const columnsOf = (table: KeyedTable): readonly string[] => columnsByTable[table];

function tableOf(name: KeyedTable) {
  const table = indexTables.find((each) => each.name === name);
  if (!table) throw new Error(`There is no index table ${name}`);
  return table;
}
const columnsByTable = { lot: Object.keys(tableOf('lot').columns), record: Object.keys(tableOf('record').columns) };
