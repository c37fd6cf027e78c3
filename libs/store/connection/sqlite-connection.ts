import { openDatabase, type Database } from './sqlite-driver.js';

/**
 * A connection to one SQLite file by its driver alone. It has the members of TypeORM's DataSource that the store uses,
 * so that both engines have one interface; TypeORM itself, which takes a fifth of a second to load, is used for
 * migrations and PostgreSQL only.
 */
export interface SqliteConnection {
  readonly options: { readonly type: 'sqlite' };
  readonly driver: { readonly databaseConnection: Database };
  readonly isInitialized: boolean;
  initialize(): Promise<SqliteConnection>;
  query<T = unknown>(text: string, values?: readonly unknown[]): Promise<T>;
  /** Runs several statements, separated by semicolons, in one call of the driver. */
  exec(text: string): Promise<void>;
  destroy(): Promise<void>;
}

/** A connection to a SQLite file; `initialize` opens it with these pragmas, and a statement before that throws. */
export function sqliteConnection(file: string, busyTimeoutMs: number, pragmas: readonly string[]): SqliteConnection {
  let database: Database | undefined;
  const there = (): Database => {
    if (!database) throw new Error(`${file} is not open`);
    return database;
  };
  const query = <T>(text: string, values: readonly unknown[] = []): Promise<T> =>
    new Promise((resolve, reject) => {
      there().all(text, values, (fault: Error | null, rows?: unknown[]) =>
        fault ? reject(fault) : resolve((rows ?? []) as T),
      );
    });
  const connection: SqliteConnection = {
    options: { type: 'sqlite' },
    driver: {
      get databaseConnection() {
        return there();
      },
    },
    get isInitialized() {
      return database !== undefined;
    },
    initialize: async () => {
      database = await opened(file);
      try {
        await query(`PRAGMA busy_timeout = ${busyTimeoutMs}`);
        for (const pragma of pragmas) await query(`PRAGMA ${pragma}`);
      } catch (fault) {
        await connection.destroy();
        throw fault;
      }
      return connection;
    },
    query,
    exec: (text) =>
      new Promise((resolve, reject) => {
        there().exec(text, (fault) => (fault ? reject(fault) : resolve()));
      }),
    destroy: () =>
      new Promise((resolve, reject) => {
        const closing = there();
        database = undefined;
        closing.close((fault: Error | null) => (fault ? reject(fault) : resolve()));
      }),
  };
  return connection;
}

const opened = (file: string): Promise<Database> =>
  new Promise((resolve, reject) => {
    const database: Database = openDatabase(file, (fault) => (fault ? reject(fault) : resolve(database)));
  });
