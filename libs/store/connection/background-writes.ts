import { sqlAsking, type Sql } from './sql.js';

/** The connection of a write transaction, which may insert rows while the program works on the next ones. */
export interface BackgroundWrites {
  /** Each statement waits for the insert before it, and fails with it. */
  readonly sql: Sql;
  /** Inserts once those before have ended; returns at once, or, where several wait, when one has ended. */
  readonly begin: (write: (plain: Sql) => Promise<void>) => Promise<void>;
  /** Waits for the last insert; throws where it failed. */
  readonly finish: () => Promise<void>;
  /** Waits for the last insert, whether or not it failed: before a transaction is rolled back. */
  readonly settle: () => Promise<void>;
}

/**
 * Inserts in the background, one at a time and in order. An import spends a third of its time waiting for inserts that
 * nothing it does next depends on. Where one fails, every later statement of the transaction fails, and so its commit.
 */
export function backgroundWrites(plain: Sql): BackgroundWrites {
  let last: Promise<void> = Promise.resolve();
  const queue: Promise<void>[] = [];
  const begin = async (write: (plain: Sql) => Promise<void>): Promise<void> => {
    const own = last.then(() => write(plain));
    // Whoever uses the connection next sees the fault.
    own.catch(() => {});
    last = own;
    // Tables gather rows at the same pace, so several are full at about the same time.
    queue.push(own);
    if (queue.length > mostInserts) await queue.shift();
  };
  return {
    sql: {
      ...sqlAsking(plain.engine, async (text, values) => {
        await last;
        return plain.statement(text, values);
      }),
      insert: async (...inserted) => {
        await last;
        return plain.insert(...inserted);
      },
    },
    begin,
    finish: () => last,
    settle: () => last.catch(() => {}),
  };
}

/** Begun and not ended: their rows are in memory twice. */
const mostInserts = 6;
