import { join } from 'node:path';
import { backUpBeforeUpdate } from '#libs/store/backup/backup.js';
import { keepPrivate, refusalAt } from '#libs/store/connection/book-location.js';
import { type Book, openBook } from '#libs/store/book.js';
import type { BookSettings } from '../accounts/book-settings.js';

/** The book cannot be opened or created at this location; the sentence says why. */
export class NotOpened extends Error {}

/** Opens the book of the data folder; before it is migrated or its index rebuilt it is saved beside the others. */
export async function openFrom(settings: BookSettings, beginAnew: boolean, now: Date): Promise<Book> {
  const { location, folder } = settings;
  if (!('file' in location)) return openBook(location);
  const refusal = refusalAt(location.file, beginAnew);
  if (refusal !== undefined) throw new NotOpened(refusal);
  keepPrivate(folder);
  return openBook(location, () => backUpBeforeUpdate(location.file, join(folder, 'backups'), now));
}
