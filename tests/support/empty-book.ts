import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { openBook } from '#libs/store/book.js';
import { whereBooksAre } from './where-books-are.mjs';

/**
 * Puts an empty SQLite book at `file`, unless a book is there. Its tables are made once in a worker and then copied:
 * making them takes seven times as long as opening a copy. What makes them is tested at `bareKeeping` and by each
 * process that a test starts.
 */
export async function putEmptyBook(file: string): Promise<void> {
  if (existsSync(file)) return;
  const bytes = await (empty ??= madeEmpty());
  mkdirSync(dirname(file), { recursive: true, mode: 0o700 });
  writeFileSync(file, bytes, { mode: 0o600 });
}

let empty: Promise<Buffer> | undefined;

async function madeEmpty(): Promise<Buffer> {
  const folder = mkdtempSync(join(whereBooksAre(), 'boilbook-empty-'));
  const file = join(folder, 'book.sqlite');
  await (await openBook({ file })).close();
  const bytes = readFileSync(file);
  rmSync(folder, { recursive: true, force: true });
  return bytes;
}
