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
  /** Lots that are held or recalled in the book and not in the backup; undefined where the backup can't tell. */
  readonly noLongerStopped: readonly StoppedLot[] | undefined;
}

/** A lot that may not go out. */
export interface StoppedLot {
  readonly code: string;
  readonly state: 'held' | 'recalled';
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
      noLongerStopped: await noLongerStopped(book, backup),
    };
  } finally {
    await source.destroy();
  }
}

/** Restoring a backup takes back the holds and recalls since then, also of lots that it doesn't know at all. */
async function noLongerStopped(book: Sql, backup: Sql): Promise<StoppedLot[] | undefined> {
  const stoppedIn = (sql: Sql) =>
    sql.rows<StoppedLot & { sugarhouse: string }>`SELECT sugarhouse, code, state FROM lot
      WHERE state IN ('held', 'recalled') ORDER BY code`;
  const [now, then] = await Promise.all([stoppedIn(book), stoppedIn(backup).catch(() => undefined)]);
  if (!then) return undefined;
  const kept = new Set(then.map(({ sugarhouse, code, state }) => `${sugarhouse} ${code} ${state}`));
  return now
    .filter(({ sugarhouse, code, state }) => !kept.has(`${sugarhouse} ${code} ${state}`))
    .map(({ code, state }) => ({ code, state }));
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
