import type { DataSource, EntityManager } from 'typeorm';

type Ask = (text: string, values: unknown[]) => Promise<unknown>;

/**
 * PostgreSQL by named prepared statements: each connection parses and plans one once, which is most of the time of a
 * look-up by key. Only statements as they stand in the source have names, so there are some two hundred at most; a
 * list's length or a table's name in the text would make one of each. A reader goes to TypeORM's pool itself; inside a
 * transaction the runner keeps the connection, and its watch over it.
 */
export function preparedOn(source: DataSource | EntityManager): Ask {
  if (!('options' in source)) return (text, values) => source.query(named(text) as never, values);
  const { master } = source.driver as unknown as { master: Pool };
  return async (text, values) => (await master.query({ ...named(text), values })).rows;
}

interface Pool {
  query(request: { text: string; name?: string; values: unknown[] }): Promise<{ rows: unknown[] }>;
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
