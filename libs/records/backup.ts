import { existsSync } from 'node:fs';
import { copyFile, mkdir, open, readdir, rename, rm } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { type Book, openBook } from './book.js';
import { copyBook } from './copy-book.js';
import { besideTheBook, knownMigrations, openForReading } from './engine.js';
import { readFrontier, walkLog } from './log.js';
import { type Frontier, growFrontier, leafHash, rootOf } from './merkle.js';
import { sqlOver } from './sql.js';

/** Why a file cannot be the book: said before anything was touched. */
export class NotABook extends Error {}
/** Another process has the book open. */
export class BookInUse extends Error {}

/**
 * A copy of the whole book in one SQLite file, made while it is in use: written under another name, checked,
 * synced, and only then given its own. A live file is never copied byte by byte: its log beside it would be lost.
 */
export async function backUpBook(book: Book, file: string): Promise<void> {
  await mkdir(dirname(file), { recursive: true, mode: 0o700 });
  const unfinished = `${file}.unfinished-${process.pid}`;
  await rm(unfinished, { force: true });
  try {
    if ('file' in book.keeping) await vacuumInto(book.keeping.file, unfinished);
    else await copyIntoFile(book, unfinished);
    await checkBookFile(unfinished);
    await sync(unfinished);
    await rename(unfinished, file);
    await sync(dirname(file));
  } finally {
    for (const end of ['', '-wal', '-shm', '-journal']) await rm(unfinished + end, { force: true });
  }
}

/** The same for a book that isn't open yet, because it is about to be changed by being opened. */
export async function backUpFile(bookFile: string, file: string): Promise<void> {
  await mkdir(dirname(file), { recursive: true, mode: 0o700 });
  const unfinished = `${file}.unfinished-${process.pid}`;
  try {
    await vacuumInto(bookFile, unfinished);
    await sync(unfinished);
    await rename(unfinished, file);
  } finally {
    await rm(unfinished, { force: true });
  }
}

/** A dated backup beside the others; the oldest beyond `keep` go. */
export async function backUpNightly(book: Book, folder: string, stamp: string, keep: number): Promise<string> {
  const file = join(folder, `book-${stamp}.sqlite`);
  await backUpBook(book, file);
  const dated = (await readdir(folder)).filter((name) => /^book-[\dT-]+\.sqlite$/.test(name)).sort();
  for (const old of dated.slice(0, Math.max(0, dated.length - keep))) await rm(join(folder, old));
  return file;
}

/**
 * Puts a backup in the book's place. The file is checked first; a book that is there is kept aside under the
 * name this answers. Throws NotABook or BookInUse with nothing touched.
 */
export async function restoreBook(
  from: string,
  bookFile: string,
  stamp: string,
): Promise<{ keptAside: string | undefined }> {
  if (!existsSync(from)) throw new NotABook(`There is no file ${from}.`);
  await checkBookFile(from);
  await mkdir(dirname(bookFile), { recursive: true, mode: 0o700 });
  const arriving = `${bookFile}.arriving-${process.pid}`;
  await copyFile(from, arriving);
  await sync(arriving);
  let keptAside: string | undefined;
  try {
    if (existsSync(bookFile)) await takeAlone(bookFile);
    keptAside = await keepAside(bookFile, stamp);
    await rename(arriving, bookFile);
    await sync(dirname(bookFile));
  } finally {
    await rm(arriving, { force: true });
  }
  return { keptAside };
}

/**
 * Moves what is at the book's place out of the way, under a name that nothing has yet. The log beside the file goes
 * too: left there, SQLite would take it for the log of the book that arrives, and write the old pages into it.
 */
async function keepAside(bookFile: string, stamp: string): Promise<string | undefined> {
  const there = ['', '-wal', '-shm', '-journal'].filter((end) => existsSync(bookFile + end));
  const stem = join(dirname(bookFile), `${basename(bookFile, '.sqlite')}-kept-${stamp}`);
  const taken = (name: string): boolean => ['', '-wal'].some((end) => existsSync(name + end));
  let aside = `${stem}.sqlite`;
  for (let n = 2; taken(aside); n++) aside = `${stem}-${n}.sqlite`;
  for (const end of there) await rename(bookFile + end, aside + end);
  return there.includes('') ? aside : undefined;
}

/** Whether a file is a whole book: SQLite's own check, a version this program knows, a log that gives its root. */
export async function checkBookFile(file: string): Promise<{ entries: number; root: string }> {
  const source = besideTheBook(file);
  try {
    await source.initialize();
    await source.query('PRAGMA query_only = ON');
    const sql = sqlOver(source);
    const checked = await sql.statement<{ integrity_check: string }>('PRAGMA integrity_check');
    if (checked[0]?.integrity_check !== 'ok')
      throw new NotABook(`${file} is damaged: ${checked[0]?.integrity_check ?? 'unreadable'}.`);
    const migrations = await sql.statement<{ name: string }>('SELECT name FROM migrations');
    if (migrations.some(({ name }) => !knownMigrations.includes(name)))
      throw new NotABook(`${file} was written by a newer Boilbook: update the program first.`);
    let frontier: Frontier = [];
    let entries = 0;
    for await (const row of walkLog(sql)) {
      if (leafHash(row.json) !== row.leaf)
        throw new NotABook(`${file} is damaged: entry ${row.seq} does not fit its hash.`);
      frontier = growFrontier(frontier, entries++, row.leaf);
    }
    const head = await readFrontier(sql);
    if (head.entries !== entries || rootOf(head.frontier) !== rootOf(frontier))
      throw new NotABook(`${file} is damaged: its log does not give its root.`);
    return { entries, root: rootOf(frontier) };
  } catch (fault) {
    if (fault instanceof NotABook) throw fault;
    throw new NotABook(`${file} is not a Boilbook backup, or is damaged (${(fault as Error).message}).`);
  } finally {
    if (source.isInitialized) await source.destroy();
  }
}

/**
 * Leaving WAL mode needs the file alone, so it fails while any other process has the book open; and what
 * the -wal file still held is then inside the book before it is moved aside.
 */
async function takeAlone(bookFile: string): Promise<void> {
  const source = besideTheBook(bookFile, 500);
  try {
    await source.initialize();
    const [mode] = (await source.query('PRAGMA journal_mode = DELETE')) as { journal_mode: string }[];
    if (mode?.journal_mode !== 'delete') throw new Error('locked');
  } catch (fault) {
    if (/lock|busy/i.test((fault as Error).message))
      throw new BookInUse('Another process has the book open: stop the server first, then restore.');
    // A book too damaged to open is still kept aside.
  } finally {
    if (source.isInitialized) await source.destroy();
  }
}

/** On a connection of its own: SQLite takes one unmoving view of the book while the others go on. */
async function vacuumInto(bookFile: string, file: string): Promise<void> {
  const source = await openForReading({ file: bookFile });
  try {
    // The copy is a write to another file, which this connection may do.
    await source.query('PRAGMA query_only = OFF');
    await source.query('VACUUM INTO ?', [file]);
  } finally {
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
