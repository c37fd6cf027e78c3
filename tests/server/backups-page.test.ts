import { spawn } from 'node:child_process';
import { copyFileSync, mkdirSync, readdirSync, truncateSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { backUpBook, checkBookFile } from '#libs/store/backup/backup.js';
import { requestRestore, restoreAsRequested } from '#libs/store/backup/restore-request.js';
import { openBook } from '#libs/store/book.js';
import { readHead } from '#libs/store/log/log.js';
import { packageRoot } from '#libs/package-root.js';
import { house, owner, setUp } from '../support/newcomer.js';
import { children, endAll, temporaryFolder } from '../support/server-process.js';
import { posted, signedIn, startServer, type TestServer } from '../support/server.js';
import { writeDay } from '../support/season-server.js';

let at: TestServer;
let cookie: string;
let folder: string;
const requests: number[] = [];
beforeAll(async () => {
  at = await startServer();
  Object.assign(at.server, { restart: { isAutomatic: true, now: () => requests.push(1) } });
  await setUp(at);
  cookie = await signedIn(at, owner.initials, owner.password);
  folder = at.server.settings.folder;
  await backUpBook(at.book, join(folder, 'backups', 'book-2026-03-18.sqlite'));
  await writeDay(at);
  await backUpBook(at.book, join(folder, 'backups', 'book-2026-03-19.sqlite'));
  copyFileSync(join(folder, 'backups', 'book-2026-03-19.sqlite'), join(folder, 'backups', 'book-2026-03-17.sqlite'));
  truncateSync(join(folder, 'backups', 'book-2026-03-17.sqlite'), 20_000);
});
afterAll(async () => {
  await at.close();
  endAll();
});

const page = async (url: string) => (await at.web.inject({ url, headers: { cookie } })).body;
const plainText = (html: string): string =>
  html
    .replace(/<[^>]+>/g, ' ')
    .replace(/\s+/g, ' ')
    .replaceAll(' ,', ',');

test('the page lists each backup with its entries, its root and whether it verifies', async () => {
  const text = plainText(await page('/backups'));
  const { entries, root } = await readHead(at.book.read);
  expect(text).toContain(`Today’s book has ${entries} entries. Its root begins ${root.slice(0, 12)}`);
  expect(text).toContain(
    `${entries} entries, root ${root.slice(0, 12)}, verified made at night: book-2026-03-19.sqlite`,
  );
  expect(text).toMatch(
    /Damaged: .*book-2026-03-17\.sqlite.* is damaged|Damaged: .*not a Boilbook backup, or is damaged/,
  );
  expect(text).toMatch(/free on that disk/);
  expect(await page('/backups')).not.toContain('href="/backups/book-2026-03-17.sqlite"');
});

test('it shows which entries would be lost, and nothing happens without the tick', async () => {
  const { entries } = await readHead(at.book.read);
  const text = plainText(await page('/backups/book-2026-03-18.sqlite'));
  expect(text).toContain(`${entries - 1} entries of today’s book would be removed`);
  expect(text).toMatch(/Gathered\. G041/);
  expect(text).toContain('Today’s book is kept as a copy');
  // The second pack of the day is too cold: its hold is newer than the backup.
  expect(text).toMatch(/Would no longer be stopped: \d{5}A-2 \(held\)\. Write down why each was stopped/);
  expect(plainText(await page('/backups/book-2026-03-19.sqlite'))).not.toContain('no longer be stopped');
  expect(plainText(await page('/backups/book-2026-03-19.sqlite'))).toContain('No entry of today’s book');
  const unticked = await posted(at, '/backups/book-2026-03-18.sqlite/restore', { _once: 'r1' }, { cookie });
  expect([unticked.statusCode, plainText(unticked.body).includes('Tick that you have read')]).toEqual([422, true]);
  const other = await posted(
    at,
    '/backups/book-2026-03-18.sqlite/restore',
    { _once: 'r2', sure: 'yes', root: '00' },
    { cookie },
  );
  expect(other.statusCode).toBe(422);
  expect(requests).toEqual([]);
});

test('a damaged backup, and a path that isn’t listed, are refused', async () => {
  for (const name of ['book-2026-03-17.sqlite', 'none.sqlite', '..%2Fbook.sqlite', 'book.sqlite']) {
    const got = await at.web.inject({ url: `/backups/${name}`, headers: { cookie } });
    expect([name, [404, 409].includes(got.statusCode)]).toEqual([name, true]);
  }
});

/** The book after the server restored the chosen backup, started by the launcher's own loop. */
async function served(data: string, change: (address: string, cookie: string) => Promise<void>) {
  const script = `import { restartOnExit } from ${JSON.stringify(join(packageRoot, 'apps/restart-on-exit.mjs'))};
    restartOnExit(${JSON.stringify(join(packageRoot, 'dist/apps/server/main.js'))}, []);`;
  const child = spawn(process.execPath, ['--input-type=module', '-e', script], {
    env: { PATH: process.env['PATH'], BOILBOOK_DATA: data, BOILBOOK_PORT: '0', BOILBOOK_TIME_ZONE: 'America/New_York' },
  });
  children.push(child);
  let output = '';
  child.stdout.on('data', (some: Buffer) => (output += some.toString()));
  child.stderr.on('data', (some: Buffer) => (output += some.toString()));
  const until = async (pattern: RegExp): Promise<string> => {
    for (let n = 0; n < 600; n++) {
      const found = pattern.exec(output);
      if (found) return found[1] ?? '';
      await new Promise((on) => setTimeout(on, 100));
    }
    throw new Error(`never said ${pattern}: ${output}`);
  };
  const address = await until(/^Boilbook \S+: (http\S+)\n/m);
  const form = (path: string, fields: Record<string, string>, headers: Record<string, string> = {}) =>
    fetch(`${address}${path}`, {
      method: 'POST',
      redirect: 'manual',
      headers: { origin: address, 'content-type': 'application/x-www-form-urlencoded', ...headers },
      body: new URLSearchParams(fields).toString(),
    });
  const entered = await form('/sign-in', { initials: owner.initials, password: owner.password });
  const own = entered.headers
    .getSetCookie()
    .map((each) => each.split(';')[0])
    .join('; ');
  await change(address, own);
  const again = await until(/Boilbook[^]*(?:Restored|was not restored)[^]*Boilbook \S+: (http\S+)\n/);
  const { body } = await fetch(`${again}/sign-in`).then(async (answer) => ({ body: await answer.text() }));
  const ended = new Promise<number | null>((resolve) => child.once('exit', (status) => resolve(status)));
  child.kill('SIGTERM');
  return { said: output, body, ended: await ended };
}

test('when confirmed, the server exits, restores the backup, keeps the present book aside and starts again', async () => {
  const data = temporaryFolder();
  mkdirSync(join(data, 'backups'), { recursive: true });
  await backUpBook(at.book, join(data, 'book.sqlite'));
  copyFileSync(join(folder, 'backups', 'book-2026-03-18.sqlite'), join(data, 'backups', 'book-2026-03-18.sqlite'));
  const before = await readHead(at.book.read);
  const done = await served(data, async (address, own) => {
    const shown = await (await fetch(`${address}/backups/book-2026-03-18.sqlite`, { headers: { cookie: own } })).text();
    const hidden = [...shown.matchAll(/<input type="hidden" name="(\w+)" value="([^"]*)"/g)].map((each) => [
      each[1],
      each[2],
    ]);
    const answer = await fetch(`${address}/backups/book-2026-03-18.sqlite/restore`, {
      method: 'POST',
      headers: { origin: address, cookie: own, 'content-type': 'application/x-www-form-urlencoded' },
      body: new URLSearchParams({ ...(Object.fromEntries(hidden) as Record<string, string>), sure: 'yes' }).toString(),
    });
    expect([answer.status, (await answer.text()).includes('The server restarts with it')]).toEqual([200, true]);
  });
  expect(done.said).toContain('Restored book-2026-03-18.sqlite, as WE asked');
  expect([done.ended, done.body.includes(house.name)]).toEqual([0, true]);
  const restored = await openBook({ file: join(data, 'book.sqlite') });
  expect((await readHead(restored.read)).entries).toBe(1);
  await restored.close();
  const setAside = readdirSync(data).find((name) => name.startsWith('book-kept-') && name.endsWith('.sqlite')) ?? '';
  const aside = await openBook({ file: join(data, setAside) });
  expect(await readHead(aside.read)).toEqual(before);
  await aside.close();
});

