import { sqlAsking, type Sql, type SqlValue } from './sql.js';

/** The statements of one write transaction, see `cacheReads`. */
export interface CachedReads {
  readonly sql: Sql;
  /** Writes the buffered rows: before the commit, and before anything else uses the connection. */
  readonly flush: () => Promise<void>;
}

/** The cache is emptied beyond this: a file of ten thousand rows must not load the whole book. */
const mostCached = 4000;
const mostRows = 500;
const mostWaiting = 200;

/**
 * Caches reads within a write transaction until a table named in them is written. The transaction holds the book's
 * lock, so nobody else writes meanwhile, and the book has no views or functions, so a result depends only on the tables
 * in the query's text. Rows of a file query the same boils and thermometers again and again, and every query costs a
 * turn of the driver's threads or a round trip to the server.
 *
 * Inserts into the log and the histories are buffered and written together, once something reads their table.
 */
export function cacheReads(plain: Sql): CachedReads {
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
    const cached = answers.get(key);
    if (cached) return [...cached.rows];
    await flush(wordsOf(text));
    const before = writes;
    const rows = await plain.statement<unknown>(text, values);
    if (!/^\s*(?:SELECT|WITH)\b/.test(text) || /\b(?:INSERT|UPDATE|DELETE)\b/.test(text)) {
      forget(/^\s*(?:INSERT INTO|UPDATE|DELETE FROM) (\w+)/.exec(text)?.[1]);
      return rows;
    }
    if (before === writes && rows.length <= mostRows) {
      if (answers.size >= mostCached) answers.clear();
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
        if (buffered.has(table)) {
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

/** Only appended to, from one place each, and rarely read during a write. */
const buffered: ReadonlySet<string> = new Set(['entry', 'mention']);

/**
 * The words of a statement, including its table names. Cached for constant texts; those with a list of placeholders
 * vary.
 */
function wordsOf(text: string): ReadonlySet<string> {
  const known = words.get(text);
  if (known) return known;
  if (words.size >= mostCached) words.clear();
  const found = new Set(text.match(/\w+/g));
  words.set(text, found);
  return found;
}
const words = new Map<string, ReadonlySet<string>>();
