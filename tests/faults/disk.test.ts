import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { openBook } from '#libs/store/book.js';
import { compileFor, type Compiled, type Ended, startChild } from '../support/child-process.js';
import { enter, type Ledger, reconcile } from '../support/acknowledged-writes.js';

/**
 * strace counts the syncs and makes them fail. Where it is missing or not allowed, the tests' titles say what was
 * tested instead.
 */
const canTrace = spawnSync('strace', ['-f', '--seccomp-bpf', '-e', 'trace=fsync', 'true']).status === 0;
if (!canTrace)
  console.warn(
    'strace is not here or may not trace: syncs are not counted and faults of the disk not injected in this run. On Debian: apt-get install strace',
  );

describe('The disk', () => {
  let compiled: Compiled;
  let folder = '';
  let file = '';
  let books = 0;
  beforeAll(() => {
    compiled = compileFor(['support/keep-writing.ts']);
    folder = mkdtempSync(join(tmpdir(), 'boilbook-disk-'));
  });
  afterAll(() => {
    compiled?.remove();
    rmSync(folder, { recursive: true, force: true });
  });
  const newBook = async (): Promise<string> => {
    file = join(folder, `book-${++books}.sqlite`);
    await (await openBook({ file })).close();
    return file;
  };
  const writer = (mark: string, count: number): string[] => [
    process.execPath,
    compiled.script('support/keep-writing.ts'),
    JSON.stringify({ file }),
    mark,
    String(count),
  ];
  const traced = (options: string[], mark: string, count: number): Promise<Ended> =>
    startChild('strace', [
      '-f',
      // Intercepts only the system calls named here: everything else runs at full speed.
      '--seccomp-bpf',
      '-qq',
      '-o',
      join(folder, 'trace'),
      ...options,
      '-E',
      'UV_THREADPOOL_SIZE=1',
      ...writer(mark, count),
    ]).ended;
  const syncs = (): number =>
    readFileSync(join(folder, 'trace'), 'utf8')
      .split('\n')
      .filter((line) => /\bf(data)?sync\(.*= 0$/.test(line)).length;

  test('every connection of a book syncs at each commit, also after reopening', async () => {
    await newBook();
    for (const opening of ['first', 'again']) {
      const book = await openBook({ file });
      const inWriter = await book.write(async ({ sql }) => ({ rows: await sql.statement('PRAGMA synchronous') }));
      const inSnapshot = await book.snapshot((sql) => sql.statement('PRAGMA synchronous'));
      // 2 is FULL: https://sqlite.org/pragma.html#pragma_synchronous
      for (const rows of [inWriter.rows, inSnapshot, await book.read.statement('PRAGMA synchronous')])
        expect({ opening, rows }).toEqual({ opening, rows: [{ synchronous: 2 }] });
      expect(await book.read.statement('PRAGMA journal_mode')).toEqual([{ journal_mode: 'wal' }]);
      await book.close();
    }
  });

  test('a process whose files may not grow reports it for each write, still reads, and recovers once they may', async () => {
    const ledger: Ledger = new Map();
    await newBook();
    // In blocks of 1,024 bytes, half of what a hundred writes need.
    const limit = Math.ceil(statSync(file).size / 1024) + 160;
    const child = startChild('bash', ['-c', `ulimit -S -f ${limit}; exec "$@"`, 'bash', ...writer('F', 150)]);
    await child.waitForLine(/^fault /);
    await child.waitForLine(/^read \d+$/);
    spawnSync('prlimit', ['--pid', String(child.process.pid), '--fsize=unlimited']);
    const ended = await child.ended;
    expect(ended.lines.filter((line) => line.startsWith('crash'))).toEqual([]);
    expect(ended.lines.at(-1)).toBe('closed 0');
    const faults = ended.lines.filter((line) => line.startsWith('fault'));
    expectPlain(faults);
    expect(enter(ledger, ended.lines)).toBe(150);
    expect(await reconcile({ file }, ledger)).toBe(150);
  });

  if (canTrace) {
    test('200 writes make at least 200 syncs, counted by strace, in a new book and a reopened one', async () => {
      await newBook();
      for (const mark of ['N', 'R']) {
        const ended = await traced(['-e', 'trace=fsync,fdatasync'], mark, 200);
        expect(ended.lines.filter((line) => line.startsWith('kept'))).toHaveLength(200);
        expect(syncs()).toBeGreaterThanOrEqual(200);
      }
    }, 90_000);

    test.each([
      ['a sync that fails', 'inject=fsync,fdatasync:error=EIO:when=30..45'],
      ['a disk without room', 'inject=pwrite64:error=ENOSPC:when=300..420'],
      ['a disk that cannot be written', 'inject=pwrite64:error=EIO:when=300..420'],
    ])(
      '%s gets a plain message, reading still works, and a repeated write is saved once',
      async (_, injected) => {
        const ledger: Ledger = new Map();
        await newBook();
        const ended = await traced(['-e', 'trace=fsync,fdatasync,pwrite64', '-e', injected], 'E', 150);
        expect(ended.lines.filter((line) => line.startsWith('crash'))).toEqual([]);
        const faults = ended.lines.filter((line) => line.startsWith('fault'));
        expectPlain(faults);
        expect(ended.lines.filter((line) => line.startsWith('read')).length).toBeGreaterThan(0);
        expect(ended.lines.at(-1)).toBe('closed 0');
        expect(enter(ledger, ended.lines)).toBe(150);
        expect(await reconcile({ file }, ledger)).toBe(150);
      },
      90_000,
    );
  }
});

/** Expects either the disk's own fault, or that a boil which wasn't saved can't be packed. */
function expectPlain(faults: readonly string[]): void {
  expect(faults.filter((fault) => /SQLITE_(FULL|IOERR)/.test(fault)).length).toBeGreaterThan(0);
  for (const fault of faults) expect(fault).toMatch(/SQLITE_(FULL|IOERR)|expected a boil/);
}