test('nothing is restored if the book was written to since the page was opened, or after an hour', async () => {
  const file = join(folder, 'backups', 'book-2026-03-18.sqlite');
  const request = { file, name: 'book-2026-03-18.sqlite', backup: await checkBookFile(file), by: 'WE' };
  const now = new Date();
  for (const [change, why] of [
    [{ at: now.toISOString(), book: { entries: 1, root: 'f'.repeat(64) } }, 'something was written in the book since'],
    [{ at: '2026-01-01T00:00:00Z' }, 'more than an hour ago'],
    [{ at: now.toISOString(), backup: { entries: 1, root: 'f'.repeat(64) } }, 'another one than was shown'],
  ] as const) {
    const data = temporaryFolder();
    const book = join(data, 'book.sqlite');
    await backUpBook(at.book, book);
    requestRestore(data, { ...request, ...change });
    const outcome = await restoreAsRequested(data, book, '2026-03-20', now);
    expect(outcome?.done === false ? outcome.why : outcome).toContain(why);
    expect(await restoreAsRequested(data, book, '2026-03-20', now)).toBeUndefined();
    expect(await checkBookFile(book)).toEqual(await readHead(at.book.read));
  }
});

test('it dates each backup by the clock of the sugarhouse, not by that of the machine', async () => {
  const zone = { name: house.name, place: 'Vermont', hydrometerMadeFor: '60-F', zone: 'Pacific/Kiritimati' };
  const madeAt = async () => /Restore a backup (\d+ \w+ [\d:]+)/.exec(plainText(await page('/backups')))?.[1];
  const before = await madeAt();
  await posted(at, '/house', zone, { cookie });
  expect(await madeAt()).not.toBe(before);
  await posted(at, '/house', { ...zone, zone: 'America/New_York' }, { cookie });
  expect(await madeAt()).toBe(before);
});
