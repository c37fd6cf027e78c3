import type { LogAppender } from '../log/log.js';
import type { Sql } from './sql.js';

/** What a write callback receives: the transaction and the log appender. */
export interface WriteTransaction {
  readonly sql: Sql;
  /** Adds an entry to the log and applies it to the index; returns its number. */
  readonly append: LogAppender['append'];
}
