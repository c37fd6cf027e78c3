import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { makeGuestLink } from '#libs/actions/accounts/sign-in.js';
import { readHead } from '#libs/store/log/log.js';
import { done } from '../support/sugarhouse.js';
import { writeDay } from '../support/season-server.js';
import { posted, startServer, type TestServer } from '../support/server.js';

/** Whoever has a pack's seed can calculate the code of each of its jars, which only the jar's label should carry. */
let at: TestServer;
let day: Awaited<ReturnType<typeof writeDay>>;
const headersOf: Record<string, Record<string, string>> = {};

beforeAll(async () => {
  at = await startServer();
  day = await writeDay(at);
  for (const role of ['guest', 'helper', 'maker', 'owner']) {
    const { key } = done(await addKey(at.book, 'home', { name: `${role} script`, role }, at.clock.now));
    headersOf[role] = { authorization: `Bearer ${key}` };
  }
  const link = done(await makeGuestLink(at.book, 'home', { name: 'Inspector', days: 7, by: 'WE' }, at.clock.now));
  const opened = await posted(at, `/guest/${link.token}`, {});
  headersOf['guest link'] = { cookie: opened.cookies.map(({ name, value }) => `${name}=${value}`).join('; ') };
}, 60_000);
afterAll(() => at.close());

const get = (reader: string, url: string) => at.web.inject({ url, headers: headersOf[reader] ?? {} });

test('no page or answer about an entry shows the seed of its jar codes; only the owner’s export has it', async () => {
  const exported = (await get('owner', '/api/record/log.jsonl')).body.trim().split('\n');
  const seeds = exported.flatMap((line) => (JSON.parse(line) as { jars?: { seed: string } }).jars?.seed ?? []);
  expect(seeds.map((seed) => seed.length)).toEqual([64, 64]);
  const { entries } = await readHead(at.book.read);
  const urls = [
    ...Array.from({ length: entries }, (_, n) => `/records/${n + 1}`),
    ...[day.pack, day.cold].flatMap((pack) => [`/lots/${pack}`, `/records/pack/${pack}`, `/api/lots/${pack}/history`]),
  ];
  const shown: string[] = [];
  for (const reader of Object.keys(headersOf))
    for (const url of urls) {
      const { statusCode, body } = await get(reader, url);
      if (statusCode !== 200) shown.push(`${reader} ${url}: ${statusCode}`);
      if (seeds.some((seed) => body.includes(seed))) shown.push(`${reader} ${url}: the seed`);
    }
  expect(shown).toEqual([]);
  for (const reader of ['guest link', 'guest', 'helper', 'maker'])
    expect([reader, (await get(reader, '/api/record/log.jsonl')).statusCode]).toEqual([reader, 403]);
});

test('an entry that gave jars their codes says which, and that the seed is left out of its text', async () => {
  const entryOf = async (pack: string): Promise<number> => {
    const history = await get('owner', `/api/lots/${pack}/history`);
    return history.json<{ entries: { entry: number; jars?: object }[] }>().entries.find(({ jars }) => jars)?.entry ?? 0;
  };
  const page = (await get('guest link', `/records/${await entryOf(day.cold)}`)).body.replaceAll('&quot;', '"');
  expect(page).toMatch(new RegExp(`"jars": {\\s+"count": 15,\\s+"from": 1,\\s+"pack": "${day.cold}"`));
  expect(page).toContain('The seed of its jar codes is left out');
  expect((await get('owner', '/records/1')).body).not.toContain('The seed of its jar codes');
});
