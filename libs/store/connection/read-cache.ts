import { backgroundWrites } from './background-writes.js';
import { cachedAnswers, knownText } from './cached-answers.js';
import { cachedGroups } from './cached-groups.js';
import { cachedKeyedRows } from './cached-keyed-rows.js';
import { kindsRead } from './kinds-read.js';
import { type GroupedRows, otherEnd, readGroups, readWalk, rowColumnsOf } from './row-groups.js';
import { sqlAsking, type Row, type Sql, type SqlValue } from './sql.js';
import { type Kinds, unwrittenRows } from './unwritten-rows.js';
import type { WriteCache } from './write-cache.js';

/** The statements of one write transaction, see `cacheReads`. */
export interface CachedReads {
  readonly sql: Sql;
  /** Writes the buffered rows: before the commit, and before anything else uses the connection. */
  readonly flush: () => Promise<void>;
  /** Waits until no statement runs, whether or not one failed: before a rollback. */
  readonly settle: () => Promise<void>;
}

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
  const unwritten = unwrittenRows(begin);
  const groups = cachedGroups(plain, (table) => unwritten.of(table));
  const flush: WriteCache['flush'] = async (tables, kinds) => {
    groups.written();
    await unwritten.write(tables, kinds);
    groups.written();
  };
  const compare: WriteCache['compare'] = async (what, answer, ask) => {
    await flush();
    if (inOrder(answer) !== inOrder(await ask())) throw new Error(`A write knew an old answer to ${what}`);
  };
  const answers = cachedAnswers();
  const cache: WriteCache = { plain, answers, groups, unwritten, flush, compare, isChecked: areReadsChecked() };
  const keyed = cachedKeyedRows(cache);
  const forget = (table: string | undefined): void => {
    answers.forget(table);
    groups.forget(table);
    keyed.forget(table);
  };
  const sql: Sql = {
    ...sqlAsking(plain.engine, cachedStatements(cache, forget)),
    keyed: keyed.rows,
    grouped: groupedRows(cache),
    insert: async (table, columns, lines, onConflict) => {
      if (!unwritten.insert(table, columns, lines)) {
        await flush(new Set([table]));
        await plain.insert(table, columns, lines, onConflict);
      } else if (unwritten.areMany(table)) await flush(new Set([table]));
      forget(table);
    },
  };
  const flushAll = async (): Promise<void> => {
    await flush();
    await finish();
  };
  return { flush: flushAll, settle, sql };
}

/** Any other statement, by its text and values. */
function cachedStatements(
  { plain, answers, flush, isChecked, compare }: WriteCache,
  forget: (table: string | undefined) => void,
) {
  return async (text: string, values: readonly SqlValue[], onlyKinds?: Kinds): Promise<unknown[]> => {
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
}

/** Rows by one of their columns: groups that were read, with what the transaction writes itself. */
function groupedRows({ plain, answers, groups, unwritten, flush, isChecked, compare }: WriteCache): GroupedRows {
  return {
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
      for (const row of rows) {
        const whole = Object.freeze(Object.fromEntries(columns.map((column) => [column, row[column] ?? null]))) as Row;
        unwritten.add(table, whole);
        groups.wrote(table, whole, undefined);
      }
      answers.forget(table);
      if (unwritten.areMany(table)) await flush(new Set([table]));
    },
  };
}

/**
 * Whether each answer that a write knows is asked of the book again, and the write fails where they differ: where
 * what a statement reads was worked out wrong, or a write forgot too little. Set by tests; as slow as knowing nothing.
 */
const areReadsChecked = (): boolean => process.env['BOILBOOK_TEST_READS'] === 'asked-again';
const inOrder = (rows: readonly unknown[]): string => JSON.stringify(rows.map((row) => JSON.stringify(row)).sort());
