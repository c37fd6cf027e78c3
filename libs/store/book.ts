import { setTimeout as pause } from 'node:timers/promises';
import { Mutex } from 'async-mutex';
import type { DataSource } from 'typeorm';
import {
  type BookLocation,
  type Connection,
  knownMigrations,
  openForReading,
  openForWriting,
  openScratch,
  runMigrations,
} from './connection/engine.js';
import { applyEntry } from './projection/apply-entry.js';
import { createIndex, dropIndex, indexVersion } from './projection/index-tables.js';
import { isDamage } from './connection/damage-error.js';
import { walkLog } from './log/log.js';
import type { WriteTransaction } from './connection/write-transaction.js';
import { isPassing, writeTimeoutMs, retryTransient } from './connection/retry-transient.js';
import { planFigures } from './connection/plan-figures.js';
import { sqlOver, toNumber, type Sql } from './connection/sql.js';
import { writeOnce } from './connection/write-once.js';
import {
  CommitOutcomeUnknown,
  inTransaction,
  scratchWriter,
  type Writer,
  writerBeside,
  writerOver,
} from './connection/writer.js';
import { numberedEntry } from './log/entry-json.js';

export interface Book {
  readonly location: BookLocation;
  /** The shared reader, for statements that finish at once. */
  readonly read: Sql;
  /**
   * Runs `work` in the only write transaction. Resolves after commit and sync; where `work` returns a `problem` or
   * throws, nothing is written. Not re-entrant. After a lost PostgreSQL connection `work` runs again from the start, so
   * it must not change anything outside the transaction.
   */
  write<T extends object>(work: (tx: WriteTransaction) => Promise<T>): Promise<T>;
  /**
   * The same for a book in a file, with another SQLite file attached as `scratch`, to copy rows from it by statement.
   * Takes a connection of its own: a file can't be attached inside a transaction, nor to one that others go on to use.
   */
  writeBeside<T extends object>(scratchFile: string, work: (tx: WriteTransaction) => Promise<T>): Promise<T>;
  /** Writes to the household tables (accounts, sessions, keys). Not part of the log; same lock, same durability. */
  writeHousehold<T>(work: (sql: Sql) => Promise<T>): Promise<T>;
  /**
   * A consistent snapshot for long reads, on its own connection. Set `rerun` where `work` has no effect beyond its
   * result: it then runs again from the start when the connection is lost.
   */
  snapshot<T>(work: (sql: Sql) => Promise<T>, options?: { readonly rerun?: boolean }): Promise<T>;
  close(): Promise<void>;
}

/** The book was written by a newer version of Boilbook than this one. */
export class NewerBook extends Error {}

/**
 * Opens the book, creating it where there is none and migrating it where it is old. `beforeChange` is called once
 * before an existing book is migrated or its index rebuilt: make a backup there.
 */
export async function openBook(
  location: BookLocation,
  beforeChange: () => Promise<void> = async () => {},
): Promise<Book> {
  const writer = await withRetries(async () => {
    const source = await openForWriting(location);
    try {
      await bringUpToDate(location, source, beforeChange);
      return source;
    } catch (fault) {
      await source.destroy();
      throw fault;
    }
  });
  const reader = await openForReading(location);
  return bookOver(location, writerOver(location, writer), reader);
}

/**
 * A book for a process that draws documents: it reads while another process writes, and every write throws. The book
 * must exist and be up to date; it opens few connections, for one document is made at a time.
 */
export async function openBookForReading(location: BookLocation): Promise<Book> {
  const reader = await openForReading(location, 2);
  const refused = (): Promise<never> => Promise.reject(new Error('This process has opened the book read-only.'));
  return {
    ...bookOver(location, { transaction: refused, close: async () => {} }, reader),
    write: refused,
    writeBeside: refused,
    writeHousehold: refused,
  };
}

/**
 * A copy of an open book, in a file that nobody else has open and that is deleted after use: it is up to date, and its
 * writes are not synced. `statements` are run in it first, all or none.
 */
export async function openScratchBook(file: string, statements: readonly string[]): Promise<Book> {
  const reader = await openScratch(file);
  try {
    await reader.exec(['BEGIN', ...statements, 'COMMIT'].join(';\n'));
  } catch (fault) {
    await reader.destroy();
    throw fault;
  }
  return bookOver({ file }, scratchWriter(file), reader);
}

function bookOver(location: BookLocation, writer: Writer, reader: Connection): Book {
  const turn = new Mutex();
  const read = sqlOver(reader, 'url' in location ? retryTransient : undefined);
  const snapshots = fileSnapshots(location);

  return {
    location,
    read,
    write: (work) => {
      // The timeout runs from the call, not from the start of its turn: queued writes must not add up their timeouts.
      const giveUpAtMs = Date.now() + writeTimeoutMs;
      return turn.runExclusive(() => writeOnce(writer, work, giveUpAtMs));
    },
    writeBeside: (scratchFile, work) => {
      const giveUpAtMs = Date.now() + writeTimeoutMs;
      return turn.runExclusive(async () => {
        const beside = writerBeside(location, scratchFile);
        try {
          return await writeOnce(beside, work, giveUpAtMs);
        } finally {
          await beside.close();
        }
      });
    },
    writeHousehold: (work) => {
      const giveUpAtMs = Date.now() + writeTimeoutMs;
      return turn.runExclusive(() =>
        // Not retried when the outcome of the commit is unknown: household writes have no idempotency key to check.
        retryTransient(
          () =>
            writer.transaction(async (sql) => {
              await sql.run`UPDATE record_head SET entries = entries WHERE id = 1`;
              return work(sql);
            }),
          (fault) => !(fault instanceof CommitOutcomeUnknown) && isPassing(fault),
          giveUpAtMs,
        ),
      );
    },
    snapshot: (work, { rerun = false } = {}) =>
      'url' in location ? serverSnapshot(reader as DataSource, work, rerun) : snapshots.take(work),
    close: async () => {
      await turn.runExclusive(async () => {
        await snapshots.close();
        await reader.destroy();
        await writer.close();
      });
    },
  };
}

