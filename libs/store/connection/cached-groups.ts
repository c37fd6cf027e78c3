import { indexTables } from '../projection/index-tables.js';
import { type GroupedBy, type GroupedTable, otherEnd, readGroups, readWalk, type Walk } from './row-groups.js';
import type { Row, Sql, SqlValue } from './sql.js';

/** All groups together; past it all are forgotten: a long file must not hold the whole book. */
const mostRows = 60_000;

interface KnownGroups {
  readonly by: GroupedBy;
  readonly groups: Map<string, readonly Row[]>;
}

/** The groups that are known, each up to date with what was written since it was read. */
function knownGroups() {
  const known = new Map<string, KnownGroups[]>();
  let rowsKnown = 0;
  const of = (by: GroupedBy): Map<string, readonly Row[]> => {
    const ofTable = known.get(by.table) ?? [];
    for (const each of ofTable) if (isSame(each.by, by)) return each.groups;
    const groups = new Map<string, readonly Row[]>();
    known.set(by.table, [...ofTable, { by, groups }]);
    return groups;
  };
  const forget = (table: string | undefined): void => {
    if (table !== undefined) return void known.delete(table);
    known.clear();
    rowsKnown = 0;
  };
  return {
    of,
    forget,
    forgetWhereMany: (): void => {
      if (rowsKnown > mostRows) forget(undefined);
    },
    /** Keeps the groups of these values, made of these rows; those that are known stay. */
    keep: (by: GroupedBy, values: Iterable<string>, rows: readonly Row[]): void => {
      const groups = of(by);
      const found = new Map<string, Row[]>([...values].filter((each) => !groups.has(each)).map((each) => [each, []]));
      for (const row of rows) if (isOf(by, row)) found.get(String(row[by.column]))?.push(Object.freeze(row));
      for (const [value, own] of found) {
        groups.set(value, own);
        rowsKnown += own.length + 1;
      }
    },
    wrote: (table: GroupedTable, row: Row, before: Row | undefined): void => {
      for (const { by, groups } of known.get(table) ?? []) {
        if (before && isOf(by, before)) {
          const value = String(before[by.column]);
          const key = keyIn(table, row);
          const others = groups.get(value)?.filter((each) => keyIn(table, each) !== key);
          if (others) groups.set(value, others);
        }
        const own = isOf(by, row) ? groups.get(String(row[by.column])) : undefined;
        if (!own) continue;
        groups.set(String(row[by.column]), [...own, row]);
        rowsKnown++;
      }
    },
  };
}

/**
 * Groups of rows that one write transaction has read, each kept up to date with what the transaction writes itself.
 * `waiting` gives the rows of a table that are not written yet: they are newer than what the connection answers.
 */
export function cachedGroups(plain: Sql, waiting: (table: GroupedTable) => Iterable<Row>) {
  const known = knownGroups();
  let changes = 0;

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

  return {
    /** The rows of one group; undefined where they have to be read. */
    find: (by: GroupedBy, value: SqlValue): readonly Row[] | undefined =>
      known.of(by).get(typeof value === 'string' ? value : String(value)),
    read: async (by: GroupedBy, values: readonly SqlValue[]): Promise<Row[]> => {
      known.forgetWhereMany();
      const asked = [...new Set(values)];
      let groups = known.of(by);
      const unknown = asked.filter((each) => !groups.has(String(each)));
      if (unknown.length > 0) {
        const rows = await readNow(by.table, () => readGroups(plain, by, unknown));
        known.keep(by, unknown.map(String), rows);
        groups = known.of(by);
      }
      return asked.flatMap((each) => groups.get(String(each)) ?? []);
    },
    /** The lots reached, those that it started from first. */
    walk: async (walk: Walk, start: readonly string[]): Promise<string[]> => {
      known.forgetWhereMany();
      const by: GroupedBy = { table: 'flow', column: walk.from, sugarhouse: walk.sugarhouse };
      for (;;) {
        const { reached, unknown } = reachedBy(known.of(by), otherEnd(walk.from), start);
        if (unknown.length === 0) return [...reached];
        const rows = await readNow('flow', () => readWalk(plain, walk, unknown));
        // Flows that wait may lead on from here: the next turn asks for what they reach.
        const onTheWay = new Set(unknown);
        const newer = new Set(waiting('flow'));
        for (const row of rows) if (!newer.has(row)) onTheWay.add(String(row[otherEnd(walk.from)]));
        known.keep(by, onTheWay, rows);
      }
    },
    /** After a row was written, or will be: `before` is the one of the same key, if there was one. */
    wrote: (table: GroupedTable, row: Row, before: Row | undefined): void => {
      changes++;
      known.wrote(table, row, before);
    },
    /** While rows that waited are written. */
    written: (): void => void changes++,
    forget: (table: string | undefined): void => {
      changes++;
      known.forget(table);
    },
  };
}

/** The lots that a walk along known flows reaches, and those of them whose flows are not known. */
function reachedBy(groups: ReadonlyMap<string, readonly Row[]>, end: string, start: readonly string[]) {
  const reached = new Set(start);
  const unknown: string[] = [];
  for (const code of reached) {
    const rows = groups.get(code);
    if (!rows) unknown.push(code);
    for (const row of rows ?? []) reached.add(String(row[end]));
  }
  return { reached, unknown };
}

/** Few ways to group a table are in use at once, and most name the same list of kinds. */
const isSame = (a: GroupedBy, b: GroupedBy): boolean =>
  a.column === b.column &&
  a.sugarhouse === b.sugarhouse &&
  (a.kinds === b.kinds ||
    (a.kinds?.length === b.kinds?.length && a.kinds?.every((kind, n) => kind === b.kinds?.[n])) === true);

const isOf = (by: GroupedBy, row: Row): boolean =>
  row['sugarhouse'] === by.sugarhouse && (by.kinds?.includes(String(row['kind'])) ?? true);

const keys = new Map(indexTables.map(({ name, key }) => [name, key]));
const keyIn = (table: GroupedTable, row: Row): string => JSON.stringify(keys.get(table)?.map((column) => row[column]));
