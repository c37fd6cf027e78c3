import { isFixed } from './prepared.js';
import type { Sql, SqlValue } from './sql.js';

const atOnce = 500;

/**
 * Runs a statement for a list of any length, some hundred values at a time, and returns all rows. In the text `?`
 * stands for a value of `before`, in order, and `IN (LIST)`, once or more, for the list; the text must be a constant of
 * the program.
 */
export async function rowsInList<T>(
  sql: Sql,
  text: string,
  before: readonly SqlValue[],
  list: readonly SqlValue[],
): Promise<T[]> {
  const all: T[] = [];
  for (let first = 0; first < list.length; first += atOnce) {
    const some = list.slice(first, first + atOnce);
    all.push(...(await (sql.engine === 'postgres' ? rowsByArray : rowsByPlaceholders)<T>(sql, text, before, some)));
  }
  return all;
}

/**
 * PostgreSQL takes the list as one array parameter, so that the text is the same for any length and is planned once.
 */
function rowsByArray<T>(sql: Sql, text: string, before: readonly SqlValue[], list: readonly SqlValue[]): Promise<T[]> {
  let filled = arrayTexts.get(text);
  if (filled === undefined) {
    filled = numbered(text, '$').replaceAll('IN (LIST)', `= ANY($${before.length + 1}::text[])`);
    arrayTexts.set(text, filled);
    isFixed(filled);
  }
  return sql.statement<T>(filled, [...before, list as never]);
}
const arrayTexts = new Map<string, string>();

/** SQLite binds each value of the list once, by number, however often the text names the list. */
function rowsByPlaceholders<T>(
  sql: Sql,
  text: string,
  before: readonly SqlValue[],
  list: readonly SqlValue[],
): Promise<T[]> {
  const placeholders = list.map((_, n) => `?${before.length + n + 1}`).join(', ');
  return sql.statement<T>(numbered(text, '?').replaceAll('(LIST)', `(${placeholders})`), [...before, ...list]);
}

function numbered(text: string, placeholder: '$' | '?'): string {
  let n = 0;
  return text.replaceAll('?', () => `${placeholder}${++n}`);
}
