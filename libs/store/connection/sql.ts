import type { EntityManager } from 'typeorm';
import type { Connection } from './engine.js';
import type { SqliteConnection } from './sqlite-connection.js';
import { isFixed, preparedOn } from './prepared.js';

export type SqlValue = string | number | null;
export type Row = Record<string, SqlValue>;

/** What a query needs: a place to run it. Both engines, inside a transaction or not. */
export interface Sql {
  readonly engine: 'sqlite' | 'postgres';
  /** Values in the template are bound, never spliced in. */
  rows<T = Row>(text: TemplateStringsArray, ...values: SqlValue[]): Promise<T[]>;
  row<T = Row>(text: TemplateStringsArray, ...values: SqlValue[]): Promise<T | undefined>;
  run(text: TemplateStringsArray, ...values: SqlValue[]): Promise<void>;
  /** Several rows at a time, for jars come by the thousand. */
  insert(table: string, columns: readonly string[], rows: readonly (readonly SqlValue[])[]): Promise<void>;
  /** A statement written by the program itself: table and column names, never anything typed. */
  statement<T = Row>(text: string, values?: readonly SqlValue[]): Promise<T[]>;
}

/** `run`, where given, wraps each statement: the reader retries a lost connection with it. */
export function sqlOver(
  source: Connection | EntityManager,
  run: <T>(ask: () => Promise<T>) => Promise<T> = asked,
): Sql {
  const { type } = ('options' in source ? source : source.connection).options;
  const engine = type === 'postgres' ? 'postgres' : 'sqlite';
  const mark = engine === 'postgres' ? (n: number) => `$${n}` : () => '?';
  const query = isSqlite(source) ? straightTo(source) : preparedOn(source);
  const statement = async <T>(text: string, values: readonly SqlValue[] = []): Promise<T[]> =>
    (await run(() => query(text, values as SqlValue[]))) as T[];
  const rows = async <T>(text: TemplateStringsArray, ...values: SqlValue[]): Promise<T[]> =>
    statement<T>(joinMarks(text, mark), values);

  return {
    engine,
    rows,
    row: async <T>(text: TemplateStringsArray, ...values: SqlValue[]) => (await rows<T>(text, ...values))[0],
    run: async (text, ...values) => void (await rows(text, ...values)),
    insert: async (table, columns, lines) => {
      // Both engines bind at least 32,766 values in one statement.
      const atOnce = Math.max(1, Math.floor(8000 / columns.length));
      for (let first = 0; first < lines.length; first += atOnce) {
        const some = lines.slice(first, first + atOnce);
        let n = 0;
        const marks = some.map((line) => `(${line.map(() => mark(++n)).join(', ')})`).join(', ');
        await statement(`INSERT INTO ${table} (${columns.join(', ')}) VALUES ${marks}`, some.flat());
      }
    },
    statement,
  };
}

const isSqlite = (source: Connection | EntityManager): source is SqliteConnection =>
  'options' in source && source.options.type === 'sqlite';

/** SQLite answers a look-up by key in 20 µs; a way through TypeORM's runner would take as much again. */
function straightTo({ driver }: SqliteConnection): (text: string, values: SqlValue[]) => Promise<unknown> {
  const connection = driver.databaseConnection;
  return (text, values) =>
    new Promise((resolve, reject) =>
      connection.all(text, values, (fault, rows) => (fault ? reject(fault) : resolve(rows ?? []))),
    );
}

const asked = <T>(ask: () => Promise<T>): Promise<T> => ask();

/**
 * The statement's text depends only on where it stands in the source, so it is put together once:
 * a scan or a trace runs the same few thousands of times a second.
 */
function joinMarks(text: TemplateStringsArray, mark: (n: number) => string): string {
  const key = mark(1);
  const known = joined.get(text)?.[key];
  if (known !== undefined) return known;
  const statement = text.reduce((before, after, n) => before + mark(n) + after);
  joined.set(text, { ...joined.get(text), [key]: statement });
  isFixed(statement);
  return statement;
}
const joined = new WeakMap<TemplateStringsArray, Record<string, string>>();

/** Numbers come back from PostgreSQL's counts and sums as text. */
export const toNumber = (value: SqlValue | undefined): number => Number(value ?? 0);
