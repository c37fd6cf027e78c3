import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { openBook } from '#libs/store/book.js';
import { readHead } from '#libs/store/log/log.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { engines } from '../support/engines.js';
import { endAll, processesOf, started, type Started, temporaryFolder } from '../support/server-process.js';

afterAll(endAll);

describe.each(engines())('a long file sent to the built server on $name', (engine) => {
  let server: Started;
  let location: Parameters<typeof openBook>[0];
  let key = '';
  beforeAll(async () => {
    await engine.start();
    const folder = temporaryFolder();
    location = engine.name === 'PostgreSQL' ? await engine.freshKeeping() : { file: join(folder, 'book.sqlite') };
    const book = await openBook(location);
    const added = await addKey(book, 'home', { name: 'office', role: 'owner' }, new Date());
    if ('problem' in added) throw new Error(JSON.stringify(added.problem));
    ({ key } = added);
    await book.close();
    server = await started(folder, 'url' in location ? { BOILBOOK_DATABASE_URL: location.url } : {});
  });
  afterAll(() => engine.stop());

  const send = (text: string, query = '') =>
    fetch(`${server.address}/api/imports/gatherings${query}`, {
      method: 'POST',
      headers: { authorization: `Bearer ${key}`, 'content-type': 'text/csv' },
      body: text,
    });
  const gatherings = (prefix: string, count: number): string =>
    [
      'id,gathered_at,source,volume,by',
      ...Array.from({ length: count }, (_, n) => `${prefix}${n},2026-03-17T16:00,upper lines,12 gal,JP`),
    ].join('\n');
  const entries = async (): Promise<number> => {
    const book = await openBook(location);
    try {
      return (await readHead(book.read)).entries;
    } finally {
      await book.close();
    }
  };

  test('is imported by a process of its own, which then ends; the answer is like that for a short one', async () => {
    const sent = send(gatherings('L', 120));
    let seen: number[] = [];
    for (let n = 0; n < 200 && seen.length === 0; n++) {
      await new Promise((resolve) => setTimeout(resolve, 20));
      seen = processesOf(server);
    }
    expect(seen).toHaveLength(1);
    const answer = await sent;
    expect(answer.status).toBe(201);
    expect(await answer.json()).toMatchObject({ rows: 120, written: 120, same: 0 });
    // The other answers are those of a short file on either engine, and each process takes a second to start.
    if (engine.name === 'SQLite') await answersAsOfAShortOne();
    expect(await entries()).toBe(120);
    for (let n = 0; n < 100 && processesOf(server).length > 0; n++) await new Promise((go) => setTimeout(go, 20));
    expect(processesOf(server)).toEqual([]);
  }, 180_000);

  async function answersAsOfAShortOne(): Promise<void> {
    expect(await (await send(gatherings('L', 120))).json()).toMatchObject({ written: 0, same: 120 });
    const faulty = await send(`${gatherings('M', 120)}\nM120,2026-03-17T16:00,upper lines,12,JP`);
    expect([faulty.status, await faulty.text()]).toEqual([422, expect.stringContaining('"line":122')]);
    const tried = await send(gatherings('M', 120), '?dryRun=yes');
    expect([tried.status, await tried.json()]).toEqual([200, expect.objectContaining({ written: 120, dryRun: true })]);
  }

  test('whose process is killed is reported as not saved, and the next one is imported', async () => {
    const before = await entries();
    const sent = send(gatherings('K', 800));
    let seen: number[] = [];
    for (let n = 0; n < 200 && seen.length === 0; n++) {
      await new Promise((resolve) => setTimeout(resolve, 20));
      seen = processesOf(server);
    }
    process.kill(seen[0]!, 'SIGKILL');
    const answer = await sent;
    expect(answer.status).toBe(500);
    expect(await entries()).toBe(before);
    expect((await send(gatherings('N', 120))).status).toBe(201);
    const book = await openBook(location);
    expect(await verifyBook(book)).toMatchObject({ ok: true, entries: before + 120 });
    await book.close();
  }, 180_000);
});
