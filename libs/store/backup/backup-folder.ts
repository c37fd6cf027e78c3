import { chmodSync } from 'node:fs';
import { readdir, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { openBesideBook } from '../connection/engine.js';

/** The dated backups in a folder: nightly ones and those made before an update. */
const scheduledName = /^book-(\d[\dT-]*)\.sqlite$/;
const beforeUpdate = /^before-update-(\d[\dTZ-]*)\.sqlite$/;

/**
 * Removes the oldest nightly backups beyond `keep`, never the one just made. A name with a later time comes from a
 * wrong clock: such a backup is ordered by its number of log entries.
 */
export const pruneScheduled = (folder: string, made: string, keep: number): Promise<void> =>
  prune(folder, scheduledName, made, keep);
/** Keeps the newest backups that were made before updates and deletes the others. */
export const pruneBeforeUpdate = (folder: string, made: string, keep: number): Promise<void> =>
  prune(folder, beforeUpdate, made, keep);

async function prune(folder: string, names: RegExp, made: string, keep: number): Promise<void> {
  const others = await oldestFirst(folder, names, made);
  const room = Math.max(0, keep - 1);
  for (const old of others.slice(0, Math.max(0, others.length - room))) await rm(join(folder, old), { force: true });
  await removeUnfinished(folder);
}

async function oldestFirst(folder: string, names: RegExp, made: string): Promise<string[]> {
  const dated = (await readdir(folder)).filter((name) => names.test(name) && name !== made).sort();
  const order = dated.filter((name) => name < made);
  const ahead = dated.filter((name) => name > made);
  if (ahead.length === 0) return order;
  const entries = new Map<string, number>();
  for (const name of dated) entries.set(name, await entriesIn(join(folder, name)));
  const held = (name: string): number => entries.get(name) ?? 0;
  for (const name of ahead.sort((one, other) => held(one) - held(other))) {
    const at = order.findIndex((each) => held(each) > held(name));
    order.splice(at === -1 ? order.length : at, 0, name);
  }
  return order;
}

async function entriesIn(file: string): Promise<number> {
  const source = openBesideBook(file);
  try {
    await source.initialize();
    const [head] = await source.query<{ entries: number }[]>('SELECT entries FROM record_head WHERE id = 1');
    return head?.entries ?? 0;
  } catch {
    return 0;
  } finally {
    if (source.isInitialized) await source.destroy();
  }
}

const dayMs = 86_400_000;

/** Files that a killed process left behind. A running process may still be writing its own. */
async function removeUnfinished(folder: string): Promise<void> {
  for (const name of await readdir(folder)) {
    const pid = Number(/\.unfinished-(\d+)(-wal|-shm|-journal)?$/.exec(name)?.[1] ?? 0);
    if (pid === 0 || pid === process.pid) continue;
    const { mtimeMs } = await stat(join(folder, name)).catch(() => ({ mtimeMs: Date.now() }));
    if (!isRunning(pid) || Date.now() - mtimeMs > dayMs) await rm(join(folder, name), { force: true });
  }
}

/** Whether a process of this id is running on this machine. */
export function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (fault) {
    return (fault as NodeJS.ErrnoException).code === 'EPERM';
  }
}

/** Backups in a folder, newest first by the time in their names. */
export async function backupsIn(folder: string): Promise<string[]> {
  const names = await readdir(folder).catch(() => []);
  const stampOf = (name: string): string => (scheduledName.exec(name) ?? beforeUpdate.exec(name))?.[1] ?? '';
  return names
    .filter((name) => stampOf(name) !== '')
    .sort((one, other) => (stampOf(one) < stampOf(other) ? 1 : -1))
    .map((name) => join(folder, name));
}

/**
 * Makes a path private to its owner, whatever its mode was; a folder that belongs to somebody else can't be changed.
 */
export function makePrivate(path: string, mode: 0o600 | 0o700): void {
  try {
    chmodSync(path, mode);
  } catch {
    // Not owned by us, missing, or on a drive without file modes.
  }
}
