import type { EntryType } from '#libs/records/entry.js';
import type { Sql } from '#libs/store/connection/sql.js';
import type { AcceptedFinding } from '#libs/syrup/rules/accept-findings.js';
import type { SugarhouseContext } from '../record/write-context.js';

/** Why a lot is judged again: a record changed, or a corrective action was taken (which asks for a release). */
export interface Judging {
  readonly sql: Sql;
  readonly sugarhouse: string;
  readonly houseContext: SugarhouseContext;
  /** When what is being written happened: a hold that it brings about begins then. */
  readonly at: string;
  /** What is being written: a correction that takes the last hold away opens no lot. Absent where nothing is. */
  readonly entryType?: EntryType;
  /** It adds to a pack whose jars were all filled: readings that come now open no jar by themselves. */
  readonly addedWhenFinished?: boolean;
  /** A dispatch that is being corrected: what it destroyed so far is not taken as destroyed. */
  readonly leavingOut?: string | undefined;
  /** It is a dispatch: jars that it destroys end a hold, and a maker still releases the lot. */
  readonly isDispatch?: boolean;
  /** A lot upstream was released: what was held for its sake is released with it. */
  readonly upstreamReleased?: boolean;
  /** What that release accepts, which is not in the record yet. */
  readonly accepting?: { readonly lot: string; readonly findings: readonly AcceptedFinding[] } | undefined;
}
