import { chmodSync, mkdtempSync, rmSync, statfsSync } from 'node:fs';
import { join } from 'node:path';
import { setUpRun } from './one-postgres.mjs';

/** Once for a run of jest, whatever the number of its files; `after-run.mjs` ends it. */
export default async function beforeRun() {
  const endFolder = inMemory();
  const endPostgres = await setUpRun();
  globalThis.boilbookRunEnds = async () => {
    await endPostgres();
    endFolder();
  };
}

/**
 * Books of the tests are kept in memory where the machine has room for them: every write is still synced as ever, and a
 * disk that has to be waited for made up much of a run. No test here cuts the power; `tests/faults` kills processes.
 */
function inMemory() {
  if (process.env['BOILBOOK_TEST_BOOKS'] !== undefined || !hasRoom()) return () => {};
  const folder = mkdtempSync(join(memory, 'boilbook-tests-'));
  // The server of PostgreSQL runs as another user than root, who must be able to walk to its files.
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
