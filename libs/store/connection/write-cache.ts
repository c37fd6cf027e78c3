import type { cachedAnswers } from './cached-answers.js';
import type { cachedGroups } from './cached-groups.js';
import type { Sql } from './sql.js';
import type { Kinds, UnwrittenRows } from './unwritten-rows.js';

/** What the parts of a write transaction's cache share (`cacheReads`). */
export interface WriteCache {
  /** The connection, which doesn't see pending rows. */
  readonly plain: Sql;
  readonly answers: ReturnType<typeof cachedAnswers>;
  readonly groups: ReturnType<typeof cachedGroups>;
  readonly unwritten: UnwrittenRows;
  /** Writes the pending rows of these tables, of all where none are given. */
  readonly flush: (tables?: ReadonlySet<string>, kinds?: Kinds) => Promise<void>;
  /** Each answer that is known is compared with the connection's. */
  readonly isChecked: boolean;
  /** Throws where these rows, in any order, are not what `ask` answers once all is written. */
  readonly compare: (what: string, answer: readonly unknown[], ask: () => Promise<unknown[]>) => Promise<void>;
}
