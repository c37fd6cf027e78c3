import type { EntryType } from '#libs/records/entry.js';
import type { Sql } from '#libs/store/connection/sql.js';
import type { AcceptedFinding } from '#libs/syrup/rules/accept-findings.js';
import type { SugarhouseContext } from '../record/write-context.js';

/** Why a lot is judged again: a record changed, or a corrective action was taken (which needs a release). */
export interface JudgingContext {
  readonly sql: Sql;
  readonly sugarhouse: string;
  readonly houseContext: SugarhouseContext;
  /** When the event being written happened: a hold that it causes begins then. */
  readonly at: string;
  /** The entry being written: a correction that removes the last hold opens no lot. Absent where nothing is written. */
  readonly entryType?: EntryType;
  /** It adds to a pack whose jars were all filled: later readings open no jar by themselves. */
  readonly addedWhenFinished?: boolean;
  /** The dispatch being corrected: jars it destroyed are not counted as destroyed. */
  readonly exceptDispatch?: string | undefined;
  /** It is a dispatch: jars that it destroys end a hold, but a maker still has to release the lot. */
  readonly isDispatch?: boolean;
  /** A lot upstream was released: holds because of it are released too. */
  readonly upstreamReleased?: boolean;
  /** What that release accepts, which is not in the log yet. */
  readonly acceptedByRelease?: { readonly lot: string; readonly findings: readonly AcceptedFinding[] } | undefined;
}
