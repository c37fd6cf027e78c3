import { chmodSync, mkdtempSync, rmSync, statfsSync } from 'node:fs';
import { join } from 'node:path';
import { setUpRun } from './one-postgres.mjs';

/** Runs once per run of jest, whatever the number of files; `after-run.mjs` ends it. */
export default async function beforeRun() {
  const endFolder = inMemory();
  const endPostgres = await setUpRun();
  globalThis.boilbookRunEnds = async () => {
    await endPostgres();
    endFolder();
  };
}

/**
 * Keeps the tests' books in memory where the machine has room: every write is still synced, and waiting for a disk made
 * up much of a run. No test here cuts the power; `tests/faults` kills processes.
 */
function inMemory() {
  if (process.env['BOILBOOK_TEST_BOOKS'] !== undefined || !hasRoom()) return () => {};
  const folder = mkdtempSync(join(memory, 'boilbook-tests-'));
  // The PostgreSQL server runs as a user other than root, who needs access to its files.
  chmodSync(folder, 0o755);
  process.env['BOILBOOK_TEST_BOOKS'] = folder;
  return () => {
    delete process.env['BOILBOOK_TEST_BOOKS'];
    rmSync(folder, { recursive: true, force: true });
  };
}

const memory = '/dev/shm';
const enough = 2 * 2 ** 30;

function hasRoom() {
  try {
    const { bavail, bsize } = statfsSync(memory);
    return bavail * bsize >= enough;
  } catch {
    return false;
  }
}
