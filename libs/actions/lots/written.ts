import type { StoredRecord } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';
import type { Kind, PreparedRecord } from '../record/kind.js';

/** What was written, and as it stood before where it is a correction or an addition. */
export interface Written {
  readonly sql: Sql;
  readonly sugarhouse: string;
  readonly kind: Kind;
  readonly prepared: PreparedRecord;
  readonly before: StoredRecord | undefined;
  /** It did not happen: `prepared` says what is taken out of the record. */
  readonly voided?: boolean;
}
