import { randomBytes } from 'node:crypto';
import { setTimeout as pause } from 'node:timers/promises';
import type { Book } from '../book.js';
import type { WriteTransaction } from '../connection/write-transaction.js';
import type { SqlValue } from '../connection/sql.js';
import { readFrontier, walkLog } from '../log/log.js';
import { columnNames, indexTables, type IndexTable, stagedName, stagedNames } from '../projection/index-tables.js';
import { touchedConcurrently } from './touched-concurrently.js';
import { scratchBook, type ScratchBook } from './scratch-book.js';
import {
  attachedScratch,
  moveIn,
  removeStaged,
  type Staged,
  type StagedConcerns,
  stagedUnder,
} from './staged-tables.js';

const tries = 3;

/**
 * Like `Book.write`, for work that takes seconds: it runs on a copy of the book without the lock; one short transaction
 * then moves its entries in, all or none. A book in a file reads them from the copy; on PostgreSQL they are staged in
 * tables beforehand. If entries written meanwhile affect a lot of this work
 * (see `touchedConcurrently`), it runs again on a new copy; undefined where that happened three times. `work` must
 * change nothing outside its transaction, and may run again.
 */
export async function writeStaged<T extends object>(
  book: Book,
  work: (tx: WriteTransaction) => Promise<T>,
): Promise<T | undefined> {
  for (let attempt = 0; attempt < tries; attempt++) {
    const scratch = await scratchBook(book);
    const batch = 'file' in book.location ? undefined : `${new Date().toISOString()} ${randomBytes(8).toString('hex')}`;
    try {
      const copiedAt = (await readFrontier(scratch.book.read)).entries;
      const answer = await scratch.book.write(work);
      if ('problem' in answer) return answer;
      const staged = await stage(book, scratch, batch, copiedAt);
      if (staged.leaves.length === 0 || (await moved(book, scratch, staged))) return answer;
    } finally {
      await scratch.close();
      // Rows that can't be removed now, for example on a full disk, are removed the next day.
      if (batch !== undefined) await cleared(book, batch).catch(() => {});
    }
  }
  return undefined;
}

/**
 * Some rows at a time, then a pause as long as they took, in which other writers, in other processes too, get the lock.
 */
const atOnce = 250;

async function inSlices(book: Book, table: string, columns: readonly string[], lines: readonly SqlValue[][]) {
  for (let first = 0; first < lines.length; first += atOnce) {
    const began = performance.now();
    await book.writeHousehold((sql) => sql.insert(table, columns, lines.slice(first, first + atOnce)));
    await pause(performance.now() - began);
  }
}

/** What was written on the copy. Its rows are copied to the staging tables under `batch`, where that is given. */
async function stage(book: Book, scratch: ScratchBook, batch: string | undefined, copiedAt: number): Promise<Staged> {
  const entries = await scratch.book.read.rows<{ leaf: string }>`SELECT leaf FROM entry WHERE seq > ${copiedAt}
    ORDER BY seq`;
  if (batch !== undefined) await copyToStaging(book, scratch, batch, copiedAt);
  const gone = new Map<IndexTable, SqlValue[][]>();
  for (const table of indexTables) {
    const keys = await scratch.keysGone(table);
    if (keys.length > 0) gone.set(table, keys);
  }
  let concerns: Promise<StagedConcerns> | undefined;
  return {
    source: batch === undefined ? attachedScratch(copiedAt) : stagedUnder(batch),
    copiedAt,
    leaves: entries.map(({ leaf }) => leaf),
    concerns: () => (concerns ??= readConcerns(scratch, copiedAt)),
    gone,
  };
}

async function copyToStaging(book: Book, scratch: ScratchBook, batch: string, copiedAt: number): Promise<void> {
  for (let last = copiedAt; ;) {
    const rows = await scratch.book.read.rows<EntryColumns>`SELECT seq, sugarhouse, author, idempotency_key, sent, json,
      leaf FROM entry WHERE seq > ${last} ORDER BY seq LIMIT 1000`;
    const end = rows.at(-1);
    if (!end) break;
    last = end.seq;
    const lines = rows.map((row): SqlValue[] => [batch, ...entryColumns.map((column) => row[column])]);
    await inSlices(book, 'staged_entry', ['batch', 'place', ...entryColumns.slice(1)], lines);
  }
  for (const table of indexTables)
    for await (const rows of scratch.changed(table)) {
      const lines = rows.map((row): SqlValue[] => [
        batch,
        ...Object.keys(table.columns).map((column) => row[column] ?? null),
      ]);
      await inSlices(book, stagedName(table), ['batch', ...columnNames(table)], lines);
    }
}

async function readConcerns(scratch: ScratchBook, copiedAt: number): Promise<StagedConcerns> {
  let namesItself = false;
  for await (const { json } of walkLog(scratch.book.read, copiedAt))
    namesItself ||= Number(/"corrects":(\d+)/.exec(json)?.[1] ?? 0) > copiedAt;
  const [lots, records] = [new Set<string>(), new Set<string>()];
  for (const table of indexTables) {
    const columns = lotColumns[table.name] ?? [];
    if (columns.length === 0 && table.name !== 'record') continue;
    for (const row of await scratch.keysChanged(table)) {
      for (const column of columns) lots.add(`${String(row['sugarhouse'])} ${String(row[column])}`);
      if (table.name === 'record') records.add(`${String(row['sugarhouse'])} ${row['kind']} ${row['id']}`);
    }
  }
  return { namesItself, lots, records };
}

async function cleared(book: Book, batch: string): Promise<void> {
  const aDayAgo = new Date(Date.now() - 86_400_000).toISOString();
  for (const name of stagedNames()) {
    const began = performance.now();
    await book.writeHousehold((sql) => removeStaged(sql, name, batch, aDayAgo));
    await pause(performance.now() - began);
  }
}

/** Columns of index tables that name lots; all belong to the key. */
const lotColumns: Readonly<Record<string, readonly string[]>> = {
  lot: ['code'],
  lot_entry: ['lot'],
  flow: ['from_lot', 'into_lot'],
};

const entryColumns = ['seq', 'sugarhouse', 'author', 'idempotency_key', 'sent', 'json', 'leaf'] as const;
interface EntryColumns extends Record<(typeof entryColumns)[number], string | number> {
  readonly seq: number;
  readonly json: string;
  readonly leaf: string;
}

/**
 * Whether it was moved in; otherwise nothing was. Most entries written meanwhile are checked before the lock is taken.
 */
async function moved(book: Book, scratch: ScratchBook, staged: Staged): Promise<boolean> {
  const lookedAt = (await readFrontier(book.read)).entries;
  if (await touchedConcurrently(book.read, staged, staged.copiedAt)) return false;
  const move = async ({ sql, adopt }: WriteTransaction): Promise<{ problem?: 'touched' }> => {
    if (await touchedConcurrently(sql, staged, lookedAt)) return { problem: 'touched' };
    await moveIn(sql, staged, (await readFrontier(sql)).entries);
    // The last of them identifies this move where the connection is lost during its commit.
    adopt(staged.leaves);
    return {};
  };
  const answer = await ('file' in book.location ? book.writeBeside(scratch.file, move) : book.write(move));
  return answer.problem === undefined;
}
