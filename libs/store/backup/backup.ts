import { existsSync } from 'node:fs';
import { copyFile, mkdir, open, rename, rm, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { makePrivate, pruneBeforeUpdate, pruneScheduled } from './backup-folder.js';
import { type Book, openBook } from '../book.js';
import { finishRestore, markerOf, moveIn, type Restoring } from '../connection/book-location.js';
import { copyBook } from './copy-book.js';
import { openBesideBook, knownMigrations, openForReading } from '../connection/engine.js';
import { readFrontier, walkLog } from '../log/log.js';
import { type Frontier, growFrontier, leafHash, rootOf } from '../log/merkle.js';
import { sqlOver } from '../connection/sql.js';

/** The file is not a usable book; thrown before anything is changed. */
export class NotABook extends Error {}
/** Another process has the book open. */
export class BookInUse extends Error {}

/**
 * A copy of the whole book in one SQLite file, made while it is in use: written under a temporary name, checked,
 * synced, and only then renamed. A live file is never copied byte by byte: its write-ahead log would be lost.
 */
export async function backUpBook(book: Book, file: string): Promise<void> {
  await mkdir(dirname(file), { recursive: true, mode: 0o700 });
  const unfinished = `${file}.unfinished-${process.pid}`;
  await rm(unfinished, { force: true });
  try {
    await copyOfBook(book, unfinished);
    await checkBookFile(unfinished);
    makePrivate(unfinished, 0o600);
    await sync(unfinished);
    await rename(unfinished, file);
    await sync(dirname(file));
  } finally {
    for (const end of ['', '-wal', '-shm', '-journal']) await rm(unfinished + end, { force: true });
  }
}

/** A consistent copy in a SQLite file, whichever engine the book is on; not checked. */
const copyOfBook = (book: Book, file: string): Promise<void> =>
  'file' in book.location ? vacuumInto(book.location.file, file) : copyIntoFile(book, file);

/**
 * The same for a copy that is deleted after use, so it isn't synced: that took 70 to 90 of 180 to 300 ms.
 */
export const temporaryCopyOfBook = (book: Book, file: string): Promise<void> =>
  'file' in book.location ? vacuumInto(book.location.file, file, { isSynced: false }) : copyIntoFile(book, file);

/** The same for a book that isn't open yet, because opening will change it. */
export async function backUpFile(bookFile: string, file: string): Promise<void> {
  await mkdir(dirname(file), { recursive: true, mode: 0o700 });
  const unfinished = `${file}.unfinished-${process.pid}`;
  try {
    await vacuumInto(bookFile, unfinished);
    makePrivate(unfinished, 0o600);
    await sync(unfinished);
    await rename(unfinished, file);
  } finally {
    await rm(unfinished, { force: true });
  }
}

/** A dated backup beside the others; the oldest beyond `keep` are deleted. */
export async function backUpOnSchedule(book: Book, folder: string, stamp: string, keep: number): Promise<string> {
  const name = `book-${stamp}.sqlite`;
  await backUpBook(book, join(folder, name));
  await pruneScheduled(folder, name, keep);
  return join(folder, name);
}

/** Backs up a book before a migration or a rebuild of its index; the last five of these are kept. */
export async function backUpBeforeUpdate(bookFile: string, folder: string, now: Date): Promise<void> {
  const name = `before-update-${now.toISOString().replace(/[:.]/g, '-')}.sqlite`;
  await backUpFile(bookFile, join(folder, name));
  await pruneBeforeUpdate(folder, name, 5);
}

/**
 * Replaces the book with a backup. The file is checked first; an existing book is renamed, to the name that is
 * returned. Throws NotABook or BookInUse with nothing touched.
 */
export async function restoreBook(
  from: string,
  bookFile: string,
  stamp: string,
): Promise<{ keptAside: string | undefined }> {
  if (!existsSync(from)) throw new NotABook(`There is no file ${from}.`);
  await checkBookFile(from);
  await mkdir(dirname(bookFile), { recursive: true, mode: 0o700 });
  const refusal = finishRestore(bookFile);
  if (refusal !== undefined) throw new BookInUse(refusal);
  const arriving = `${bookFile}.arriving-${process.pid}`;
  const marker = markerOf(bookFile);
  try {
    await copyFile(from, arriving);
    makePrivate(arriving, 0o600);
    await sync(arriving);
    const isThere = existsSync(bookFile);
    if (isThere) await takeAlone(bookFile);
    const aside = nameAside(bookFile, stamp);
    // From here on the marker names both files, so that the next start can finish after a power cut.
    await writeFile(`${marker}-new`, JSON.stringify({ pid: process.pid, arriving, aside } satisfies Restoring));
    await sync(`${marker}-new`);
    await rename(`${marker}-new`, marker);
    await sync(dirname(bookFile));
    moveIn(bookFile, { arriving, aside });
    await sync(dirname(bookFile));
    await rm(marker, { force: true });
    return { keptAside: isThere ? aside : undefined };
  } finally {
    // While the marker exists, the arriving file is still needed.
    if (!existsSync(marker)) await rm(arriving, { force: true });
  }
}

/** An unused file name beside the book. */
function nameAside(bookFile: string, stamp: string): string {
  const stem = join(dirname(bookFile), `${basename(bookFile, '.sqlite')}-kept-${stamp}`);
  const taken = (name: string): boolean => ['', '-wal'].some((end) => existsSync(name + end));
  let aside = `${stem}.sqlite`;
  for (let n = 2; taken(aside); n++) aside = `${stem}-${n}.sqlite`;
  return aside;
}

/** Whether a file is a complete book: SQLite's own check, a version this program knows, a log that matches its root. */
export async function checkBookFile(file: string): Promise<{ entries: number; root: string }> {
  const source = openBesideBook(file);
  try {
    await source.initialize();
    await source.query('PRAGMA query_only = ON');
    const sql = sqlOver(source);
    const checked = await sql.statement<{ integrity_check: string }>('PRAGMA integrity_check');
    if (checked[0]?.integrity_check !== 'ok')
      throw new NotABook(`${file} is damaged: ${checked[0]?.integrity_check ?? 'unreadable'}.`);
    const migrations = await sql.statement<{ name: string }>('SELECT name FROM migrations');
    if (migrations.some(({ name }) => !knownMigrations.includes(name)))
      throw new NotABook(`${file} was written by a newer version of Boilbook: update Boilbook first.`);
    let frontier: Frontier = [];
    let entries = 0;
    for await (const row of walkLog(sql)) {
      if (leafHash(row.json) !== row.leaf)
        throw new NotABook(`${file} is damaged: entry ${row.seq} does not match its hash.`);
      frontier = growFrontier(frontier, entries++, row.leaf);
    }
    const head = await readFrontier(sql);
    if (head.entries !== entries || rootOf(head.frontier) !== rootOf(frontier))
      throw new NotABook(`${file} is damaged: its entries do not give its root.`);
    return { entries, root: rootOf(frontier) };
  } catch (fault) {
    if (fault instanceof NotABook) throw fault;
    throw new NotABook(`${file} is not a Boilbook backup, or is damaged (${(fault as Error).message}).`);
  } finally {
    if (source.isInitialized) await source.destroy();
  }
}

/**
 * Leaving WAL mode needs exclusive access, so it fails while any other process has the book open; and it moves what the
 * -wal file still held into the book before the book is renamed.
 */
async function takeAlone(bookFile: string): Promise<void> {
  const source = openBesideBook(bookFile, 500);
  try {
    await source.initialize();
    const [mode] = await source.query<{ journal_mode: string }[]>('PRAGMA journal_mode = DELETE');
    if (mode?.journal_mode !== 'delete') throw new Error('locked');
  } catch (fault) {
    if (/lock|busy/i.test((fault as Error).message))
      throw new BookInUse('Another process has the book open: stop the server first, then restore.');
    // A book too damaged to open is still renamed and kept.
  } finally {
    if (source.isInitialized) await source.destroy();
  }
}

/** On its own connection: SQLite copies a consistent snapshot while other connections continue. */
async function vacuumInto(bookFile: string, file: string, { isSynced } = { isSynced: true }): Promise<void> {
  const source = await openForReading({ file: bookFile });
  try {
    // The copy writes to another file, which this connection is allowed to do.
    await source.query('PRAGMA query_only = OFF');
    // The copy is synced as this connection is. The book isn't written to, and is synced again before it is closed.
    if (!isSynced) await source.query('PRAGMA synchronous = OFF');
    await source.query('VACUUM INTO ?', [file]);
  } finally {
    if (!isSynced) await source.query('PRAGMA synchronous = FULL');
    await source.destroy();
  }
}

async function copyIntoFile(book: Book, file: string): Promise<void> {
  const copy = await openBook({ file });
  try {
    await copyBook(book, copy);
  } finally {
    await copy.close();
  }
}

async function sync(path: string): Promise<void> {
  const handle = await open(path, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
