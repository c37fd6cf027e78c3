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
  /**
   * The index rows changed since the copy was made: these columns of their new versions, or the keys of deleted ones.
   */
  changed(
    table: IndexTable,
    columns: readonly string[],
  ): AsyncGenerator<{ readonly rows: readonly Row[]; readonly gone: readonly SqlValue[][] }>;
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
    const book = await openScratchBook(file);
    await book.writeHousehold(async (sql) => {
      for (const statement of indexTables.flatMap(noteChanges)) await sql.statement(statement);
    });
    return {
      book,
      file,
      changed: (table, columns) => changedRows(book.read, table, columns),
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

async function* changedRows(sql: Sql, table: IndexTable, read: readonly string[]) {
  const key = table.key.map((column) => `changed.${column}`).join(', ');
  const columns = read.map((column) => `own.${column}`);
  const join = table.key.map((column) => `own.${column} = changed.${column}`).join(' AND ');
  let last: SqlValue[] | undefined;
  for (;;) {
    const some: Row[] = await sql.statement<Row>(
      `SELECT ${table.key.map((column) => `changed.${column} AS key_${column}`).join(', ')}, ${columns.join(', ')}
       FROM changed_${table.name} AS changed LEFT JOIN ${table.name} AS own ON ${join}
       ${last ? `WHERE (${key}) > (${last.map(() => '?').join(', ')})` : ''} ORDER BY ${key} LIMIT 1000`,
      last ?? [],
    );
    const end = some.at(-1);
    if (!end) return;
    const isThere = (row: Row): boolean => table.key.every((column) => row[column] !== null);
    yield {
      rows: some.filter(isThere),
      gone: some.filter((row) => !isThere(row)).map((row) => table.key.map((column) => row[`key_${column}`] ?? null)),
    };
    last = table.key.map((column) => end[`key_${column}`] ?? null);
  }
}
