import { mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { addKey, addPerson } from '#libs/actions/accounts/accounts.js';
import { startSession } from '#libs/actions/accounts/sign-in.js';
import { type Book, openBook } from '#libs/store/book.js';
import type { BookLocation } from '#libs/store/connection/engine.js';
import { readHead } from '#libs/store/log/log.js';
import type { Engine } from '../engines.js';
import { startServer } from '../server.js';
import { recordOrThrow } from '../sugarhouse.js';
import { whereBooksAre } from '../where-books-are.mjs';
import type { Role } from './model.js';
import type { Person, Place } from './send-operation.js';

export const eveningBegins = new Date('2026-05-01T22:00:00Z');

/** One server for all seeds, since building it takes longer than a seed. Its book is replaced, as at a new start. */
export interface SimulationPlace extends Place {
  readonly engine: Engine['name'];
  readonly people: readonly Person[];
  /** Entries of the log before the first operation. */
  readonly begun: number;
  /** A copy of the book as it was set up, at its own location. */
  freshBook(): Promise<BookLocation>;
  /** A file name for a book after a crash. */
  nextFile(): string;
  /** From now on requests and commands use this book. */
  use(book: Book): void;
  close(): Promise<void>;
}

/** The caller has started `engine`, and stops it. */
export async function openPlace(engine: Engine): Promise<SimulationPlace> {
  const at = await startServer({}, { requestsPerMinute: 1_000_000 });
  at.clock.now = eveningBegins;
  const folder = mkdtempSync(join(whereBooksAre(), 'boilbook-faults-'));
  const first = await engine.freshKeeping();
  const book = await openBook(first);
  await recordOrThrow(book, 'house');
  const people: Person[] = [];
  for (const [initials, role] of [
    ['WE', 'owner'],
    ['OE', 'maker'],
    ['JP', 'helper'],
    ['GU', 'guest'],
  ] as const)
    people.push(await personOf(book, initials, role));
  const begun = (await readHead(book.read)).entries;
  await book.close();
  let [made, current] = [0, at.book];
  const nextFile = (): string => join(folder, `book-${++made}.sqlite`);
  const freshBook = await engine.copyOf(first);
  return {
    at,
    folder,
    engine: engine.name,
    people,
    begun,
    book: () => current,
    use: (next) => {
      current = next;
      Object.assign(at.server, { book: next });
    },
    nextFile,
    freshBook,
    close: async () => {
      await at.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

async function personOf(book: Book, initials: string, role: Role): Promise<Person> {
  await addPerson(book, 'home', { initials, role });
  const made = await addKey(book, 'home', { name: `${role} script`, role }, eveningBegins);
  const { token } = await startSession(book, 'home', { initials, device: 'a phone' }, eveningBegins);
  return { initials, role, key: 'key' in made ? made.key : '', cookie: `boilbook=${token}` };
}
