import { type BatchedStatement, StatementBatch } from './statement-batch.js';

/** The part of the driver's pool that reading needs. */
export interface ReadingPool {
  connect(): Promise<ReadingClient>;
}
interface ReadingClient {
  query(batch: StatementBatch): unknown;
  getTypeParser(dataType: number, format: 'text'): (value: string) => unknown;
  release(isBroken?: boolean): void;
}

/** Concurrent batches: with more, each is smaller, and a small machine has no more cores for the database. */
const mostLanes = 4;
/** Statements per batch: each waits for those before it. */
const mostTogether = 24;

type Ask = (statement: Pick<BatchedStatement, 'name' | 'text' | 'values'>) => Promise<unknown[]>;

/**
 * Batches the statements of one turn of the event loop, and those that arrive while all lanes are busy: a round trip to
 * the database costs more processor time than a look-up by key. Each statement may run twice, so they must be
 * read-only: where a batch fails, `alone` runs the unanswered ones one by one.
 */
export function readingLanes(pool: ReadingPool, alone: Ask): Ask {
  const waiting: BatchedStatement[] = [];
  let lanes = 0;
  let isDue = false;

  const openLanes = (): void => {
    isDue = false;
    for (let left = waiting.length; left > 0 && lanes < mostLanes; left -= mostTogether) {
      lanes++;
      void lane().finally(() => lanes--);
    }
  };

  /** Continues as long as statements are waiting. */
  const lane = async (): Promise<void> => {
    let client: ReadingClient | undefined;
    try {
      while (waiting.length > 0) {
        client ??= await pool.connect();
        const isWhole = await together(client, waiting.splice(0, mostTogether), alone);
        if (!isWhole) client.release(true);
        if (!isWhole) client = undefined;
      }
    } catch (fault) {
      for (const each of waiting.splice(0, mostTogether)) each.reject(fault);
    } finally {
      client?.release(false);
    }
  };

  return (statement) =>
    new Promise((resolve, reject) => {
      waiting.push({ ...statement, resolve, reject });
      if (isDue) return;
      isDue = true;
      process.nextTick(openLanes);
    });
}

/** Whether the connection is still usable; statements that a failed batch left unanswered run alone. */
async function together(client: ReadingClient, statements: readonly BatchedStatement[], alone: Ask): Promise<boolean> {
  if (statements.length === 0) return true;
  const { fault, unanswered } = await new Promise<{ fault: unknown; unanswered: readonly BatchedStatement[] }>(
    (resolve) => {
      const parserOf = (dataType: number) => client.getTypeParser(dataType, 'text');
      client.query(new StatementBatch(statements, parserOf, (fault, unanswered) => resolve({ fault, unanswered })));
    },
  );
  for (const each of unanswered) alone(each).then(each.resolve, each.reject);
  return fault === undefined;
}
