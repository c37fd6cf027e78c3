import type { Sql } from './sql.js';

/** One sugarhouse’s part of a book: its key is in every table’s key, so a query needs both. */
export interface SugarhouseReader {
  readonly sql: Sql;
  readonly sugarhouse: string;
}

/** A connection together with the sugarhouse whose rows are read. */
export const sugarhouseReader = (sql: Sql, sugarhouse: string): SugarhouseReader => ({ sql, sugarhouse });
