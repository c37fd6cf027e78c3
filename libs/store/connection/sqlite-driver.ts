import sqlite3 from 'sqlite3';

type Answer = (this: unknown, fault: Error | null, rows?: unknown[]) => void;

/**
 * The sqlite3 package as passed to TypeORM, with two differences. It ignores the verbose mode that TypeORM requests,
 * which records the stack and all values of each statement. And repeated statements are prepared once: a trace's
 * statements take longer to parse than to run.
 */
export const sqliteDriver = {
  Database: openDatabase as unknown as typeof sqlite3.Database,
  verbose: () => sqliteDriver,
};

export interface Database {
  all(text: string, values: readonly unknown[], answer: (fault: Error | null, rows?: unknown[]) => void): void;
  /** Runs several statements without values. */
  exec(text: string, done: (fault: Error | null) => void): void;
  close(closed: (fault: Error | null) => void): void;
}

/** Opens a SQLite file through the driver with cached prepared statements. */
export function openDatabase(file: string, opened: (fault: Error | null) => void): sqlite3.Database {
  const database = new sqlite3.Database(file, opened);
  const prepared = preparedOn(database);
  const all = database.all.bind(database);
  const run = database.run.bind(database);
  const close = database.close.bind(database);
  const ask =
    (how: 'all' | 'run', plain: (...args: unknown[]) => unknown) =>
    (...args: unknown[]): void => {
      const [sql, values, answer] = args;
      // TypeORM omits the values where it sets up the connection.
      if (typeof sql !== 'string' || typeof answer !== 'function' || !isPreparable.test(sql))
        return void plain(...args);
      prepared.find(sql).then(
        (statement) => void statement[how](values, answer as Answer),
        (fault: Error) => (answer as Answer).call(database, fault),
      );
    };
  database.all = ask('all', all as never) as never;
  database.run = ask('run', run as never) as never;
  database.close = (closed: (fault: Error | null) => void) => {
    // SQLite does not close a database with open statements.
    void prepared.finalize().then(() => close(closed));
  };
  return database;
}

/** Pragmas, DDL and VACUUM are not prepared: each runs once. */
const isPreparable = /^\s*(?:SELECT|INSERT|UPDATE|DELETE|WITH|BEGIN|COMMIT|ROLLBACK)\b/;

const atMost = 200;

function preparedOn(database: sqlite3.Database) {
  // Least recently used first.
  const statements = new Map<string, Promise<sqlite3.Statement>>();
  const finalize = async (statement: Promise<sqlite3.Statement>): Promise<void> => {
    const known = await statement.catch(() => undefined);
    if (known) await new Promise<void>((resolve) => known.finalize(() => resolve()));
  };
  return {
    find: (sql: string): Promise<sqlite3.Statement> => {
      const known = statements.get(sql) ?? prepare(database, sql);
      statements.delete(sql);
      statements.set(sql, known);
      // A statement that can't be prepared yet, because a table is missing, may be later.
      known.catch(() => statements.get(sql) === known && statements.delete(sql));
      for (const [oldest, statement] of statements) {
        if (statements.size <= atMost) break;
        statements.delete(oldest);
        void finalize(statement);
      }
      return known;
    },
    finalize: async (): Promise<void> => {
      const all = [...statements.values()];
      statements.clear();
      for (const statement of all) await finalize(statement);
    },
  };
}

const prepare = (database: sqlite3.Database, sql: string): Promise<sqlite3.Statement> =>
  new Promise((resolve, reject) => {
    const statement = database.prepare(sql, (fault: Error | null) => (fault ? reject(fault) : resolve(statement)));
  });
