import type { BackgroundWrites } from './background-writes.js';
import { type KeyedTable, writeRows } from './rows-by-key.js';
import { type AddedTable, addRows, type GroupedTable } from './row-groups.js';
import type { Row, SqlValue } from './sql.js';

/** Few enough that most rows of a file are written while the program works on later ones. */
const mostWaiting = 64;
const mostJarsWaiting = 1000;

/** The kinds of records that a statement can read; any where undefined. */
export type Kinds = readonly string[] | undefined;

/** Rows that a write transaction has made and not sent to its connection yet, by table. */
export interface UnwrittenRows {
  /** Takes rows of a table that only grows; false where its rows are written at once. */
  insert(table: string, columns: readonly string[], lines: readonly (readonly SqlValue[])[]): boolean;
  /** Takes a lot or record in place of the one of the same name, which identifies its key. */
  put(table: KeyedTable, name: string, row: Row): void;
  /** The pending lot or record of this name. */
  find(table: KeyedTable, name: string): Row | undefined;
  add(table: AddedTable, row: Row): void;
  /** The pending rows of a table. */
  of(table: GroupedTable): Iterable<Row>;
  /** Whether a table has enough pending rows to write them. */
  areMany(table: string): boolean;
  /** Writes those of these tables, records only where some are of these kinds; all where no tables are given. */
  write(tables?: ReadonlySet<string>, kinds?: Kinds): Promise<void>;
}

/** Keeps rows until they are written together, by `begin`, in the background. */
export function unwrittenRows(begin: BackgroundWrites['begin']): UnwrittenRows {
  const inserted = new Map<string, { readonly columns: readonly string[]; readonly lines: (readonly SqlValue[])[] }>();
  const added = new Map<AddedTable, Row[]>();
  const keyed = { lot: new Map<string, Row>(), record: new Map<string, Row>() };
  const waiting = (table: string): number =>
    inserted.get(table)?.lines.length ??
    added.get(table as AddedTable)?.length ??
    (isKeyed(table) ? keyed[table].size : 0);
  return {
    insert: (table, columns, lines) => {
      if (!mayWait.has(table)) return false;
      const already = inserted.get(table);
      if (already) already.lines.push(...lines);
      else inserted.set(table, { columns, lines: [...lines] });
      return true;
    },
    put: (table, name, row) => void keyed[table].set(name, row),
    find: (table, name) => keyed[table].get(name),
    add: (table, row) => {
      const already = added.get(table);
      if (already) already.push(row);
      else added.set(table, [row]);
    },
    of: (table) => (table === 'record' ? keyed.record.values() : (added.get(table) ?? [])),
    areMany: (table) => waiting(table) >= (table === 'jar' ? mostJarsWaiting : mostWaiting),
    write: async (tables, kinds) => {
      const isNamed = (table: string): boolean => tables?.has(table) ?? true;
      for (const [table, { columns, lines }] of [...inserted])
        if (isNamed(table) && inserted.delete(table)) await begin((own) => own.insert(table, columns, lines));
      for (const [table, rows] of [...added])
        if (isNamed(table) && added.delete(table)) await begin((own) => addRows(own, table, rows));
      for (const table of ['lot', 'record'] as const) {
        const rows = [...keyed[table].values()];
        if (rows.length === 0 || !isNamed(table)) continue;
        if (table === 'record' && tables && !rows.some((row) => isOf(row, kinds))) continue;
        keyed[table].clear();
        await begin((own) => writeRows(own, table, rows, []));
      }
    },
  };
}

/** Their rows are only added, by one place each, and few statements of a write read them. */
const mayWait: ReadonlySet<string> = new Set(['entry', 'lot_entry', 'jar', 'movement_jar']);

const isKeyed = (table: string): table is KeyedTable => table === 'lot' || table === 'record';
const isOf = (row: Row, kinds: Kinds): boolean => kinds?.includes(String(row['kind'])) ?? true;
