import { sqlAsking, type Sql, type SqlValue } from './sql.js';

/** The statements of one write transaction, see `keepingReads`. */
export interface KeptReads {
  readonly sql: Sql;
  /** Writes the rows that wait: before the commit, and before anything else asks the connection itself. */
  readonly flush: () => Promise<void>;
}

/** Forgotten all at once: a file of ten thousand rows must not hold the whole book. */
const mostAnswers = 4000;
const mostRows = 500;
const mostWaiting = 200;

/**
 * Asks a question once in a write transaction, until something is written to a table that it names. The transaction
 * holds the book's lock, so nobody else writes meanwhile, and the book has no views or functions: the answer to a query
 * can only come from tables in its text. Rows of a file ask the same of their boils and thermometers again and again,
 * and every answer costs a turn of the driver's threads or a trip to the server.
 *
 * Rows of the log and of the histories wait and are written together, once something reads their table.
 */
export function keepingReads(plain: Sql): KeptReads {
  const answers = new Map<string, { readonly text: string; readonly rows: readonly unknown[] }>();
  const waiting = new Map<string, { readonly columns: readonly string[]; readonly lines: (readonly SqlValue[])[] }>();
  let writes = 0;

  const forget = (table: string | undefined): void => {
    writes++;
    if (table === undefined) answers.clear();
    else for (const [key, { text }] of answers) if (wordsOf(text).has(table)) answers.delete(key);
  };
  const flush = async (named?: ReadonlySet<string>): Promise<void> => {
    for (const [table, { columns, lines }] of [...waiting]) {
      if (named && !named.has(table)) continue;
      waiting.delete(table);
      await plain.insert(table, columns, lines);
    }
  };

  const ask = async (text: string, values: readonly SqlValue[]): Promise<unknown[]> => {
    const key = `${text}\n${JSON.stringify(values)}`;
    const kept = answers.get(key);
    if (kept) return [...kept.rows];
    await flush(wordsOf(text));
    const before = writes;
    const rows = await plain.statement<unknown>(text, values);
    if (!/^\s*(?:SELECT|WITH)\b/.test(text) || /\b(?:INSERT|UPDATE|DELETE)\b/.test(text)) {
      forget(/^\s*(?:INSERT INTO|UPDATE|DELETE FROM) (\w+)/.exec(text)?.[1]);
      return rows;
    }
    if (before === writes && rows.length <= mostRows) {
      if (answers.size >= mostAnswers) answers.clear();
      for (const row of rows) Object.freeze(row);
      answers.set(key, { text, rows });
    }
    return [...rows];
  };

  return {
    flush: () => flush(),
    sql: {
      ...sqlAsking(plain.engine, ask),
      insert: async (table, columns, lines) => {
        if (mayWait.has(table)) {
          const already = waiting.get(table);
          if (already) already.lines.push(...lines);
          else waiting.set(table, { columns, lines: [...lines] });
          if ((already?.lines.length ?? 0) >= mostWaiting) await flush(new Set([table]));
        } else await plain.insert(table, columns, lines);
        forget(table);
      },
    },
  };
}

/** Their rows are only added, by one place each, and few statements of a write read them. */
const mayWait: ReadonlySet<string> = new Set(['entry', 'mention']);

/** The words of a statement, table names among them. Texts stand in the source, but for those with a list of marks. */
function wordsOf(text: string): ReadonlySet<string> {
  const known = words.get(text);
  if (known) return known;
  if (words.size >= mostAnswers) words.clear();
  const found = new Set(text.match(/\w+/g));
  words.set(text, found);
  return found;
}
const words = new Map<string, ReadonlySet<string>>();
