import type { SqlValue } from './sql.js';

/**
 * Rows as one JSON text, which `insertFromJson` inserts on SQLite: one value to bind instead of one for each column of
 * each row, and one statement to prepare for any number of rows. Undefined where SQLite might read a value otherwise
 * than the driver binds it: a number with a fraction, NUL, half a pair of UTF-16.
 */
export function linesInJson(lines: readonly (readonly SqlValue[])[]): string | undefined {
  for (const line of lines)
    for (const value of line)
      if (typeof value === 'number' ? !Number.isSafeInteger(value) : typeof value !== 'string' && value !== null)
        return undefined;
  const json = JSON.stringify(lines);
  return json.includes('\\u0000') || json.includes('\\ud') ? undefined : json;
}

/** One text holds no more rows than this. */
export const mostLinesInJson = 500;

/** The statement for these rows. `WHERE true` keeps SQLite from reading ON CONFLICT as the condition of a join. */
export const insertFromJson = (table: string, columns: readonly string[], onConflict: string): string =>
  `INSERT INTO ${table} (${columns.join(', ')}) SELECT ${columns.map((_, at) => `value ->> ${at}`).join(', ')}
   FROM json_each(?) WHERE true ${onConflict}`;
