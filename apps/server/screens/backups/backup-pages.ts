import { statfs } from 'node:fs/promises';
import type { NumberedEntry } from '#libs/records/entry.js';
import { loadSugarhouseContext } from '#libs/actions/record/write-context.js';
import { momentIn } from '#libs/actions/record/times.js';
import { compareBackup } from '#libs/store/backup/compare-backup.js';
import { type CheckedBackup, type ListedBackup, listBackups } from '#libs/store/backup/list-backups.js';
import { lastRestore, type RestoreOutcome } from '#libs/store/backup/restore-request.js';
import { readHead } from '#libs/store/log/log.js';
import type { BackupListProps } from '#pages/backups/list.js';
import type { RestoreProps } from '#pages/backups/restore.js';
import type { Principal } from '../../http/principal.js';
import { lineText } from '../../text/history.js';
import { clock, dayText } from '../../text/times.js';

const maxEntriesShown = 20;

/** The file of the open book; undefined on PostgreSQL, and in practice, which has no backups of its own. */
export const bookFileOf = ({ book, practice }: Principal): string | undefined =>
  practice || !('file' in book.location) ? undefined : book.location.file;

/** The zone of the sugarhouse, or the server's where the book is too damaged to be read. */
export const zoneOf = async ({ book, writeContext, server }: Principal): Promise<string> =>
  (await loadSugarhouseContext(book.read, writeContext).catch(() => undefined))?.parseOptions.zone ??
  server.settings.zone;

/** The list of backups, each with the result of checking its file. */
export async function backupList(
  principal: Principal,
  check: (backup: ListedBackup) => Promise<CheckedBackup>,
): Promise<BackupListProps> {
  const {
    server,
    book,
    writeContext: { now },
  } = principal;
  const { folder, backupCount } = server.settings;
  const zone = await zoneOf(principal);
  const bookFile = bookFileOf(principal);
  if (bookFile === undefined) return { backupFolder: undefined };
  const backups = [];
  for (const backup of await listBackups(bookFile)) backups.push({ backup, checked: await check(backup) });
  const head = await readHead(book.read).catch(() => undefined);
  const disk = await statfs(folder).catch(() => undefined);
  const freeBytes = disk ? disk.bavail * disk.bsize : undefined;
  const needed = 3 * Math.max(64 * mib, ...backups.map(({ backup }) => backup.bytes));
  const outcome = lastRestore(folder);
  return {
    backupFolder: {
      folder: `${folder}/backups`,
      nightlyKept: backupCount,
      book: head,
      damage: server.damage?.found,
      free: freeBytes === undefined ? undefined : sizeText(freeBytes),
      isLow: freeBytes !== undefined && freeBytes < needed,
      outcome: outcome && outcomeText(outcome, (at) => timeText(momentIn(zone, new Date(at)), now)),
      backups: backups.map(({ backup, checked }) => ({
        name: backup.name,
        madeAt: timeText(momentIn(zone, backup.madeAt), now),
        why: backup.why,
        size: sizeText(backup.bytes),
        checked,
      })),
    },
  };
}

function outcomeText(outcome: RestoreOutcome, time: (at: string) => string): string {
  const requested = `${outcome.by} asked for it ${time(outcome.at)}`;
  return outcome.done
    ? `${outcome.name} was restored (${requested}). The book that was there before is kept below.`
    : `${outcome.name} was not restored (${requested}): ${outcome.why} The book stayed as it was.`;
}

/** What restoring a backup would change; with the file and the root that the form sends back. */
export async function restoreView(
  { book, writeContext: { now } }: Principal,
  backup: ListedBackup,
  checked: { readonly entries: number; readonly root: string },
  local: (at: Date) => string,
): Promise<RestoreProps & { readonly file: string }> {
  const today = await readHead(book.read).catch(() => undefined);
  const difference = await compareBackup(book.read, backup.file, maxEntriesShown).catch(() => undefined);
  return {
    file: backup.file,
    name: backup.name,
    madeAt: timeText(local(backup.madeAt), now),
    entries: checked.entries,
    root: checked.root,
    today: today?.entries,
    difference: difference && {
      removed: difference.leaving,
      added: difference.arriving,
      last: difference.lastLeaving.map((entry) => entryLine(entry, now)),
      noLongerStopped: difference.noLongerStopped,
    },
    fault: undefined,
  };
}

function entryLine(entry: NumberedEntry, now: Date) {
  const { seq, by, typedAt, about } = entry;
  const what = lineText(entry);
  const lots = about.filter((lot) => !what.includes(lot));
  return { entry: seq, by, when: timeText(typedAt, now), what: lots.length > 0 ? `${what} ${lots.join(', ')}` : what };
}

const timeText = (moment: string, now: Date): string => `${dayText(moment, now.toISOString())} ${clock(moment)}`;

const mib = 1024 * 1024;
const sizeText = (bytes: number): string =>
  bytes >= 1024 * mib
    ? `${(bytes / 1024 / mib).toFixed(1)} GB`
    : bytes >= 10 * mib
      ? `${Math.round(bytes / mib)} MB`
      : `${(bytes / mib).toFixed(1)} MB`;
