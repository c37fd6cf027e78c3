import { randomUUID } from 'node:crypto';
import type { Book } from '../book.js';
import { findNote } from './household.js';
import type { Sql } from '../connection/sql.js';
import { sugarhouseReader } from '../connection/sugarhouse-reader.js';

/** It belongs to the book as a whole, so it is stored under no sugarhouse. */
const [noHouse, noteName] = ['', 'book-id'];

/**
 * A random id of the book, made once and stored in it: a backup, a restored book and a copy on the other engine have
 * the same, a new practice book has another. It shows whether a form or a queued entry was meant for this book.
 */
export async function bookId(book: Book): Promise<string> {
  const known = ids.get(book);
  if (known !== undefined) return known;
  const drawn = drawnFor(book);
  // On a full disk pages are still readable: the generated id serves this process, and is stored once there is room.
  const saved = (await readId(book.read)) ?? (await keepId(book, drawn).catch(() => undefined));
  if (saved !== undefined) ids.set(book, saved);
  return saved ?? drawn;
}

const readId = (sql: Sql): Promise<string | undefined> => findNote(sugarhouseReader(sql, noHouse), noteName);

async function keepId(book: Book, drawn: string): Promise<string> {
  return book.writeHousehold(async (sql) => {
    await sql.run`INSERT INTO household_note (sugarhouse, name, words) VALUES (${noHouse}, ${noteName}, ${drawn})
      ON CONFLICT (sugarhouse, name) DO NOTHING`;
    // Another process may have made one first.
    return (await readId(sql)) as string;
  });
}

function drawnFor(book: Book): string {
  const drawn = drawnIds.get(book) ?? randomUUID();
  drawnIds.set(book, drawn);
  return drawn;
}

const ids = new WeakMap<Book, string>();
const drawnIds = new WeakMap<Book, string>();
