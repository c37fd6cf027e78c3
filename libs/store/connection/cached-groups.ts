import { indexTables } from '../projection/index-tables.js';
import { type GroupedBy, type GroupedTable, otherEnd, readGroups, readWalk, type Walk } from './row-groups.js';
import type { Row, Sql, SqlValue } from './sql.js';

/** All groups together; past it all are forgotten: a long file must not hold the whole book. */
const mostRows = 60_000;

interface KnownGroups {
  readonly by: GroupedBy;
  readonly groups: Map<string, readonly Row[]>;
}

/**
 * Groups of rows that one write transaction has read, each kept up to date with what the transaction writes itself.
 * `waiting` gives the rows of a table that are not written yet: they are newer than what the connection answers.
 */
export function cachedGroups(plain: Sql, waiting: (table: GroupedTable) => Iterable<Row>) {
  const known = new Map<string, Map<string, KnownGroups>>();
  let rowsKnown = 0;
  let changes = 0;

  const groupsOf = (by: GroupedBy): Map<string, readonly Row[]> => {
    const name = `${by.column} ${by.sugarhouse} ${by.kinds?.join(' ') ?? ''}`;
    const found = known.get(by.table)?.get(name);
    if (found) return found.groups;
    const ofTable = known.get(by.table) ?? new Map<string, KnownGroups>();
    known.set(by.table, ofTable);
    const groups = new Map<string, readonly Row[]>();
    ofTable.set(name, { by, groups });
    return groups;
  };
  const forgetAll = (): void => {
    known.clear();
    rowsKnown = 0;
  };

  /** What the connection answers, asked again where something was written meanwhile, with the rows that wait. */
  const readNow = async (table: GroupedTable, ask: () => Promise<Row[]>): Promise<Row[]> => {
    for (;;) {
      const before = changes;
      const rows = await ask();
      if (before !== changes) continue;
      const newer = new Map([...waiting(table)].map((row) => [keyIn(table, row), row]));
      return [...rows.filter((row) => !newer.has(keyIn(table, row))), ...newer.values()];
    }
  };
  const keep = (by: GroupedBy, values: Iterable<string>, rows: readonly Row[]): void => {
    const groups = groupsOf(by);
    const found = new Map<string, Row[]>([...values].filter((each) => !groups.has(each)).map((each) => [each, []]));
    for (const row of rows) if (isOf(by, row)) found.get(String(row[by.column]))?.push(Object.freeze(row));
    for (const [value, own] of found) {
      groups.set(value, own);
      rowsKnown += own.length + 1;
    }
  };

  return {
    /** The rows of one group; undefined where they have to be read. */
    find: (by: GroupedBy, value: SqlValue): readonly Row[] | undefined => groupsOf(by).get(String(value)),
    read: async (by: GroupedBy, values: readonly SqlValue[]): Promise<Row[]> => {
      if (rowsKnown > mostRows) forgetAll();
      const asked = [...new Set(values)];
      let groups = groupsOf(by);
      const unknown = asked.filter((each) => !groups.has(String(each)));
      if (unknown.length > 0) {
        const rows = await readNow(by.table, () => readGroups(plain, by, unknown));
        keep(by, unknown.map(String), rows);
        groups = groupsOf(by);
      }
      return asked.flatMap((each) => groups.get(String(each)) ?? []);
    },
    /** The lots reached, those that it started from first. */
    walk: async (walk: Walk, start: readonly string[]): Promise<string[]> => {
      if (rowsKnown > mostRows) forgetAll();
      const by: GroupedBy = { table: 'flow', column: walk.from, sugarhouse: walk.sugarhouse };
      const end = otherEnd(walk.from);
      for (;;) {
        const groups = groupsOf(by);
        const reached = new Set(start);
        const unknown: string[] = [];
        for (const code of reached) {
          const rows = groups.get(code);
          if (!rows) unknown.push(code);
          for (const row of rows ?? []) reached.add(String(row[end]));
        }
        if (unknown.length === 0) return [...reached];
        const rows = await readNow('flow', () => readWalk(plain, walk, unknown));
        // Flows that wait may lead on from here: the next turn asks for what they reach.
        const onTheWay = new Set(unknown);
        const newer = new Set(waiting('flow'));
        for (const row of rows) if (!newer.has(row)) onTheWay.add(String(row[end]));
        keep(by, onTheWay, rows);
      }
    },
    /** After a row was written, or will be: `before` is the one of the same key, if there was one. */
    wrote: (table: GroupedTable, row: Row, before: Row | undefined): void => {
      changes++;
      const key = keyIn(table, row);
      for (const { by, groups } of known.get(table)?.values() ?? []) {
        if (before && isOf(by, before)) {
          const own = groups.get(String(before[by.column]));
          if (own)
            groups.set(
              String(before[by.column]),
              own.filter((each) => keyIn(table, each) !== key),
            );
        }
        const own = isOf(by, row) ? groups.get(String(row[by.column])) : undefined;
        if (!own) continue;
        groups.set(String(row[by.column]), [...own, row]);
        rowsKnown++;
      }
    },
    /** While rows that waited are written. */
    written: (): void => void changes++,
    forget: (table: string | undefined): void => {
      changes++;
      if (table === undefined) forgetAll();
      else known.delete(table);
    },
  };
}

const isOf = (by: GroupedBy, row: Row): boolean =>
  row['sugarhouse'] === by.sugarhouse && (by.kinds?.includes(String(row['kind'])) ?? true);

const keys = new Map(indexTables.map(({ name, key }) => [name, key]));
const keyIn = (table: GroupedTable, row: Row): string => JSON.stringify(keys.get(table)?.map((column) => row[column]));
