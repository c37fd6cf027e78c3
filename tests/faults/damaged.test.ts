import { spawn } from 'node:child_process';
import { createServer } from 'node:net';
import { setTimeout as pause } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { backUpBook } from '#libs/store/backup/backup.js';
import { openBook } from '#libs/store/book.js';
import { isDamage } from '#libs/store/connection/damage-error.js';
import { type Verified, verifyBook } from '#libs/store/log/verify.js';
import { startSeason } from '../support/sugarhouse.js';
import { inProcessTerminal, type Terminal } from '../support/command-line.js';
import { children, endAll, started } from '../support/server-process.js';
import { packageRoot } from '#libs/package-root.js';

/** Pages of the book's file overwritten, one at a time: each is found and reported in a sentence. */
const pageBytes = 4096;
let terminal: Terminal;
let whole = Buffer.alloc(0);
let file = '';

beforeAll(async () => {
  terminal = inProcessTerminal();
  file = join(terminal.book, 'book.sqlite');
  const book = await openBook({ file });
  await startSeason(book);
  mkdirSync(join(terminal.book, 'backups'));
  await backUpBook(book, join(terminal.book, 'backups', 'book-2026-05-01.sqlite'));
  await book.close();
  // As it is after VACUUM: there is no free page, so every page matters.
  copyFileSync(join(terminal.book, 'backups', 'book-2026-05-01.sqlite'), file);
  whole = readFileSync(file);
}, 60_000);
afterAll(() => {
  endAll();
  terminal.remove();
});

const damage = (page: number): void => {
  const bytes = Buffer.from(whole);
  bytes.fill(0x5a, page * pageBytes, (page + 1) * pageBytes);
  writeFileSync(file, bytes);
};
const verified = async (): Promise<Verified> => {
  const book = await openBook({ file });
  try {
    return await verifyBook(book);
  } finally {
    await book.close();
  }
};

test('every page that is overwritten is reported as damage by verify, or keeps the book from opening', async () => {
  const missed: number[] = [];
  let result = 0;
  for (let page = 0; page < whole.length / pageBytes; page++) {
    damage(page);
    const found = await verified().catch((fault: unknown) => {
      if (!isDamage(fault)) throw fault;
      return { ok: false };
    });
    if (found.ok) missed.push(page);
    else result++;
  }
  expect(missed).toEqual([]);
  expect(result).toBeGreaterThan(30);
}, 120_000);

test('a command reports it with exit 4 and how to restore the last good backup, wherever the damage is', async () => {
  for (const page of [0, 1, 5, whole.length / pageBytes - 1]) {
    damage(page);
    const formatted = await terminal.run('verify');
    expect([page, formatted.exit]).toEqual([page, 4]);
    expect(formatted.err).toMatch(/damaged/);
    expect(formatted.err).toContain(`book restore ${join(terminal.book, 'backups', 'book-2026-05-01.sqlite')}`);
    expect(formatted.err).not.toMatch(/\n\s+at /);
  }
});

test('a start reports it in a sentence and shows no stack trace', async () => {
  damage(0);
  const ended = await started(terminal.book).then(
    () => 'served',
    (fault: Error) => fault.message,
  );
  expect(ended).toContain('is damaged');
  expect(ended).toContain('book restore');
  expect(ended).not.toMatch(/\n\s+at /);
});

test('under the launcher every address shows a plain page with what to do, and the book opens there once it is restored', async () => {
  damage(0);
  const port = await freePort();
  const keep = `import(${JSON.stringify(pathToFileURL(join(packageRoot, 'apps/restart-on-exit.mjs')).href)}).then(({ restartOnExit }) => restartOnExit(${JSON.stringify(join(packageRoot, 'dist/apps/server/main.js'))}, []))`;
  const launcher = spawn(process.execPath, ['-e', keep], {
    env: {
      PATH: process.env['PATH'],
      BOILBOOK_DATA: terminal.book,
      BOILBOOK_PORT: String(port),
      BOILBOOK_TIME_ZONE: 'America/New_York',
    },
  });
  children.push(launcher);
  const ask = (path: string) => fetch(`http://127.0.0.1:${port}${path}`, { redirect: 'manual' }).catch(() => undefined);
  const until = async (isSo: (status: number | undefined) => boolean): Promise<void> => {
    for (let tries = 0; tries < 300 && !isSo((await ask('/healthz'))?.status); tries++) await pause(200);
  };
  await until((status) => status === 503);
  for (const path of ['/', '/lots/26077A', '/sign-in']) {
    const answer = await ask(path);
    const body = (await answer?.text()) ?? '';
    expect([path, answer?.status]).toEqual([path, 503]);
    expect(body).toContain('<h1>The book can’t be opened</h1>');
    expect(body).toContain(
      `npm run --silent book -- restore &#34;${join(terminal.book, 'backups', 'book-2026-05-01.sqlite')}&#34;`,
    );
    expect(body).not.toMatch(/\n\s+at |SQLITE_\w+ +at/);
  }
  const restored = await terminal.run('restore', join(terminal.book, 'backups', 'book-2026-05-01.sqlite'));
  expect([restored.exit, restored.err]).toEqual([0, expect.any(String)]);
  await until((status) => status === 200);
  expect((await ask('/healthz'))?.status).toBe(200);
  const ended = new Promise((resolve) => launcher.once('exit', resolve));
  launcher.kill('SIGTERM');
  await ended;
}, 120_000);

/** A port that nothing listens on. */
const freePort = (): Promise<number> =>
  new Promise((resolve) => {
    const server = createServer().listen(0, '127.0.0.1', () => {
      const { port } = server.address() as { port: number };
      server.close(() => resolve(port));
    });
  });
