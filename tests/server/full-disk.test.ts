import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addKey, changePassword } from '#libs/actions/accounts/accounts.js';
import { readHead } from '#libs/store/log/log.js';
import { owner, setUp } from '../support/newcomer.js';
import { posted, signedIn, startServer, type TestServer } from '../support/server.js';

/** SQLite's own limit on the pages of a file: a further page is refused as on a full disk. */
let at: TestServer;
let cookie = '';
beforeAll(async () => {
  at = await startServer();
  await setUp(at);
  cookie = await signedIn(at, owner.initials, owner.password);
});
afterAll(() => at.close());

const limitPages = (pages: number): Promise<object> =>
  at.book.write(async ({ sql }) => ({ rows: await sql.statement(`PRAGMA max_page_count = ${pages}`) }));
const gathering = {
  volume: '40',
  'volume~unit': 'gal',
  source: 'South road',
  gatheredAt: '2026-03-10T08:00',
  condition: 'clear and cold, '.repeat(100),
};
const gather = (n: number) =>
  posted(at, '/sap/gather', { ...gathering, id: `G${n}`, _once: `full-disk-${n}` }, { cookie });

test('on a full disk a page says that nothing was saved and what to do, pages can still be read, and the same entry is saved once there is room', async () => {
  // No more pages than it has: a few entries fit into the free ones.
  await limitPages(1);
  const before = (await readHead(at.book.read)).entries;
  let n = 0;
  let answer = await gather(n);
  while (answer.statusCode === 303 && n < 200) answer = await gather(++n);
  expect(answer.statusCode).toBe(503);
  expect(answer.body).toContain('<h1>');
  expect(answer.body).toContain('The disk is full: nothing was saved.');
  expect(answer.body).toMatch(/Free some space on the computer that holds the book[^<]*then send it again/);
  expect(answer.body).not.toMatch(/SQLITE|max_page|\n\s+at /);
  expect((await readHead(at.book.read)).entries).toBe(before + n);
  for (const url of ['/', '/sap', '/season', '/boils'])
    expect([url, (await at.web.inject({ url, headers: { cookie } })).statusCode]).toEqual([
      url,
      url.endsWith('season') ? 303 : 200,
    ]);
  await limitPages(1_000_000);
  expect((await gather(n)).statusCode).toBe(303);
  expect((await gather(n)).statusCode).toBe(303);
  expect((await readHead(at.book.read)).entries).toBe(before + n + 1);
}, 60_000);

test('the API says the same as problem details', async () => {
  const made = await addKey(at.book, 'home', { name: 'scale', role: 'maker' }, at.clock.now);
  await limitPages(1);
  const { volume: _, 'volume~unit': _unit, ...rest } = gathering;
  const send = (n: number) =>
    at.web.inject({
      method: 'POST',
      url: '/api/gatherings',
      payload: { ...rest, volume: '40 gal', id: `G${n}`, by: 'WE' },
      headers: { authorization: `Bearer ${'key' in made ? made.key : ''}` },
    });
  let n = 300;
  let answer = await send(n);
  while (answer.statusCode === 201 && n < 500) answer = await send(++n);
  await limitPages(1_000_000);
  expect([answer.statusCode, answer.headers['content-type']]).toEqual([503, 'application/problem+json; charset=utf-8']);
  expect(answer.json()).toMatchObject({ detail: expect.stringContaining('The disk is full: nothing was saved.') });
});

test('people can sign in and read on a new device, until they sign out or change their password', async () => {
  const read = async (device: string) => (await at.web.inject({ url: '/', headers: { cookie: device } })).statusCode;
  const entries = async () => {
    const rows = await at.book.read.rows<{ n: number }>`SELECT COUNT(*) AS n FROM household_session`;
    return Number(rows[0]?.n);
  };
  const inMemory: string[] = [];
  try {
    // The first of them uses up the file's free pages. A connection that failed is replaced, without the limit.
    for (let n = 0; inMemory.length < 2 && n < 200; n++) {
      await limitPages(1);
      const before = await entries();
      const device = await signedIn(at, owner.initials, owner.password);
      if ((await entries()) === before) inMemory.push(device);
    }
  } finally {
    await limitPages(1_000_000);
  }
  const [first = '', second = ''] = inMemory;
  expect([await read(first), await read(second)]).toEqual([200, 200]);
  await posted(at, '/sign-out', {}, { cookie: first });
  expect([await read(first), await read(second)]).toEqual([303, 200]);
  const input = { initials: owner.initials, password: 'another pan, another steam' };
  expect(await changePassword(at.book, 'home', input)).toEqual({ initials: owner.initials });
  expect(await read(second)).toBe(303);
}, 120_000);
