import { dirname, join } from 'node:path';
import { checkBookFile } from './backup.js';
import { backupsIn } from './backup-folder.js';
import type { Sql } from '../connection/sql.js';

/**
 * The first problem that SQLite's integrity check finds. On PostgreSQL nothing is checked: the server has its own
 * tools.
 */
export async function damageIn(sql: Sql, check: 'integrity_check' | 'quick_check'): Promise<string | undefined> {
  if (sql.engine !== 'sqlite') return undefined;
  try {
    const [first] = await sql.statement<Record<string, string>>(`PRAGMA ${check}(1)`);
    const result = first?.[check];
    return result === 'ok' ? undefined : (result ?? 'unreadable').split('\n').slice(0, 2).join(' ');
  } catch (fault) {
    return (fault as Error).message;
  }
}

/** The newest backup that passes its check. */
export async function lastGoodBackup(bookFile: string): Promise<{ file: string; entries: number } | undefined> {
  for (const file of await backupsIn(join(dirname(bookFile), 'backups'))) {
    const checked = await checkBookFile(file).catch(() => undefined);
    if (checked) return { file, entries: checked.entries };
  }
  return undefined;
}

/** The message that the book's file is damaged and how to restore the last good backup; for terminal and page. */
export async function damageSentence(bookFile: string, found: string): Promise<string> {
  const good = await lastGoodBackup(bookFile);
  const way = good
    ? `The last good backup is ${good.file}, with ${good.entries} entries. Stop the server, then run book restore ${good.file}. The damaged file is kept under another name.`
    : 'Its backups folder holds no undamaged backup: first copy the file to another disk, then look for a backup elsewhere.';
  return `The book’s file ${bookFile} is damaged (${found}). ${way}`;
}
