import { closeSync, existsSync, fsyncSync, openSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { openBesideBook } from '../connection/engine.js';
import { sqlOver } from '../connection/sql.js';
import { type Head, readHead } from '../log/log.js';
import { checkBookFile, restoreBook } from './backup.js';

/**
 * A restore that an owner requested on the page; the server's next start performs it, for the book must not be open
 * then.
 */
export interface RestoreRequest {
  readonly file: string;
  readonly name: string;
  /** The backup as it was shown to the owner. */
  readonly backup: Head;
  /** The book at that time; absent where it is too damaged to be read. */
  readonly book?: Head | undefined;
  readonly by: string;
  readonly at: string;
}

export type RestoreOutcome = {
  readonly name: string;
  readonly by: string;
  readonly at: string;
} & ({ readonly done: true; readonly keptAside: string | undefined } | { readonly done: false; readonly why: string });

const hourMs = 3_600_000;
const requestFile = (folder: string): string => join(folder, 'restore-request.json');
const outcomeFile = (folder: string): string => join(folder, 'restore-outcome.json');

/** Requests a restore for the next start, in a file that is synced to disk when this returns. */
export function requestRestore(folder: string, request: RestoreRequest): void {
  writeSynced(requestFile(folder), request);
}

/** The outcome of the last restore requested on the page. */
export function lastRestore(folder: string): RestoreOutcome | undefined {
  const file = outcomeFile(folder);
  return existsSync(file) ? (JSON.parse(readFileSync(file, 'utf8')) as RestoreOutcome) : undefined;
}

/**
 * Performs a requested restore before the book is opened. Nothing is done where the book or the backup has changed
 * since the owner saw the difference, or where an hour has passed. Returns the outcome; undefined where nothing was
 * requested.
 */
export async function restoreAsRequested(
  folder: string,
  bookFile: string,
  stamp: string,
  now: Date,
): Promise<RestoreOutcome | undefined> {
  const file = requestFile(folder);
  if (!existsSync(file)) return undefined;
  const request = JSON.parse(readFileSync(file, 'utf8')) as RestoreRequest;
  // Removed first: a restore that fails must not be tried at every start.
  rmSync(file);
  const { name, by, at } = request;
  const result = await attempt(request, bookFile, stamp, now).catch((fault: unknown) => ({
    done: false as const,
    why: (fault as Error).message,
  }));
  const outcome: RestoreOutcome = { name, by, at, ...result };
  writeSynced(outcomeFile(folder), outcome);
  return outcome;
}

async function attempt(request: RestoreRequest, bookFile: string, stamp: string, now: Date) {
  const refusal = (why: string) => ({ done: false as const, why });
  if (Math.abs(now.getTime() - Date.parse(request.at)) > hourMs)
    return refusal('it was asked for more than an hour ago. Ask for it again.');
  const backup = await checkBookFile(request.file);
  if (backup.root !== request.backup.root)
    return refusal('the backup is another one than was shown. Look at it again.');
  const book = await headOf(bookFile);
  if (request.book && book?.root !== request.book.root)
    return refusal('something was written in the book since. Look again at what would change.');
  const { keptAside } = await restoreBook(request.file, bookFile, stamp);
  return { done: true as const, keptAside };
}

async function headOf(bookFile: string): Promise<Head | undefined> {
  const source = openBesideBook(bookFile);
  try {
    await source.initialize();
    return await readHead(sqlOver(source));
  } catch {
    return undefined;
  } finally {
    if (source.isInitialized) await source.destroy();
  }
}

function writeSynced(file: string, content: object): void {
  writeFileSync(file, JSON.stringify(content), { mode: 0o600 });
  const handle = openSync(file, 'r');
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}
