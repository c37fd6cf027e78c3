import { type Asked, StatementBatch } from './statement-batch.js';

/** The driver's pool, as far as reading needs it. */
export interface ReadingPool {
  connect(): Promise<ReadingClient>;
}
interface ReadingClient {
  query(batch: StatementBatch): unknown;
  getTypeParser(dataType: number, format: 'text'): (value: string) => unknown;
  on(event: 'error', listener: () => void): unknown;
  removeListener(event: 'error', listener: () => void): unknown;
  release(isBroken?: boolean): void;
}

/** Batches under way at once: with more, each is smaller, and a small machine has no more cores for the database. */
const mostLanes = 4;
/** Statements in a batch: what waits for its answer waits for those before it. */
const mostTogether = 24;

type Ask = (statement: Pick<Asked, 'name' | 'text' | 'values'>) => Promise<unknown[]>;

/**
 * Asks for the statements of one turn of the event loop together, and for those that came while all lanes were busy:
 * the way to the database and back takes more of the processor than a look-up by key does. Each statement may be asked
 * twice, so they only read: where a batch fails, `alone` asks for what is unanswered one by one.
 */
export function readingLanes(pool: ReadingPool, alone: Ask): Ask {
  const waiting: Asked[] = [];
  let lanes = 0;
  let isDue = false;

  const openLanes = (): void => {
    isDue = false;
    for (let left = waiting.length; left > 0 && lanes < mostLanes; left -= mostTogether) {
      lanes++;
      void lane().finally(() => lanes--);
    }
  };

  /** Goes on for as long as there is something to ask. */
  const lane = async (): Promise<void> => {
    let client: ReadingClient | undefined;
    try {
      while (waiting.length > 0) {
        client ??= await connected(pool);
        const isWhole = await together(client, waiting.splice(0, mostTogether), alone);
        if (!isWhole) letGo(client, true);
        if (!isWhole) client = undefined;
      }
    } catch (fault) {
      for (const each of waiting.splice(0, mostTogether)) each.reject(fault);
    } finally {
      if (client) letGo(client, false);
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

/** Whether the connection is still good; what a failed batch left unanswered is asked alone. */
async function together(client: ReadingClient, statements: readonly Asked[], alone: Ask): Promise<boolean> {
  if (statements.length === 0) return true;
  const { fault, unanswered } = await new Promise<{ fault: unknown; unanswered: readonly Asked[] }>((resolve) => {
    const parserOf = (dataType: number) => client.getTypeParser(dataType, 'text');
    client.query(new StatementBatch(statements, parserOf, (fault, unanswered) => resolve({ fault, unanswered })));
  });
  for (const each of unanswered) alone(each).then(each.resolve, each.reject);
  return fault === undefined;
}

async function connected(pool: ReadingPool): Promise<ReadingClient> {
  const client = await pool.connect();
  client.on('error', ignored);
  return client;
}

function letGo(client: ReadingClient, isBroken: boolean): void {
  client.removeListener('error', ignored);
  client.release(isBroken);
}

/** A connection that breaks while it is asked fails its batch; one without a listener would end the process. */
const ignored = (): void => {};
