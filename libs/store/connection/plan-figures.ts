import { indexTables } from '../projection/index-tables.js';

/**
 * Statistics for SQLite's planner. Without them it assumes that `sugarhouse = ?` is selective and scans a whole book to
 * avoid sorting three rows: a trace of 0.4 ms took 11 in a book of 100,000 jars. The figures describe a typical book
 * and aren't counted in this one, so that plans do not change as it grows. https://sqlite.org/optoverview.html, "Manual
 * control of query plans using sqlite_stat tables"
 */
export function planFigures(): string[] {
  return [
    // Creates the statistics table; ANALYZE of empty tables stores nothing.
    'ANALYZE',
    ...indexTables.flatMap((table) => [
      figure(table.name, table.name, rowsFound(table.key)),
      ...table.indexes.map((columns) =>
        figure(
          table.name,
          `${table.name}_by_${columns.slice(1).join('_')}`,
          rowsFound([...columns, ...rest(table.key, columns)]),
        ),
      ),
    ]),
    // Read them now; other connections read them when they open.
    'ANALYZE sqlite_schema',
  ];
}

const figure = (table: string, index: string, rows: readonly number[]): string =>
  `INSERT INTO sqlite_stat1 (tbl, idx, stat) VALUES ('${table}', '${index}', '${[aBook, ...rows].join(' ')}')`;

/** An index of a WITHOUT ROWID table ends in the table's key. */
const rest = (key: readonly string[], columns: readonly string[]): string[] =>
  key.filter((column) => !columns.includes(column));

const aBook = 1_000_000;
/** Columns with few distinct values, and how many. All others identify a row. */
const heaps: Readonly<Record<string, number>> = { sugarhouse: 1, kind: 10, state: 4, year: 20 };

/** For each prefix of the key's columns: how many rows share the same values. */
function rowsFound(columns: readonly string[]): number[] {
  let rows = aBook;
  return columns.map((column, n) => {
    const parted = heaps[column];
    rows = parted === undefined ? Math.min(rows, 10) : Math.max(1, rows / parted);
    return n === columns.length - 1 ? 1 : rows;
  });
}
