import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { momentIn } from '#libs/actions/record/times.js';
import { backUpOnSchedule } from '#libs/store/backup/backup.js';
import type { Book } from '#libs/store/book.js';
import { readHead } from '#libs/store/log/log.js';
import type { Settings } from './settings.js';

const hourMs = 3_600_000;

/**
 * Makes one backup for each day on which the server runs, in the first hour after three in the morning in which it
 * does. A machine that is off at night makes it once it is on again. Returns a function that stops it.
 */
export function backUpEachNight(
  book: Book,
  settings: Settings,
  clock: () => Date,
  printLine: (line: string) => void,
): () => void {
  const folder = join(settings.folder, 'backups');
  const backUpIfDue = async (): Promise<void> => {
    const stamp = momentIn(settings.zone, new Date(clock().getTime() - 3 * hourMs)).slice(0, 10);
    if (settings.backupCount === 0 || existsSync(join(folder, `book-${stamp}.sqlite`))) return;
    if ((await readHead(book.read)).entries === 0) return;
    await backUpOnSchedule(book, folder, stamp, settings.backupCount);
    printLine(`Backed up to backups/book-${stamp}.sqlite`);
  };
  const check = (): void =>
    void backUpIfDue().catch((fault: unknown) => printLine(`The nightly backup failed: ${(fault as Error).message}`));
  const firstCheck = setTimeout(check, 60_000);
  const hourlyCheck = setInterval(check, hourMs);
  firstCheck.unref();
  hourlyCheck.unref();
  return () => {
    clearTimeout(firstCheck);
    clearInterval(hourlyCheck);
  };
}
