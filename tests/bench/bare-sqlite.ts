import sqlite3 from 'sqlite3';

/** The same driver without our code: statements prepared once, values bound, plain rows returned. */
export interface BareSqlite {
  prepare(sql: string): BareStatement;
  exec(sql: string): Promise<void>;
  readonly close: () => Promise<void>;
}
export interface BareStatement {
  all<T>(...values: unknown[]): Promise<T[]>;
  get<T>(...values: unknown[]): Promise<T | undefined>;
  run(...values: unknown[]): Promise<void>;
}

export async function openBare(file: string): Promise<BareSqlite> {
  const database = await new Promise<sqlite3.Database>((resolve, reject) => {
    const opened = new sqlite3.Database(file, (fault) => (fault ? reject(fault) : resolve(opened)));
  });
  const statements: sqlite3.Statement[] = [];
  return {
    prepare: (sql) => {
      const statement = database.prepare(sql);
      statements.push(statement);
      return {
        all: <T>(...values: unknown[]) => promised<T[]>((done) => statement.all(values, done)),
        get: <T>(...values: unknown[]) => promised<T | undefined>((done) => statement.get(values, done)),
        run: (...values) => promised<void>((done) => statement.run(values, done)),
      };
    },
    exec: (sql) => promised<void>((done) => database.exec(sql, done)),
    close: async () => {
      for (const statement of statements) await promised<void>((done) => statement.finalize(done));
      await promised<void>((done) => database.close(done));
    },
  };
}

function promised<T>(begin: (done: (fault: Error | null, answer?: unknown) => void) => unknown): Promise<T> {
  return new Promise((resolve, reject) => begin((fault, answer) => (fault ? reject(fault) : resolve(answer as T))));
}
