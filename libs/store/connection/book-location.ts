import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { isRunning, makePrivate } from '../backup/backup-folder.js';

/** Written before a restore moves a file and removed after it: the next start finishes an interrupted restore. */
export interface Restoring {
  readonly pid: number;
  readonly arriving: string;
  readonly aside: string;
}

/** The file beside a book while it is being restored. */
export const markerOf = (bookFile: string): string => `${bookFile}.restoring`;
const ends = ['', '-wal', '-shm', '-journal'] as const;

/**
 * Checks the location before a book is opened there. An interrupted restore is finished; where the book is missing but
 * there are signs of one, the reason why no new book is made is returned.
 */
export function refusalAt(bookFile: string, beginNewBook: boolean): string | undefined {
  const folder = dirname(bookFile);
  const underway = finishRestore(bookFile);
  if (underway !== undefined) return underway;
  if (existsSync(bookFile) || beginNewBook) return undefined;
  const there = existsSync(folder) ? tracesIn(folder, basename(bookFile)) : [];
  if (there.length > 0)
    return `There is no ${bookFile}, but ${listed(there)} in ${folder}. Put the book back, or restore a copy of it: book restore FILE. To create a new, empty book beside them, add --begin-anew.`;
  const parent = dirname(folder);
  if (!existsSync(folder) && !existsSync(parent))
    return `There is no folder ${parent} for the book’s folder ${basename(folder)}: is a drive not mounted, or is BOILBOOK_DATA misspelt? To create a new book there, create the folder or add --begin-anew.`;
  if (isWhereDrivesGo(folder) && isOnRootDisk(existsSync(folder) ? folder : parent))
    return `There is no book in ${folder}, and no drive is mounted there. Mount the drive. To create a new book on this machine’s own disk, add --begin-anew.`;
  return undefined;
}

/**
 * Finishes a restore that was interrupted between its renames. Returns a sentence where another process is doing it.
 */
export function finishRestore(bookFile: string): string | undefined {
  const marker = markerOf(bookFile);
  if (!existsSync(marker)) {
    // Interrupted before a file was moved: the incoming copy is not needed, since the book is in place.
    if (existsSync(bookFile)) removeArriving(bookFile);
    return undefined;
  }
  const { pid, arriving, aside } = JSON.parse(readFileSync(marker, 'utf8')) as Restoring;
  if (pid !== process.pid && isRunning(pid))
    return `Process ${pid} is restoring the book: wait until it has finished. If it no longer runs, delete ${marker}.`;
  moveIn(bookFile, { arriving, aside });
  rmSync(marker, { force: true });
  return undefined;
}

function removeArriving(bookFile: string): void {
  const folder = dirname(bookFile);
  for (const name of readdirSync(folder)) {
    const pid = name.startsWith(`${basename(bookFile)}.arriving-`) ? Number(name.split('-').at(-1)) : 0;
    if (pid > 0 && !isRunning(pid)) rmSync(join(folder, name), { force: true });
  }
}

/**
 * Renames the existing book and moves the restored one into its place, continuing from wherever it was interrupted. The
 * write-ahead log is renamed too: SQLite would otherwise apply it to the restored book.
 */
export function moveIn(bookFile: string, { arriving, aside }: Omit<Restoring, 'pid'>): void {
  if (!existsSync(arriving)) return;
  for (const end of ends) if (existsSync(bookFile + end)) renameSync(bookFile + end, aside + end);
  renameSync(arriving, bookFile);
}

/** Signs that a book was here: its write-ahead log, a renamed copy, backups. */
function tracesIn(folder: string, name: string): string[] {
  const stem = name.replace(/\.sqlite$/, '');
  const saved = readdirSync(folder).filter(
    (each) => each.startsWith(`${stem}-kept-`) || each.startsWith(`${name}.arriving-`) || each === `${name}-wal`,
  );
  const backups = existsSync(join(folder, 'backups')) ? readdirSync(join(folder, 'backups')).sort() : [];
  const newest = backups.filter((each) => each.endsWith('.sqlite')).at(-1);
  return [...saved, ...(newest ? [`backups/${newest}`] : [])];
}

const listed = (names: readonly string[]): string =>
  names.length === 1
    ? `${names[0]} is`
    : `${names.slice(0, 5).join(', ')}${names.length > 5 ? ` and ${names.length - 5} more` : ''} are`;

const isWhereDrivesGo = (folder: string): boolean => /^\/(mnt|media|run\/media|Volumes)\//.test(folder);
const isOnRootDisk = (path: string): boolean => statSync(path).dev === statSync('/').dev;

/** Makes the book's folder and files private (0700 and 0600), whatever they were before. */
export function keepPrivate(folder: string): void {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  for (const inside of ['', 'backups', 'practice']) {
    const path = join(folder, inside);
    if (!existsSync(path)) continue;
    makePrivate(path, 0o700);
    for (const name of readdirSync(path)) if (/\.sqlite/.test(name)) makePrivate(join(path, name), 0o600);
  }
}
