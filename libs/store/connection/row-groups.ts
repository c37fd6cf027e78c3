import { columnName, indexTables } from '../projection/index-tables.js';
import { rowsInList } from './in-list.js';
import { isFixed } from './prepared.js';
import type { Row, Sql, SqlValue } from './sql.js';

export type GroupedTable = 'flow' | 'movement' | 'shelf_count' | 'record';

/** The rows of a sugarhouse that have the same value in one column: flows out of a lot, movements of a pack. */
export interface GroupedBy {
  readonly table: GroupedTable;
  readonly column: string;
  readonly sugarhouse: string;
  /** Of records, only these kinds. */
  readonly kinds?: readonly string[];
}

/** A walk along flows: from lots, given by one end of a flow, to the lots at its other end. */
export interface Walk {
  readonly sugarhouse: string;
  readonly from: 'into_lot' | 'from_lot';
}

/** Groups of rows that a write transaction knows. See `rowsBy`. */
export interface GroupedRows {
  read(by: GroupedBy, values: readonly SqlValue[]): Promise<Row[]>;
  walk(walk: Walk, start: readonly string[]): Promise<string[]>;
  add(table: AddedTable, rows: readonly Row[]): Promise<void>;
}
export type AddedTable = Exclude<GroupedTable, 'record'>;

/** The rows of these groups, in any order. A write reads each group once and adds to it what it writes. */
export const rowsBy = <T>(sql: Sql, by: GroupedBy, values: readonly SqlValue[]): Promise<T[]> =>
  (sql.grouped ? sql.grouped.read(by, values) : readGroups(sql, by, values)) as Promise<T[]>;

/** Adds rows of new keys. */
export const addRows = (sql: Sql, table: AddedTable, rows: readonly Row[]): Promise<void> =>
  sql.grouped
    ? sql.grouped.add(table, rows)
    : sql.insert(
        table,
        rowColumnsOf(table).map(columnName),
        rows.map((row) => rowColumnsOf(table).map((column) => row[column] ?? null)),
      );

/** `rowsBy`, asked of the connection in any case. */
export function readGroups(
  sql: Sql,
  { table, column, sugarhouse, kinds }: GroupedBy,
  values: readonly SqlValue[],
): Promise<Row[]> {
  const ofKinds = kinds ? ` AND kind IN (${kinds.map(() => '?').join(', ')})` : '';
  const before = `SELECT * FROM ${table} WHERE sugarhouse = ?${ofKinds}`;
  if (values.length === 0) return Promise.resolve([]);
  const [one = ''] = values;
  // The same text whatever the length, which SQLite prepares once; of a list of numbers PostgreSQL wants to know.
  if (values.length === 1 || typeof one === 'number')
    return Promise.all(
      values.map((value) =>
        sql.statement(numbered(sql, `${before} AND ${column} = ?`), [sugarhouse, ...(kinds ?? []), value]),
      ),
    ).then((rows) => rows.flat());
  if (sql.engine === 'postgres')
    return rowsInList<Row>(sql, `${before} AND ${column} IN (LIST)`, [sugarhouse, ...(kinds ?? [])], values);
  return sql.statement(`${before} AND ${column} IN (SELECT value FROM json_each(?))`, [
    sugarhouse,
    ...(kinds ?? []),
    JSON.stringify(values),
  ]);
}

/** Every flow on the way from these lots, by both engines' recursion. */
export function readWalk(sql: Sql, { sugarhouse, from }: Walk, start: readonly string[]): Promise<Row[]> {
  const list = sql.engine === 'postgres' ? 'SELECT unnest($1::text[]) COLLATE "C"' : 'SELECT value FROM json_each(?)';
  const text = `WITH RECURSIVE reached(code) AS (
      ${list}
      UNION
      SELECT flow.${otherEnd(from)} FROM flow JOIN reached ON flow.${from} = reached.code WHERE flow.sugarhouse = ?)
    SELECT flow.* FROM reached CROSS JOIN flow WHERE flow.${from} = reached.code AND flow.sugarhouse = ?`;
  const codes = sql.engine === 'postgres' ? (start as never) : JSON.stringify(start);
  return sql.statement(numbered(sql, text), [codes, sugarhouse, sugarhouse]);
}

/** The end of a flow to which a walk leads. */
export const otherEnd = (from: Walk['from']): Walk['from'] => (from === 'into_lot' ? 'from_lot' : 'into_lot');

/** With PostgreSQL's placeholders, and prepared once: there are few such texts. */
function numbered(sql: Sql, text: string): string {
  let n = /\$1/.test(text) ? 1 : 0;
  const filled = sql.engine === 'postgres' ? text.replaceAll('?', () => `$${++n}`) : text;
  isFixed(filled);
  return filled;
}

/** The columns of a table in the order in which the engines give them. */
export const rowColumnsOf = (table: GroupedTable): string[] =>
  Object.keys(indexTables.find(({ name }) => name === table)?.columns ?? {});
