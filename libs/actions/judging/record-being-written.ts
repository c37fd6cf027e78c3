import type { StoredRecord } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';
import type { Kind, PreparedRecord } from '../record/kind.js';

/** The record being written, and its former version where it is a correction or an addition. */
export interface RecordBeingWritten {
  readonly sql: Sql;
  readonly sugarhouse: string;
  readonly kind: Kind;
  readonly prepared: PreparedRecord;
  readonly before: StoredRecord | undefined;
  /** The time of the write, in UTC. */
  readonly nowUtc: string;
  /** Voided: `prepared` is what is removed from the record. */
  readonly voided?: boolean;
}