/**
 * Snapshots of a book in a file, each on a connection of its own. One is kept open for the next snapshot, since opening
 * one and preparing its statements takes longer than many reads.
 */
function fileSnapshots(location: BookLocation) {
  let waiting: Connection | undefined;
  let closed = false;
  return {
    take: async <T>(work: (sql: Sql) => Promise<T>): Promise<T> => {
      const own = waiting ?? (await openForReading(location));
      waiting = undefined;
      let ended = false;
      try {
        await own.query('BEGIN');
        const answer = await work(sqlOver(own));
        await own.query('COMMIT');
        ended = true;
        return answer;
      } finally {
        if (ended && !waiting && !closed) waiting = own;
        else await own.destroy();
      }
    },
    close: async (): Promise<void> => {
      closed = true;
      await waiting?.destroy();
      waiting = undefined;
    },
  };
}

/** Retries a snapshot that has not returned anything yet; with `rerun` at any point. */
function serverSnapshot<T>(reader: DataSource, work: (sql: Sql) => Promise<T>, rerun: boolean): Promise<T> {
  let begun = false;
  return retryTransient(
    () =>
      reader.transaction('REPEATABLE READ', (manager) => {
        begun = true;
        return work(sqlOver(manager));
      }),
    (fault) => (rerun || !begun) && isPassing(fault),
  );
}

async function bringUpToDate(
  location: BookLocation,
  writer: Connection,
  beforeChange: () => Promise<void>,
): Promise<void> {
  const done = await migrationsDone(writer);
  const unknown = done.filter((name) => !knownMigrations.includes(name));
  if (unknown.length > 0) throw newer();
  const old = done.length > 0;
  let saved = false;
  const save = async (): Promise<void> => {
    if (old && !saved) await beforeChange();
    saved = true;
  };
  if (done.length < knownMigrations.length) {
    await save();
    await underLock(writer, () => runMigrations(location, writer));
  }
  const [head] = await writer.query<{ index_version: number }[]>('SELECT index_version FROM record_head');
  // A newer version may apply entries that this one would ignore.
  if (toNumber(head?.index_version) > indexVersion) throw newer();
  if (toNumber(head?.index_version) < indexVersion) {
    await save();
    await rebuildIndex(writer);
  }
}

const newer = (): NewerBook =>
  new NewerBook('This book was written by a newer version of Boilbook. Update Boilbook; the book is unchanged.');

async function migrationsDone(writer: Connection): Promise<string[]> {
  const [there] = await writer.query<{ name: string | null }[]>(
    writer.options.type === 'postgres'
      ? "SELECT to_regclass('migrations') AS name"
      : "SELECT name FROM sqlite_master WHERE type = 'table' AND name = 'migrations'",
  );
  if (!there?.name) return [];
  return (await writer.query<{ name: string }[]>('SELECT name FROM migrations')).map((row) => row.name);
}

/** Drops the index and replays the log, all in one transaction: readers see the old tables until it commits. */
async function rebuildIndex(writer: Connection): Promise<void> {
  await inTransaction(writer, async (sql) => {
    await sql.run`UPDATE record_head SET entries = entries WHERE id = 1`;
    const head = await sql.row<{ index_version: number }>`SELECT index_version FROM record_head WHERE id = 1`;
    // Another process may have rebuilt it while this one waited for the lock.
    if (toNumber(head?.index_version) >= indexVersion) return;
    await sql.run`UPDATE record_head SET index_version = ${indexVersion} WHERE id = 1`;
    for (const statement of [...dropIndex(), ...createIndex(sql.engine)]) await sql.statement(statement);
    await replayInto(sql, sql);
    // PostgreSQL updates its statistics now rather than at its next automatic run.
    for (const statement of sql.engine === 'sqlite' ? planFigures() : ['ANALYZE']) await sql.statement(statement);
  });
}

/** Replays a log into existing, empty index tables. */
export async function replayInto(log: Sql, index: Sql): Promise<void> {
  for await (const row of walkLog(log)) await applyEntry(index, numberedEntry(row));
}

/** Two processes may find the same new database at the same moment. */
async function underLock(writer: Connection, work: () => Promise<unknown>): Promise<void> {
  if (!('createQueryRunner' in writer)) return void (await work());
  const runner = writer.createQueryRunner();
  try {
    await runner.query('SELECT pg_advisory_lock(8066)');
    await work();
  } finally {
    await runner.query('SELECT pg_advisory_unlock(8066)').catch(() => {});
    await runner.release();
  }
}

async function withRetries<T>(work: () => Promise<T>): Promise<T> {
  for (let attempt = 1; ; attempt++)
    try {
      return await work();
    } catch (fault) {
      if (fault instanceof NewerBook || isDamage(fault) || attempt === 5) throw fault;
      await pause(200 * attempt);
    }
}
