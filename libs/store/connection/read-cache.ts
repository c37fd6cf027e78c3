import { backgroundWrites } from './background-writes.js';
import { cachedAnswers, knownText } from './cached-answers.js';
import { cachedGroups } from './cached-groups.js';
import { kindsRead } from './kinds-read.js';
import {
  columnsOf,
  countRows,
  type KeyedRows,
  type KeyedTable,
  keyOf,
  type KeyStart,
  placeOf,
  readRows,
  writeRows,
} from './rows-by-key.js';
import {
  type AddedTable,
  addRows,
  type GroupedRows,
  type GroupedTable,
  otherEnd,
  readGroups,
  readWalk,
  rowColumnsOf,
} from './row-groups.js';
import { sqlAsking, type Row, type Sql, type SqlValue } from './sql.js';

/** The statements of one write transaction, see `cacheReads`. */
export interface CachedReads {
  readonly sql: Sql;
  /** Writes the buffered rows: before the commit, and before anything else uses the connection. */
  readonly flush: () => Promise<void>;
  /** Waits until no statement runs, whether or not one failed: before a rollback. */
  readonly settle: () => Promise<void>;
}

/** Few enough that most rows of a file are written while the program works on later ones. */
const mostWaiting = 64;
const mostJarsWaiting = 1000;

/**
 * Asks a question once in a write transaction, until something is written to a table that it names. The transaction
 * holds the book's lock, so nobody else writes meanwhile, and the book has no views or functions: the answer to a query
 * can only come from tables in its text. Where the text demands a kind of record (`kindsRead`), a record of another kind
 * doesn't concern it. Rows of a file ask the same of their boils and thermometers again and again, and
 * every answer costs a turn of the driver's threads or a trip to the server.
 *
 * Rows of the log, of the histories, of lots and of records wait and are written together, once a statement reads or
 * writes their table or some have gathered, in the background (`backgroundWrites`). Lots and records are known by their
 * keys meanwhile, there or not.
 */
