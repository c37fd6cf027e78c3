import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { openBook } from '#libs/store/book.js';
import { readHead, walkLog } from '#libs/store/log/log.js';
import { findLot, findRecord, jarsOfPack } from '#libs/store/queries/lots.js';
import { packageRoot } from '#libs/package-root.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { done } from '../support/sugarhouse.js';
import { type Child, startChild } from '../support/child-process.js';
import { startPostgres } from '../support/start-postgres.mjs';
import { type Confirmed, sendFromClients } from '../support/concurrent-clients.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** Four servers, started as npm start does, over one PostgreSQL that is restarted in the middle. */
let engine: Awaited<ReturnType<typeof startPostgres>>;
let folder: string;
const children: Child[] = [];
beforeAll(async () => {
  engine = await startPostgres();
  folder = mkdtempSync(join(tmpdir(), 'boilbook-many-'));
});
afterAll(async () => {
  for (const child of children) child.process.kill('SIGKILL');
  await engine.stop();
  rmSync(folder, { recursive: true, force: true });
});

async function aServerProcess(n: number): Promise<string> {
  const child = startChild('env', [
    `BOILBOOK_DATA=${join(folder, String(n))}`,
    `BOILBOOK_DATABASE_URL=${engine.url}`,
    'BOILBOOK_PORT=0',
    'BOILBOOK_TIME_ZONE=America/New_York',
    process.execPath,
    join(packageRoot, 'dist/apps/server/main.js'),
  ]);
  children.push(child);
  return /http:\S+/.exec(await child.waitForLine(/^Boilbook \S+: http/))?.[0] ?? '';
}

test('four servers, 32 clients, one server killed and one PostgreSQL restart: no write is lost or duplicated', async () => {
  const first = await openBook({ url: engine.url });
  const { key } = done(await addKey(first, 'home', { name: 'phones', role: 'maker' }, new Date()));
  await first.close();
  const servers = await Promise.all([0, 1, 2, 3].map(aServerProcess));

  const errands = 8;
  const expected = 32 * (errands + errands / 4);
  const happened: string[] = [];
  let restarted: Promise<void> = Promise.resolve();
  const saved = await sendFromClients({
    servers,
    apiKey: key,
    clients: 32,
    errands,
    onConfirmed: (count) => {
      if (count >= expected / 3 && !happened.includes('killed')) {
        happened.push('killed');
        servers.splice(0, 1);
        children[0]?.process.kill('SIGKILL');
      }
      if (count >= (expected * 2) / 3 && !happened.includes('restarted')) {
        happened.push('restarted');
        restarted = engine.restart();
      }
    },
  });
  await restarted;

  expect(happened).toEqual(['killed', 'restarted']);
  // A client of a server that kept running didn't notice the restart.
  expect([...saved.faults, ...faultsLogged()]).toEqual([]);
  expect(saved.ledger.size).toBe(expected);
  await drained(saved, expected);
}, 240_000);

/** The servers' own error messages. */
const faultsLogged = (): string[] => children.flatMap((child) => child.lines.filter((line) => /fault/.test(line)));

/** Compares the book with the acknowledged writes: everything once, complete, under the code that was returned. */
async function drained(saved: Confirmed, expected: number): Promise<void> {
  const book = await openBook({ url: engine.url });
  try {
    expect(await verifyBook(book)).toMatchObject({ ok: true, entries: expected });
    expect((await readHead(book.read)).entries).toBe(expected);
    const keys: string[] = [];
    for await (const row of walkLog(book.read)) keys.push(row.idempotency_key.replace(/^key:/, ''));
    expect(keys.sort()).toEqual([...saved.ledger.keys()].sort());

    const answered = [...saved.ledger.values()];
    const lots = answered.filter(({ noun }) => noun !== 'gatherings').map(({ id }) => id);
    expect(new Set(lots).size).toBe(lots.length);
    const lost: string[] = [];
    for (const { noun, id } of answered) {
      const there =
        noun === 'gatherings'
          ? findRecord(sugarhouseReader(book.read, 'home'), 'gathering', id)
          : findLot(sugarhouseReader(book.read, 'home'), id);
      if (!(await there)) lost.push(id);
    }
    expect(lost).toEqual([]);

    const jars: string[] = [];
    for (const { noun, id } of answered)
      if (noun === 'packs')
        for await (const jar of jarsOfPack(sugarhouseReader(book.read, 'home'), id)) jars.push(jar.code);
    expect(jars).toHaveLength(5 * answered.filter(({ noun }) => noun === 'packs').length);
    expect(new Set(jars).size).toBe(jars.length);
  } finally {
    await book.close();
  }
}
