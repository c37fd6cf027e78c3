import type { DataSource, EntityManager } from 'typeorm';
import { type ReadingPool, readingLanes } from './reading-lanes.js';

type Ask = (text: string, values: unknown[]) => Promise<unknown>;

/**
 * Runs PostgreSQL queries as named prepared statements: each connection parses and plans one once, which is most of the
 * time of a look-up by key. Only constant SQL has names, so there are at most about two hundred; a list's length or a
 * table's name in the text would make one of each. A reader sends them over its lanes, and anything else over TypeORM's
 * pool; inside a transaction the query runner keeps the connection and monitors it.
 */
export function preparedOn(source: DataSource | EntityManager): Ask {
  if (!('options' in source)) return inTurn((text, values) => source.query(named(text) as never, values));
  const { master } = source.driver as unknown as { master: Pool };
  const alone = async (text: string, values: readonly unknown[]) =>
    (await master.query({ ...named(text), values })).rows;
  const together = readingLanes(master, ({ text, values }) => alone(text, values));
  return (text, values) => {
    const name = names.get(text);
    return name === undefined ? alone(text, values) : together({ name, text, values });
  };
}

/** One connection runs one statement at a time, also where several are started together. */
function inTurn(ask: Ask): Ask {
  let last: Promise<unknown> = Promise.resolve();
  return (text, values) => {
    const answer = last.then(() => ask(text, values));
    last = answer.catch(() => {});
    return answer;
  };
}

interface Pool extends ReadingPool {
  query(request: { text: string; name?: string; values: readonly unknown[] }): Promise<{ rows: unknown[] }>;
}

function named(text: string): { text: string; name?: string } {
  const name = names.get(text);
  return name === undefined ? { text } : { text, name };
}

/** Marks SQL as constant, so that it is prepared by name. */
export function isFixed(text: string): void {
  if (!names.has(text)) names.set(text, `boilbook_${names.size + 1}`);
}
const names = new Map<string, string>();
