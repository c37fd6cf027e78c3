import type { NumberedEntry } from '#libs/records/entry.js';
import { openBesideBook } from '../connection/engine.js';
import { sqlOver, type Sql } from '../connection/sql.js';
import { readHead, walkLog } from '../log/log.js';
import { numberedEntry } from '../log/entry-json.js';

/** What the log of a book would lose and gain if a backup replaced it. */
export interface BackupDifference {
  /** Entries at the start of both logs with equal hashes. */
  readonly shared: number;
  /** Entries of the book that are not in the backup. */
  readonly leaving: number;
  /** The newest of them, newest first, at most as many as requested. */
  readonly lastLeaving: readonly NumberedEntry[];
  /** Entries of the backup that are not in the book: the histories have diverged. */
  readonly arriving: number;
}

/** Compares the open book with a backup that was already checked. */
export async function compareBackup(book: Sql, file: string, most: number): Promise<BackupDifference> {
  const source = openBesideBook(file);
  await source.initialize();
  try {
    await source.query('PRAGMA query_only = ON');
    const backup = sqlOver(source);
    const [own, other] = [await readHead(book), await readHead(backup)];
    const shared = await sharedEntries(book, backup);
    const rows = await book.rows<{ seq: number; json: string }>`SELECT seq, json FROM entry
      WHERE seq > ${shared} ORDER BY seq DESC LIMIT ${most}`;
    return {
      shared,
      leaving: own.entries - shared,
      lastLeaving: rows.map(numberedEntry),
      arriving: other.entries - shared,
    };
  } finally {
    await source.destroy();
  }
}

async function sharedEntries(book: Sql, backup: Sql): Promise<number> {
  const others = walkLog(backup);
  let shared = 0;
  for await (const row of walkLog(book)) {
    const other = await others.next();
    if (other.done || other.value.leaf !== row.leaf) break;
    shared = row.seq;
  }
  return shared;
}
