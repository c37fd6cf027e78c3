import { copyFileSync, mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import pg from 'pg';
import { type Book, openBook } from '#libs/store/book.js';
import type { BookLocation } from '#libs/store/connection/engine.js';
import { putEmptyBook } from './empty-book.js';
import { startPostgres, type TestPostgres } from './start-postgres.mjs';
import { whereBooksAre } from './where-books-are.mjs';

/** A real database engine for a suite: `start` before all tests, `stop` after; each book is fresh and alone. */
export interface Engine {
  readonly name: 'SQLite' | 'PostgreSQL';
  start(): Promise<void>;
  /** The location of a database without even the tables. */
  bareKeeping(): Promise<BookLocation>;
  /** The location of an empty book. */
  freshKeeping(): Promise<BookLocation>;
  /** An empty book, opened; it is closed with the engine unless the test closes it. */
  freshBook(): Promise<Book>;
  /** A function that copies an existing closed book; it returns each copy's location. */
  copyOf(location: BookLocation): Promise<() => Promise<BookLocation>>;
  /** Writes a book once and returns a function that copies it: for tests that each damage one. */
  copiesOf(write: (book: Book) => Promise<unknown>): Promise<() => Promise<Book>>;
  stop(): Promise<void>;
}

/** For `describe.each(engines())`: one suite, both engines. Each suite calls this to get its own engines. */
export const engines = (): readonly Engine[] => [sqlite(), postgres()];

export function sqlite(): Engine {
  let folder = '';
  let made = 0;
  const { opened, closeAll } = openEngines();
  const freshKeeping = async (): Promise<{ file: string }> => {
    const file = join(folder, `book-${++made}.sqlite`);
    await putEmptyBook(file);
    return { file };
  };
  return {
    name: 'SQLite',
    start: async () => void (folder = mkdtempSync(join(whereBooksAre(), 'boilbook-test-'))),
    bareKeeping: async () => ({ file: join(folder, `bare-${++made}`, 'book.sqlite') }),
    freshKeeping,
    freshBook: async () => opened(await openBook(await freshKeeping())),
    copyOf: async (location) => {
      const from = 'file' in location ? location.file : '';
      return async () => {
        const file = join(folder, `book-${++made}.sqlite`);
        copyFileSync(from, file);
        return { file };
      };
    },
    copiesOf: async (write) => {
      const { file } = await freshKeeping();
      await recordOrThrow({ file }, write);
      return async () => {
        const copy = `${file}.copy-${++made}`;
        copyFileSync(file, copy);
        return opened(await openBook({ file: copy }));
      };
    },
    stop: async () => {
      await closeAll();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/**
 * BOILBOOK_TEST_DATABASE_URL if it is set; otherwise the server that this run of jest starts from npm and deletes. Each
 * suite has its own databases on it, and drops them.
 */
export function postgres(): Engine {
  const mark = `boilbook_test_${process.pid}_${Math.random().toString(36).slice(2, 8)}`;
  const { opened, closeAll } = openEngines();
  const databases: string[] = [];
  let server = '';
  let empty = '';
  let administer: Administrator;
  let own: TestPostgres | undefined;
  const ownServer = async (): Promise<string> => (own = await startPostgres()).url;
  const create = async (database: string, template: string): Promise<string> => {
    await administer.run(created(database, template));
    databases.push(database);
    return at(server, database);
  };
  const freshKeeping = async (): Promise<{ url: string }> => ({
    url: await create(`${mark}_${databases.length}`, empty),
  });
  return {
    name: 'PostgreSQL',
    start: async () => {
      const given = process.env['BOILBOOK_TEST_DATABASE_URL'];
      const ofRun = given === undefined ? await postgresOfRun() : undefined;
      server = given ?? ofRun ?? (await ownServer());
      administer = await administrator(server);
      empty = ofRun === undefined ? `${mark}_empty` : await emptyOfWorker(server, administer);
      if (ofRun === undefined) await (await openBook({ url: await create(empty, 'template0') })).close();
    },
    bareKeeping: async () => ({ url: await create(`${mark}_${databases.length}`, 'template0') }),
    freshKeeping,
    freshBook: async () => opened(await openBook(await freshKeeping())),
    copyOf: async (location) => {
      const template = new URL('url' in location ? location.url : '').pathname.slice(1);
      return async () => ({ url: await create(`${mark}_${databases.length}`, template) });
    },
    copiesOf: async (write) => {
      const { url } = await freshKeeping();
      await recordOrThrow({ url }, write);
      const template = new URL(url).pathname.slice(1);
      return async () => opened(await openBook({ url: await create(`${mark}_${databases.length}`, template) }));
    },
    stop: async () => {
      await closeAll();
      await administer.run(...databases.map((database) => `DROP DATABASE IF EXISTS ${database} WITH (FORCE)`));
      await administer.end();
      await own?.stop();
    },
  };
}

/** The main process of jest starts it (`one-postgres.mjs`); a benchmark runs without jest. */
async function postgresOfRun(): Promise<string | undefined> {
  const request = process.env['BOILBOOK_TEST_POSTGRES'];
  if (request === undefined) return undefined;
  const answer = await fetch(request);
  const text = await answer.text();
  if (!answer.ok) throw new Error(text);
  return text;
}

/**
 * Its files are copied, not sent through the log: that takes a third of the time where few buffers are to be looked
 * through (`one-postgres.mjs`).
 */
const created = (database: string, template: string): string =>
  `CREATE DATABASE ${database} TEMPLATE ${template} STRATEGY FILE_COPY`;

const at = (server: string, database: string): string => {
  const url = new URL(server);
  url.pathname = `/${database}`;
  return url.toString();
};

/** An empty book to copy, made once in a worker and deleted with the server: its tables take as long as many a test. */
const emptyOfWorker = (server: string, administer: Administrator): Promise<string> =>
  (madeEmpty ??= (async () => {
    const name = `boilbook_empty_${process.pid}`;
    await administer.run(created(name, 'template0'));
    await (await openBook({ url: at(server, name) })).close();
    return name;
  })());
let madeEmpty: Promise<string> | undefined;

/** One connection for all that a suite makes and drops: opening another takes longer than a copy of an empty book. */
async function administrator(server: string): Promise<Administrator> {
  const client = new pg.Client({ connectionString: at(server, 'postgres') });
  await client.connect();
  return {
    run: async (...statements) => {
      for (const statement of statements) await client.query(statement);
    },
    end: () => client.end(),
  };
}
interface Administrator {
  run(...statements: string[]): Promise<void>;
  end(): Promise<void>;
}

async function recordOrThrow(location: BookLocation, write: (book: Book) => Promise<unknown>): Promise<void> {
  const book = await openBook(location);
  try {
    await write(book);
  } finally {
    await book.close();
  }
}

/** Books that a test left open are closed with the engine. */
function openEngines() {
  const books = new Set<Book>();
  return {
    opened: (book: Book): Book => {
      const close = async (): Promise<void> => {
        if (books.delete(saved)) await book.close();
      };
      const saved: Book = { ...book, close };
      books.add(saved);
      return saved;
    },
    closeAll: async () => {
      for (const book of [...books]) await book.close();
    },
  };
}
