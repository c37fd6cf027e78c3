import type { WriteTransaction } from './write-transaction.js';
import { type Appended, holds, takeLogAppender } from '../log/log.js';
import { cacheReads } from './read-cache.js';
import { isPassing, retryTransient } from './retry-transient.js';
import { CommitOutcomeUnknown, type Writer } from './writer.js';

/**
 * Makes one write take effect exactly once, even when the connection is lost. Lost before the commit, nothing was
 * written, and it is repeated. Lost during the commit, the log decides: whoever holds the lock sees whether the last
 * entry of the earlier attempt, which nobody else could have written, is in its position. The lock is granted only once
 * the earlier attempt has ended one way or the other, so there is no third case; no idempotency key is needed.
 */
export async function writeOnce<T extends object>(
  writer: Writer,
  work: (tx: WriteTransaction) => Promise<T>,
  giveUpAtMs: number,
): Promise<T> {
  let unknownOutcome: { readonly answer: T; readonly last: Appended | undefined } | undefined;
  const attempt = async (): Promise<T> => {
    let ready: typeof unknownOutcome;
    try {
      return await writer.transaction(async (plain) => {
        const { sql, flush, settle } = cacheReads(plain);
        try {
          const appender = await takeLogAppender(sql);
          if (unknownOutcome?.last && (await holds(sql, unknownOutcome.last))) return unknownOutcome.answer;
          unknownOutcome = undefined;
          const answer = await work({ sql, append: appender.append, adopt: appender.adopt });
          if ('problem' in answer) throw new RolledBack(answer);
          await appender.close();
          await flush();
          ready = { answer, last: appender.last() };
          return answer;
        } finally {
          // An insert that still ran would be outside the transaction once it is rolled back, and stay.
          await settle();
        }
      });
    } catch (fault) {
      // An attempt that failed while looking for an earlier one leaves the earlier outcome unknown.
      if (fault instanceof CommitOutcomeUnknown) unknownOutcome = ready ?? unknownOutcome;
      throw fault;
    }
  };
  try {
    return await retryTransient(attempt, isPassing, giveUpAtMs);
  } catch (fault) {
    if (fault instanceof RolledBack) return fault.answer as T;
    throw fault;
  }
}

/** Thrown to roll the transaction back; never reaches the caller. */
class RolledBack extends Error {
  constructor(readonly answer: object) {
    super();
  }
}
