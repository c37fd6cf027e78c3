import { cachedAnswers, tablesIn } from './cached-answers.js';
import { kindsRead } from './kinds-read.js';
import {
  columnsOf,
  type KeyedRows,
  type KeyedTable,
  keyOf,
  type KeyStart,
  placeOf,
  readRows,
  writeRows,
} from './rows-by-key.js';
import { sqlAsking, type Row, type Sql, type SqlValue } from './sql.js';

/** The statements of one write transaction, see `cacheReads`. */
export interface CachedReads {
  readonly sql: Sql;
  /** Writes the buffered rows: before the commit, and before anything else uses the connection. */
  readonly flush: () => Promise<void>;
}

const mostWaiting = 200;

/**
 * Asks a question once in a write transaction, until something is written to a table that it names. The transaction
 * holds the book's lock, so nobody else writes meanwhile, and the book has no views or functions: the answer to a query
 * can only come from tables in its text. Where the text demands a kind of record (`kindsRead`), a record of another kind
 * doesn't concern it. Rows of a file ask the same of their boils and thermometers again and again, and
 * every answer costs a turn of the driver's threads or a trip to the server.
 *
 * Rows of the log, of the histories, of lots and of records wait and are written together, once a statement reads or
 * writes their table. Lots and records are known by their keys meanwhile, there or not.
 */
export function cacheReads(plain: Sql): CachedReads {
  const answers = cachedAnswers();
  const waiting = new Map<string, { readonly columns: readonly string[]; readonly lines: (readonly SqlValue[])[] }>();
  const changed = { lot: new Map<string, Row>(), record: new Map<string, Row>() };

  const flush = async (named?: ReadonlySet<string>, kinds?: Kinds): Promise<void> => {
    for (const [table, { columns, lines }] of [...waiting]) {
      if (named && !named.has(table)) continue;
      waiting.delete(table);
      await plain.insert(table, columns, lines);
    }
    for (const table of ['lot', 'record'] as const) {
      const rows = [...changed[table].values()];
      if (
        rows.length === 0 ||
        (named && !(named.has(table) && (table === 'lot' || rows.some((row) => isOf(row, kinds)))))
      )
        continue;
      changed[table].clear();
      await writeRows(plain, table, rows, []);
    }
  };

  const ask = async (text: string, values: readonly SqlValue[]): Promise<unknown[]> => {
    const key = `${text}\n${JSON.stringify(values)}`;
    const known = answers.find(key);
    if (known) {
      if (isChecked()) await compare(text, known, () => plain.statement(text, values));
      return [...known];
    }
    const tables = tablesIn(text);
    const kinds = kindsRead(text, values);
    await flush(tables, kinds);
    const before = answers.writes();
    const rows = await plain.statement<unknown>(text, values);
    if (!/^\s*(?:SELECT|WITH)\b/.test(text) || /\b(?:INSERT|UPDATE|DELETE)\b/.test(text)) {
      answers.forget(/^\s*(?:INSERT INTO|UPDATE|DELETE FROM) (\w+)/.exec(text)?.[1]);
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

  const read = async (start: KeyStart, last: readonly string[]): Promise<Row[]> => {
    const found = new Map(
      last.map((each) => {
        const name = nameOf(start, each);
        const row = changed[start.table].get(name);
        return [each, row ? [row] : (answers.find(name) as readonly Row[] | undefined)];
      }),
    );
    const unknown = [...found.keys()].filter((each) => found.get(each) === undefined);
    if (unknown.length > 0) {
      const before = answers.writes();
      const rows = await readRows(plain, start, unknown);
      for (const each of unknown) {
        const own = rows.filter((row) => placeOf(start.table, row).last === each);
        found.set(each, own);
        if (before === answers.writes()) keepRow(start, each, own);
      }
    }
    const answer = [...found.values()].flatMap((rows) => rows ?? []);
    if (isChecked()) await compare(nameOf(start, last.join(' ')), answer, () => readRows(plain, start, last));
    return answer;
  };

  const compare = async (what: string, answer: readonly unknown[], ask: () => Promise<unknown[]>): Promise<void> => {
    await flush();
    if (inOrder(answer) !== inOrder(await ask())) throw new Error(`A write knew an old answer to ${what}`);
  };

  const write = async (table: KeyedTable, row: Row): Promise<void> => {
    const { start, last } = placeOf(table, row);
    const whole = Object.fromEntries(columnsOf(table).map((column) => [column, row[column] ?? null]));
    answers.forget(table, [ownPart(start, last), ...('kind' in start ? [start.kind] : [])]);
    keepRow(start, last, [whole]);
    changed[table].set(nameOf(start, last), whole);
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
      );
    },
    change: async (start, last, columns) => {
      const [before] = await read(start, [last]);
      if (before) await write(start.table, { ...before, ...columns });
    },
  };

  const sql: Sql = {
    ...sqlAsking(plain.engine, ask),
    keyed,
    insert: async (table, columns, lines) => {
      if (mayWait.has(table)) {
        const already = waiting.get(table);
        if (already) already.lines.push(...lines);
        else waiting.set(table, { columns, lines: [...lines] });
        if ((already?.lines.length ?? 0) >= mostWaiting) await flush(new Set([table]));
      } else await plain.insert(table, columns, lines);
      answers.forget(table);
    },
  };
  return { flush: () => flush(), sql };
}

/**
 * Whether each answer that a write knows is asked of the book again, and the write fails where they differ: where
 * what a statement reads was worked out wrong, or a write forgot too little. Set by tests; as slow as knowing nothing.
 */
const isChecked = (): boolean => process.env['BOILBOOK_TEST_READS'] === 'asked-again';
const inOrder = (rows: readonly unknown[]): string => JSON.stringify(rows.map((row) => JSON.stringify(row)).sort());

/** Their rows are only added, by one place each, and few statements of a write read them. */
const mayWait: ReadonlySet<string> = new Set(['entry', 'mention']);

const nameOf = (start: KeyStart, last: string): string => `${start.table}\n${JSON.stringify(keyOf(start, last))}`;
/** What a look-up of one row reads: no kind has a space. */
const ownPart = (start: KeyStart, last: string): string => ('kind' in start ? `${start.kind} ${last}` : last);

/** The only ones that a statement can read. */
type Kinds = readonly string[] | undefined;
const isOf = (row: Row, kinds: Kinds): boolean => kinds?.includes(String(row['kind'])) ?? true;
