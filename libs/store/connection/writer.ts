import type { DataSource } from 'typeorm';
import { type BookLocation, type Connection, openForWriting, openScratch } from './engine.js';
import { isLost } from './retry-transient.js';
import { sqlOver, type Sql } from './sql.js';

/** The connection for writing. Its caller runs one transaction at a time. */
export interface Writer {
  /** Commits once `work` resolves; rolls back where it throws. */
  transaction<T>(work: (sql: Sql) => Promise<T>): Promise<T>;
  close(): Promise<void>;
}

/** The writer of a book: a transaction of its own on either engine. */
export const writerOver = (location: BookLocation, source: Connection): Writer =>
  'url' in location
    ? { transaction: (work) => inTransaction(source, work), close: () => source.destroy() }
    : fileWriter(
        () => openForWriting(location),
        source,
        async (last) => {
          await last.query('PRAGMA wal_checkpoint(TRUNCATE)').catch(() => {});
        },
      );

/** The writer of a scratch copy. */
export const scratchWriter = (file: string): Writer => fileWriter(() => openScratch(file));

/** A writer of a book in a file, on a connection of its own with another SQLite file attached as `scratch`. */
export const writerBeside = (location: BookLocation, scratchFile: string): Writer =>
  fileWriter(async () => {
    const source = await openForWriting(location);
    await source.query('ATTACH ? AS scratch', [scratchFile]);
    return source;
  });

/**
 * When the disk fails during a commit, the state of the connection is unknown. It is closed and the next write opens
 * another: a connection still inside a transaction that is thought to have ended would accept every later write, report
 * each as saved, and lose them all when it is closed.
 */
function fileWriter(
  open: () => Promise<Connection>,
  first?: Connection,
  beforeClose: (last: Connection) => Promise<void> = async () => {},
): Writer {
  let source = first;
  return {
    transaction: async (work) => {
      const own = (source ??= await open());
      try {
        return await inTransaction(own, work);
      } catch (fault) {
        if (fault instanceof LeftOpen) {
          source = undefined;
          await own.destroy().catch(() => {});
          throw fault.cause;
        }
        throw fault;
      }
    },
    close: async () => {
      if (source) await beforeClose(source);
      await source?.destroy();
    },
  };
}

/**
 * One transaction. On SQLite it is begun and ended here and not by TypeORM, which counts transactions in a shared query
 * runner and miscounts once a commit has failed.
 */
export async function inTransaction<T>(source: Connection, work: (sql: Sql) => Promise<T>): Promise<T> {
  if (source.options.type === 'postgres') return inServerTransaction(source as DataSource, work);
  const sql = sqlOver(source);
  try {
    await sql.statement('BEGIN');
  } catch (fault) {
    throw new LeftOpen(fault);
  }
  let answer: T;
  try {
    answer = await work(sql);
  } catch (fault) {
    await sql.statement('ROLLBACK').catch(() => {
      throw new LeftOpen(fault);
    });
    throw fault;
  }
  try {
    await sql.statement('COMMIT');
  } catch (fault) {
    throw new LeftOpen(fault);
  }
  return answer;
}

/** An error after which the connection may still be inside its transaction. */
class LeftOpen extends Error {
  constructor(override readonly cause: unknown) {
    super((cause as Error).message);
  }
}

/**
 * The connection was lost during the commit, so its outcome is unknown. After any other error nothing was committed.
 */
export class CommitOutcomeUnknown extends Error {
  constructor(override readonly cause: unknown) {
    super((cause as Error).message);
  }
}

async function inServerTransaction<T>(source: DataSource, work: (sql: Sql) => Promise<T>): Promise<T> {
  const runner = source.createQueryRunner();
  try {
    await runner.startTransaction('READ COMMITTED');
    let answer: T;
    try {
      answer = await work(sqlOver(runner.manager));
    } catch (fault) {
      await runner.rollbackTransaction().catch(() => {});
      throw fault;
    }
    try {
      await runner.commitTransaction();
    } catch (fault) {
      throw isLost(fault) ? new CommitOutcomeUnknown(fault) : fault;
    }
    return answer;
  } finally {
    if (!runner.isReleased) await runner.release().catch(() => {});
  }
}
