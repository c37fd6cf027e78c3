import { mkdtemp, readdir, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Book, openScratchBook } from '../book.js';
import { temporaryCopyOfBook } from '../backup/backup.js';
import { indexTables, type IndexTable } from '../projection/index-tables.js';
import type { Row, Sql, SqlValue } from '../connection/sql.js';

export interface ScratchBook {
  readonly book: Book;
  readonly file: string;
  /** The index rows added or changed since the copy was made, as they are now, a thousand at a time. */
  changed(table: IndexTable): AsyncGenerator<readonly Row[]>;
  /** The keys of rows added, changed or deleted since then. */
  keysChanged(table: IndexTable): Promise<Row[]>;
  /** The keys of rows deleted since then. */
  keysGone(table: IndexTable): Promise<SqlValue[][]>;
  close(): Promise<void>;
}

/**
 * A SQLite copy of the whole book, on either engine, for a write that would hold the book's one lock for too long. It
 * records the keys of changed index rows.
 */
export async function scratchBook(of: Book): Promise<ScratchBook> {
  await removeLeftOver();
  const folder = await mkdtemp(join(tmpdir(), folderPrefix));
  try {
    const file = join(folder, 'book.sqlite');
    await temporaryCopyOfBook(of, file);
    const book = await openScratchBook(file, indexTables.flatMap(noteChanges));
    return {
      book,
      file,
      changed: (table) => changedRows(book.read, table),
      keysChanged: ({ name, key }) => book.read.statement(`SELECT ${key.join(', ')} FROM changed_${name}`),
      keysGone: (table) => keysGone(book.read, table),
      close: async () => {
        await book.close();
        await rm(folder, { recursive: true, force: true });
      },
    };
  } catch (fault) {
    await rm(folder, { recursive: true, force: true });
    throw fault;
  }
}

const folderPrefix = 'boilbook-scratch-';

/** Removes copies that a killed process left more than a day ago; no work on one takes as long. */
async function removeLeftOver(): Promise<void> {
  const names = (await readdir(tmpdir())).filter((name) => name.startsWith(folderPrefix));
  for (const folder of names.map((name) => join(tmpdir(), name))) {
    const changedMs = await stat(folder).then(
      ({ mtimeMs }) => mtimeMs,
      () => undefined,
    );
    const isOld = changedMs !== undefined && changedMs < Date.now() - 86_400_000;
    // A copy of another user of this machine can't be removed.
    if (isOld) await rm(folder, { recursive: true, force: true }).catch(() => {});
  }
}

function noteChanges({ name, key }: IndexTable): string[] {
  const insertKey = (row: 'new' | 'old'): string =>
    `INSERT INTO changed_${name} SELECT ${key.map((column) => `${row}.${column}`).join(', ')} WHERE NOT EXISTS
       (SELECT 1 FROM changed_${name} WHERE ${key.map((column) => `${column} = ${row}.${column}`).join(' AND ')})`;
  return [
    `CREATE TABLE changed_${name} (${key.join(', ')}, PRIMARY KEY (${key.join(', ')})) WITHOUT ROWID`,
    `CREATE TRIGGER added_${name} AFTER INSERT ON ${name} BEGIN ${insertKey('new')}; END`,
    `CREATE TRIGGER updated_${name} AFTER UPDATE ON ${name} BEGIN ${insertKey('new')}; END`,
    `CREATE TRIGGER removed_${name} AFTER DELETE ON ${name} BEGIN ${insertKey('old')}; END`,
  ];
}

async function* changedRows(sql: Sql, table: IndexTable): AsyncGenerator<readonly Row[]> {
  const key = table.key.map((column) => `changed.${column}`).join(', ');
  let last: SqlValue[] | undefined;
  for (;;) {
    const some: Row[] = await sql.statement<Row>(
      `SELECT own.* FROM changed_${table.name} AS changed CROSS JOIN ${table.name} AS own ON ${sameKey(table)}
       ${last ? `WHERE (${key}) > (${last.map(() => '?').join(', ')})` : ''} ORDER BY ${key} LIMIT 1000`,
      last ?? [],
    );
    const end = some.at(-1);
    if (!end) return;
    yield some;
    last = table.key.map((column) => end[column] ?? null);
  }
}

async function keysGone(sql: Sql, table: IndexTable): Promise<SqlValue[][]> {
  const rows = await sql.statement<Row>(
    `SELECT ${table.key.map((column) => `changed.${column}`).join(', ')} FROM changed_${table.name} AS changed
     WHERE NOT EXISTS (SELECT 1 FROM ${table.name} AS own WHERE ${sameKey(table)})`,
  );
  return rows.map((row) => table.key.map((column) => row[column] ?? null));
}

const sameKey = ({ key }: IndexTable): string => key.map((column) => `own.${column} = changed.${column}`).join(' AND ');
