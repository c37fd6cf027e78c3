import { existsSync, readdirSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { backupsIn } from './backup-folder.js';
import { checkBookFile, NotABook } from './backup.js';

export interface ListedBackup {
  /** Its name in the backups folder, or beside the book where a restore kept a copy there. */
  readonly name: string;
  readonly file: string;
  readonly why: 'nightly' | 'before-update' | 'kept-at-restore';
  readonly madeAt: Date;
  readonly bytes: number;
}

export type CheckedBackup = { readonly entries: number; readonly root: string } | { readonly damage: string };

/** The backups of a book, newest first: those in its backups folder, and the copies that restores left beside it. */
export async function listBackups(bookFile: string): Promise<ListedBackup[]> {
  const folder = dirname(bookFile);
  const asidePrefix = `${basename(bookFile, '.sqlite')}-kept-`;
  const setAside = existsSync(folder)
    ? readdirSync(folder).filter((name) => name.startsWith(asidePrefix) && name.endsWith('.sqlite'))
    : [];
  const files = [...(await backupsIn(join(folder, 'backups'))), ...setAside.map((name) => join(folder, name))];
  return files
    .map((file): ListedBackup => {
      const { mtime, size } = statSync(file);
      const name = basename(file);
      return { name, file, why: whyOf(name, asidePrefix), madeAt: mtime, bytes: size };
    })
    .sort((one, other) => other.madeAt.getTime() - one.madeAt.getTime());
}

const whyOf = (name: string, asidePrefix: string): ListedBackup['why'] =>
  name.startsWith(asidePrefix) ? 'kept-at-restore' : name.startsWith('before-update-') ? 'before-update' : 'nightly';

/** Checks backups with `checkBookFile`; a result is cached while the file's size and time stay the same. */
export function backupChecker(): (backup: ListedBackup) => Promise<CheckedBackup> {
  const known = new Map<string, CheckedBackup>();
  return async ({ file, bytes, madeAt }) => {
    const key = `${file} ${bytes} ${madeAt.getTime()}`;
    const before = known.get(key);
    if (before) return before;
    const checked = await checkBookFile(file).catch((fault: unknown): CheckedBackup => {
      if (fault instanceof NotABook) return { damage: fault.message };
      throw fault;
    });
    known.set(key, checked);
    return checked;
  };
}
