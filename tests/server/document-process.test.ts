import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { importKinds } from '#libs/actions/kinds/registry.js';
import { record } from '#libs/actions/record/record.js';
import { openBook } from '#libs/store/book.js';
import { engines } from '../support/engines.js';
import { endAll, processesOf, started, type Started, temporaryFolder } from '../support/server-process.js';

afterAll(endAll);

describe.each(engines())('documents of the built server on $name', (engine) => {
  let server: Started;
  const keys: Record<string, string> = {};
  beforeAll(async () => {
    await engine.start();
    const folder = temporaryFolder();
    const keeping = engine.name === 'PostgreSQL' ? await engine.freshKeeping() : { file: join(folder, 'book.sqlite') };
    const book = await openBook(keeping);
    const now = new Date();
    for (const name of ['inspector', 'office'])
      keys[name] = keyOf(await addKey(book, 'home', { name, role: 'guest' }, now));
    const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now, zone: 'America/New_York' };
    const gathering = importKinds.find((each) => each.plural === 'gatherings')!;
    const sent = { id: 'G1', gatheredAt: now.toISOString(), source: 'upper lines', volume: '12 gal', by: 'JP' };
    await record(book, context, gathering, sent);
    await book.close();
    server = await started(folder, 'url' in keeping ? { BOILBOOK_DATABASE_URL: keeping.url } : {});
  });

  afterAll(() => engine.stop());

  const year = new Date().getFullYear();
  const ask = (name: string, ending: string, signal?: AbortSignal) =>
    fetch(`${server.address}/api/seasons/${year}/summary.${ending}`, {
      headers: { authorization: `Bearer ${keys[name]}` },
      ...(signal ? { signal } : {}),
    });

  test('are made by a separate process, with the server’s headers', async () => {
    expect(processesOf(server)).toEqual([]);
    const answer = await ask('inspector', 'pdf');
    const bytes = Buffer.from(await answer.arrayBuffer());
    expect([answer.status, answer.headers.get('content-type')]).toEqual([200, 'application/pdf']);
    expect(answer.headers.get('content-disposition')).toContain(`season-${year}.pdf`);
    expect(answer.headers.get('x-content-type-options')).toBe('nosniff');
    expect([bytes.subarray(0, 5).toString(), bytes.subarray(-6).toString().trim()]).toEqual(['%PDF-', '%%EOF']);
    expect(processesOf(server)).toHaveLength(1);
    // The next request uses that process.
    expect((await ask('office', 'csv')).status).toBe(200);
    expect(processesOf(server)).toHaveLength(1);
    expect((await ask('nobody', 'csv')).status).toBe(401);
  }, 180_000);

  // The rest is the same on both engines, and a process takes a second to start.
  if (engine.name === 'PostgreSQL') return;

  test('are cancelled when the client disconnects, and the next one is served', async () => {
    const [before = 0] = processesOf(server);
    // How soon the request is being handled depends on the machine: a reader who disconnects too early stops nothing.
    for (let delay = 20; processesOf(server).includes(before) && delay < 2000; delay *= 3) {
      const leaving = new AbortController();
      const left = ask('inspector', 'pdf', leaving.signal).catch(() => 'left');
      await new Promise((resolve) => setTimeout(resolve, delay));
      leaving.abort();
      await left;
      await new Promise((resolve) => setTimeout(resolve, 500));
    }
    expect(before).toBeGreaterThan(0);
    expect(processesOf(server)).not.toContain(before);
    expect((await ask('inspector', 'xlsx')).status).toBe(200);
  }, 180_000);

  test('that fail leave the server running: 503, a sentence and when to retry', async () => {
    let answer = await ask('inspector', 'csv');
    // While it is suspended it has the request when it is killed; the request may need a moment to arrive.
    for (let wait = 300; answer.status === 200 && wait < 3000; wait *= 3) {
      const [pid = 0] = processesOf(server);
      process.kill(pid, 'SIGSTOP');
      const pending = ask('inspector', 'csv');
      await new Promise((resolve) => setTimeout(resolve, wait));
      process.kill(pid, 'SIGKILL');
      answer = await pending;
    }
    expect([answer.status, answer.headers.get('retry-after')]).toEqual([503, '30']);
    expect(((await answer.json()) as { detail: string }).detail).toContain('Request it again');
    expect((await ask('inspector', 'json')).status).toBe(200);
  }, 180_000);
});

const keyOf = (made: object): string => ('key' in made ? String(made.key) : '');
