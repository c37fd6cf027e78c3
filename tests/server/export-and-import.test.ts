import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { fileKinds, importKinds } from '#libs/actions/kinds/registry.js';
import { copyBook } from '#libs/store/backup/copy-book.js';
import { readHead } from '#libs/store/log/log.js';
import { eachKind } from '../support/each-kind.js';
import { writeDay } from '../support/season-server.js';
import { startServer, type TestServer } from '../support/server.js';

let here: TestServer;
let moved: TestServer;
let day: Awaited<ReturnType<typeof writeDay>>;
const supporting = fileKinds.filter((kind) => !importKinds.includes(kind));
const keys = new Map<TestServer, string>();

/** A book moved elsewhere, or restored from a backup, before the last entries of the first were written. */
beforeAll(async () => {
  [here, moved] = [await startServer(), await startServer()];
  day = await writeDay(here);
  await copyBook(here.book, moved.book);
  for (const at of [here, moved]) {
    const made = await addKey(at.book, 'home', { name: 'files', role: 'owner' }, at.clock.now);
    if ('key' in made) keys.set(at, made.key);
  }
  const later: [string, object][] = [
    [
      'receipts',
      {
        id: 'R007',
        supplier: 'Bracken Lane Sugarbush',
        contact: '802 555 0177',
        volume: '5 gal',
        receivedAt: '2026-03-19T08:00',
      },
    ],
    ['draws', { id: 'D001', boil: '26077A', drawnAt: '2026-03-18T15:00', volume: '1 qt' }],
    [
      'dispatches',
      {
        id: 'S200',
        lot: day.pack,
        jars: day.jars.slice(0, 3),
        sentAt: '2026-03-20T10:00',
        to: '=SUM(A1) stall; "Millrace, Green"',
        kind: 'gift',
      },
    ],
    ['counts', { id: 'C1', lot: day.pack, jars: '15', countedAt: '2026-03-20T11:00' }],
    ...supporting.map((kind): [string, object] => [kind.plural, eachKind[kind.kind].sent]),
  ];
  for (const [plural, body] of later) {
    const done = await send(here, 'POST', `/api/${plural}`, JSON.stringify(body), 'application/json');
    if (done.statusCode !== 201) throw new Error(`${plural}: ${done.body}`);
  }
});
afterAll(async () => {
  await here.close();
  await moved.close();
});

const send = (at: TestServer, method: 'GET' | 'POST', url: string, payload?: string, type?: string) =>
  at.web.inject({
    method,
    url,
    ...(payload === undefined ? {} : { payload }),
    headers: { authorization: `Bearer ${keys.get(at)}`, ...(type ? { 'content-type': type } : {}) },
  });
const exported = async (at: TestServer, plural: string): Promise<string> => {
  const file = await send(at, 'GET', `/files/export/${plural}.csv`);
  expect([plural, file.statusCode]).toEqual([plural, 200]);
  return file.body;
};
const imported = async (at: TestServer, plural: string, csv: string) => {
  const done = await send(at, 'POST', `/api/imports/${plural}`, csv, 'text/csv');
  expect([plural, done.statusCode < 300 ? '' : done.body]).toEqual([plural, '']);
  return done.json<{ rows: number; written: number; same: number; corrected: number }>();
};

test('an export imported into the same book changes nothing, for every kind', async () => {
  const before = (await readHead(here.book.read)).entries;
  for (const { plural } of fileKinds) {
    const done = await imported(here, plural, await exported(here, plural));
    expect([plural, done.rows > 0, done.same]).toEqual([plural, true, done.rows]);
  }
  expect((await readHead(here.book.read)).entries).toBe(before);
});

test('records written after the book was moved are imported from its files, also dispatches with jar codes', async () => {
  const written: [string, number][] = [];
  for (const { plural } of fileKinds) {
    const done = await imported(moved, plural, await exported(here, plural));
    expect([plural, done.corrected]).toEqual([plural, 0]);
    written.push([plural, done.written]);
  }
  expect(written.filter(([, n]) => n > 0)).toEqual([
    ['receipts', 1],
    ['draws', 1],
    ['dispatches', 1],
    ['counts', 1],
    ...supporting.map(({ plural }) => [plural, 1]),
  ]);
  for (const { plural } of fileKinds) expect(await exported(moved, plural)).toBe(await exported(here, plural));
  const there = await send(moved, 'GET', '/api/dispatches/S200');
  expect(there.json()).toMatchObject({ to: '=SUM(A1) stall; "Millrace, Green"', jars: day.jars.slice(0, 3) });
  const trace = await send(moved, 'GET', `/api/jars/${day.jars[0]}`);
  expect(trace.json()).toMatchObject({ jar: { dispatches: ['S200'] }, jars: { sentOut: 15 } });
});

test('jar codes of another book are refused with what to do, and the same dispatch by count is saved', async () => {
  const other = await startServer();
  try {
    await writeDay(other);
    const made = await addKey(other.book, 'home', { name: 'files', role: 'owner' }, other.clock.now);
    if ('key' in made) keys.set(other, made.key);
    const line = (jars: string) =>
      `id,lot,jars,sent_at,to,kind\nS300,${day.pack},${jars},2026-03-20T10:00,the stall,gift\n`;
    const refused = await send(other, 'POST', '/api/imports/dispatches', line(day.jars[0] ?? ''), 'text/csv');
    expect(refused.statusCode).toBe(422);
    expect(refused.body).toContain('which is not in this book: a code is known to the book that printed it');
    expect(await imported(other, 'dispatches', line('1'))).toMatchObject({ written: 1 });
  } finally {
    await other.close();
  }
});

test('the owner downloads the record from the Files page, and any reader the program that checks it', async () => {
  const made = await addKey(here.book, 'home', { name: 'inspector', role: 'guest' }, here.clock.now);
  const authorization = `Bearer ${'key' in made ? made.key : ''}`;
  const asGuest = (url: string) => here.web.inject({ url, headers: { authorization } });
  const page = (await send(here, 'GET', '/files')).body;
  for (const address of ['/files/record.json', '/files/verify-record.mjs']) expect(page).toContain(`href="${address}"`);
  expect((await asGuest('/files/record.json')).statusCode).toBe(403);
  expect((await asGuest('/files')).body).not.toContain('/files/record.json');
  const folder = mkdtempSync(join(tmpdir(), 'boilbook-inspector-'));
  try {
    writeFileSync(join(folder, 'record.json'), (await send(here, 'GET', '/files/record.json')).body);
    writeFileSync(join(folder, 'verify-record.mjs'), (await asGuest('/files/verify-record.mjs')).body);
    const { root, entries } = await readHead(here.book.read);
    const run = ['verify-record.mjs', 'record.json', '--against', root, '--entries', String(entries)];
    const { status, stdout } = spawnSync(process.execPath, run, { cwd: folder, encoding: 'utf8' });
    expect([status, stdout.includes(`root ${root}`)]).toEqual([0, true]);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
