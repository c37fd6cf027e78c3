import type { LogAppender } from '../log/log.js';
import type { Sql } from './sql.js';

/** What a write callback receives: the transaction and the log appender. */
export interface WriteTransaction {
  readonly sql: Sql;
  /** Adds an entry to the log and applies it to the index; returns its number. */
  readonly append: LogAppender['append'];
  /** For entries that were written on a copy of the book and then moved in: counts them in the log's head. */
  readonly adopt: LogAppender['adopt'];
}