export function cacheReads(connection: Sql): CachedReads {
  const { sql: plain, begin, finish, settle } = backgroundWrites(connection);
  const answers = cachedAnswers();
  const isChecked = areReadsChecked();
  const waiting = new Map<string, { readonly columns: readonly string[]; readonly lines: (readonly SqlValue[])[] }>();
  const changed = { lot: new Map<string, Row>(), record: new Map<string, Row>() };
  const added = new Map<GroupedTable, Row[]>();
  const groups = cachedGroups(plain, (table) =>
    table === 'record' ? changed.record.values() : (added.get(table) ?? []),
  );
  const counts = new Map<string, number>();

  const flush = async (named?: ReadonlySet<string>, kinds?: Kinds): Promise<void> => {
    groups.written();
    for (const [table, { columns, lines }] of [...waiting]) {
      if ((named && !named.has(table)) || !waiting.delete(table)) continue;
      await begin((own) => own.insert(table, columns, lines));
    }
    for (const [table, rows] of [...added]) {
      if ((named && !named.has(table)) || !added.delete(table)) continue;
      await begin((own) => addRows(own, table as AddedTable, rows));
    }
    for (const table of ['lot', 'record'] as const) {
      const rows = [...changed[table].values()];
      if (
        rows.length === 0 ||
        (named && !(named.has(table) && (table === 'lot' || rows.some((row) => isOf(row, kinds)))))
      )
        continue;
      changed[table].clear();
      await begin((own) => writeRows(own, table, rows, []));
    }
    groups.written();
  };

  const forget = (table: string | undefined): void => {
    answers.forget(table);
    groups.forget(table);
    if (table === undefined || table === 'record') counts.clear();
  };

  const ask = async (text: string, values: readonly SqlValue[], onlyKinds?: Kinds): Promise<unknown[]> => {
    const { name, tables, onlyReads, written } = knownText(text);
    const key = `${name}\n${JSON.stringify(values)}`;
    const known = answers.find(key);
    if (known) {
      if (isChecked) await compare(text, known, () => plain.statement(text, values));
      return [...known];
    }
    const kinds = onlyKinds ?? kindsRead(text, values);
    await flush(tables, kinds);
    const before = answers.writes();
    const rows = await plain.statement<unknown>(text, values);
    if (!onlyReads) {
      forget(written);
      return rows;
    }
    if (before === answers.writes())
      answers.keep(
        key,
        rows,
        [...tables].map((table) => [table, table === 'record' ? kinds : undefined] as const),
      );
    return [...rows];
  };

  const keepRow = (start: KeyStart, last: string, rows: readonly Row[]): void =>
    answers.keep(nameOf(start, last), rows, [[start.table, [ownPart(start, last)]]]);

  const knownRow = (start: KeyStart, last: string): readonly Row[] | undefined => {
    const name = nameOf(start, last);
    const row = changed[start.table].get(name);
    return row ? [row] : (answers.find(name) as readonly Row[] | undefined);
  };

  const read = async (start: KeyStart, last: readonly string[]): Promise<Row[]> => {
    const [only = ''] = last;
    const known = last.length === 1 && !isChecked ? knownRow(start, only) : undefined;
    if (known) return [...known];
    const answer: Row[] = [];
    const unknown: string[] = [];
    for (const each of new Set(last)) {
      const rows = knownRow(start, each);
      if (rows) answer.push(...rows);
      else unknown.push(each);
    }
    if (unknown.length > 0) {
      const before = answers.writes();
      const rows = await readRows(plain, start, unknown);
      answer.push(...rows);
      const byKey = new Map(rows.map((row) => [placeOf(start.table, row).last, [row]]));
      if (before === answers.writes()) for (const each of unknown) keepRow(start, each, byKey.get(each) ?? []);
    }
    if (isChecked) await compare(nameOf(start, last.join(' ')), answer, () => readRows(plain, start, last));
    return answer;
  };

  const compare = async (what: string, answer: readonly unknown[], ask: () => Promise<unknown[]>): Promise<void> => {
    await flush();
    if (inOrder(answer) !== inOrder(await ask())) throw new Error(`A write knew an old answer to ${what}`);
  };

  const write = async (table: KeyedTable, row: Row, before: Row | undefined): Promise<void> => {
    const { start, last } = placeOf(table, row);
    const whole = Object.fromEntries(columnsOf(table).map((column) => [column, row[column] ?? null]));
    answers.forget(table, [ownPart(start, last), ...('kind' in start ? [start.kind] : [])]);
    keepRow(start, last, [whole]);
    changed[table].set(nameOf(start, last), whole);
    if (table === 'record') {
      groups.wrote(table, whole, before);
      const count = counts.get(countName(start));
      if (!before && count !== undefined) counts.set(countName(start), count + 1);
    }
    if (changed[table].size >= mostWaiting) await flush(new Set([table]));
  };

  const keyed: KeyedRows = {
    read,
    put: async (table, row, stays) => {
      const { start, last } = placeOf(table, row);
      const [before] = await read(start, [last]);
      await write(
        table,
        before ? { ...row, ...Object.fromEntries(stays.map((each) => [each, before[each] ?? null])) } : row,
        before,
      );
    },
    change: async (start, last, columns) => {
      const [before] = await read(start, [last]);
      if (before) await write(start.table, { ...before, ...columns }, before);
    },
    count: async (start) => {
      const known = counts.get(countName(start));
      if (known !== undefined && !isChecked) return known;
      await flush(new Set(['record']), [start.kind]);
      const count = await countRows(plain, start);
      if (known !== undefined && known !== count) throw new Error(`A write knew an old number of ${start.kind}`);
      counts.set(countName(start), count);
      return count;
    },
  };

  const grouped: GroupedRows = {
    read: async (by, values) => {
      const [only = null] = values;
      const known = values.length === 1 && !isChecked ? groups.find(by, only) : undefined;
      if (known) return [...known];
      const answer = await groups.read(by, values);
      if (isChecked) await compare(`${by.table} by ${by.column}`, answer, () => readGroups(plain, by, values));
      return answer;
    },
    walk: async (walk, start) => {
      const answer = await groups.walk(walk, start);
      if (isChecked) {
        const end = otherEnd(walk.from);
        const reached = async () => [
          ...new Set([...start, ...(await readWalk(plain, walk, start)).map((row) => row[end])]),
        ];
        await compare('a walk along flows', answer, reached);
      }
      return answer;
    },
    add: async (table, rows) => {
      const columns = rowColumnsOf(table);
      const some = added.get(table) ?? [];
      added.set(table, some);
      for (const row of rows) {
        const whole = Object.freeze(Object.fromEntries(columns.map((column) => [column, row[column] ?? null]))) as Row;
        some.push(whole);
        groups.wrote(table, whole, undefined);
      }
      answers.forget(table);
      if (some.length >= mostWaiting) await flush(new Set([table]));
    },
  };

  const sql: Sql = {
    ...sqlAsking(plain.engine, ask),
    keyed,
    grouped,
    insert: async (table, columns, lines, onConflict) => {
      if (mayWait.has(table)) {
        const already = waiting.get(table);
        if (already) already.lines.push(...lines);
        else waiting.set(table, { columns, lines: [...lines] });
        if ((waiting.get(table)?.lines.length ?? 0) >= (table === 'jar' ? mostJarsWaiting : mostWaiting))
          await flush(new Set([table]));
      } else {
        await flush(new Set([table]));
        await plain.insert(table, columns, lines, onConflict);
      }
      forget(table);
    },
  };
  const flushAll = async (): Promise<void> => {
    await flush();
    await finish();
  };
  return { flush: flushAll, settle, sql };
}

/**
 * Whether each answer that a write knows is asked of the book again, and the write fails where they differ: where
 * what a statement reads was worked out wrong, or a write forgot too little. Set by tests; as slow as knowing nothing.
 */
const areReadsChecked = (): boolean => process.env['BOILBOOK_TEST_READS'] === 'asked-again';
const inOrder = (rows: readonly unknown[]): string => JSON.stringify(rows.map((row) => JSON.stringify(row)).sort());

/** Their rows are only added, by one place each, and few statements of a write read them. */
const mayWait: ReadonlySet<string> = new Set(['entry', 'lot_entry', 'jar', 'movement_jar']);

const countName = (start: KeyStart): string => JSON.stringify(keyOf(start, '').slice(0, -1));
/** No sugarhouse's key and no kind holds a line break, so that no two rows have the same name. */
const nameOf = (start: KeyStart, last: string): string =>
  start.table === 'lot' ? `lot\n${start.sugarhouse}\n${last}` : `record\n${start.sugarhouse}\n${start.kind}\n${last}`;
/** What a look-up of one row reads: no kind has a space. */
const ownPart = (start: KeyStart, last: string): string => ('kind' in start ? `${start.kind} ${last}` : last);

/** The only ones that a statement can read. */
type Kinds = readonly string[] | undefined;
const isOf = (row: Row, kinds: Kinds): boolean => kinds?.includes(String(row['kind'])) ?? true;
