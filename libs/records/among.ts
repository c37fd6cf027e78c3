import { isFixed } from './prepared.js';
import type { Sql, SqlValue } from './sql.js';

const atOnce = 500;

/**
 * Rows of a statement asked for a list of any length, some hundred of it at a time. In the text `?` stands for a
 * value of `before`, in order, and `IN (LIST)` for the list; only the program itself writes such a text.
 */
export async function rowsAmong<T>(
  sql: Sql,
  text: string,
  before: readonly SqlValue[],
  list: readonly SqlValue[],
): Promise<T[]> {
  const all: T[] = [];
  for (let first = 0; first < list.length; first += atOnce) {
    const some = list.slice(first, first + atOnce);
    all.push(...(await (sql.engine === 'postgres' ? amongArray : amongMarks)<T>(sql, text, before, some)));
  }
  return all;
}

/** PostgreSQL takes the list as one value, so that the text is the same for any length and is planned once. */
function amongArray<T>(sql: Sql, text: string, before: readonly SqlValue[], list: readonly SqlValue[]): Promise<T[]> {
  let n = 0;
  const filled = text.replace('IN (LIST)', '= ANY(?::text[])').replaceAll('?', () => `$${++n}`);
  isFixed(filled);
  return sql.statement<T>(filled, [...before, list as never]);
}

function amongMarks<T>(sql: Sql, text: string, before: readonly SqlValue[], list: readonly SqlValue[]): Promise<T[]> {
  const filled = text.replace('(LIST)', () => `(${list.map(() => '?').join(', ')})`);
  return sql.statement<T>(filled, [...before, ...list]);
}
