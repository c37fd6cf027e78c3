import { join } from 'node:path';
import { backUpBeforeUpdate } from '#libs/store/backup/backup.js';
import { keepPrivate, refusalAt } from '#libs/store/connection/book-location.js';
import { type Book, openBook } from '#libs/store/book.js';
import type { BookSettings } from '../accounts/book-settings.js';

/** Thrown where the book can't be opened or created at this location; the message says why. */
export class BookNotOpened extends Error {}

/** Opens the book of the data folder. Makes a backup before a migration or a rebuild of the index. */
export async function openConfiguredBook(settings: BookSettings, beginNewBook: boolean, now: Date): Promise<Book> {
  const { location, folder } = settings;
  if (!('file' in location)) return openBook(location);
  const refusal = refusalAt(location.file, beginNewBook);
  if (refusal !== undefined) throw new BookNotOpened(refusal);
  keepPrivate(folder);
  return openBook(location, () => backUpBeforeUpdate(location.file, join(folder, 'backups'), now));
}
