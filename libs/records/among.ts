import type { Sql, SqlValue } from './sql.js';

const atOnce = 500;

/**
 * Rows of a statement asked for a list of any length, some hundred of it at a time. In the text `?` stands for a
 * value of `before`, in order, and `(LIST)` for the list; only the program itself writes such a text.
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
    let n = 0;
    const mark = (): string => (sql.engine === 'postgres' ? `$${++n}` : '?');
    const filled = text.replaceAll('?', mark).replace('(LIST)', () => `(${some.map(mark).join(', ')})`);
    all.push(...(await sql.statement<T>(filled, [...before, ...some])));
  }
  return all;
}
