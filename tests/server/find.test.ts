import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { gatherings } from '#libs/actions/kinds/gathering.js';
import { dispatches } from '#libs/actions/kinds/dispatch.js';
import { record } from '#libs/actions/record/record.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { jarsOfPack, lotsOf } from '#libs/store/queries/lots.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { writeEvening } from '../support/evening-scenario.js';
import { owner, setUp } from '../support/newcomer.js';
import { startServer, signedIn, type TestServer } from '../support/server.js';

let server: TestServer;
let cookie = '';

beforeAll(async () => {
  server = await startServer();
  await setUp(server);
  await writeEvening(server);
  cookie = await signedIn(server, 'WE', owner.password);
});
afterAll(() => server.close());

const seen = async (url: string): Promise<string> =>
  (await server.web.inject({ url, headers: { cookie } })).body.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');

test('a place finds the jars that went there, with their number and lot', async () => {
  expect(await seen('/find?q=Millrace')).toMatch(/6 jars of \d{5}A-1 to Millrace Green market/);
});

test('a pack is found by its code without the hyphen and in small letters', async () => {
  const [pack] = await lotsOf(sugarhouseReader(server.book.read, 'home'), 'pack');
  const typed = (pack?.code ?? '').replace('-', '').toLowerCase();
  const { headers } = await server.web.inject({ url: `/find?q=${typed}`, headers: { cookie } });
  expect(headers.location).toBe(`/lots/${pack?.code}`);
});

test('the form for bought syrup asks for its allergens', async () => {
  const { body } = await server.web.inject({ url: '/sap/receive', headers: { cookie } });
  expect(body).toContain('name="allergens"');
});

test('jars recorded by their numbers are counted', async () => {
  const packs = await lotsOf(sugarhouseReader(server.book.read, 'home'), 'pack');
  const pack = packs.find(({ jars = 0, state }) => jars > 3 && state === 'open');
  const sent = { lot: pack?.code, jars: 'jars 1-3', to: 'Aunt Posy', kind: 'kept', sentAt: '2026-05-01T10:00' };
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: server.clock.now, zone: 'America/New_York' };
  const saved = await record(server.book, context, dispatches, sent);
  if ('problem' in saved) throw new Error(JSON.stringify(saved.problem));
  expect(await seen('/find?q=Posy')).toContain(`3 jars of ${pack?.code} to Aunt Posy`);
});

test('a name is found in capitals or small letters, with or without accents', async () => {
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: server.clock.now, zone: 'America/New_York' };
  const sent = {
    id: 'G777',
    gatheredAt: '2026-03-18T16:00',
    source: 'Érablière du Nord, 100 % seaux',
    volume: '9 gal',
  };
  const saved = await record(server.book, context, gatherings, sent);
  if ('problem' in saved) throw new Error(JSON.stringify(saved.problem));
  for (const text of ['érablière', 'ÉRABLIÈRE DU NORD', 'Érablière', '100 % SEAUX'])
    expect([text, (await seen(`/find?q=${encodeURIComponent(text)}`)).includes('G777')]).toEqual([text, true]);
  expect(await seen(`/find?q=${encodeURIComponent('àrablière')}`)).not.toContain('G777');
});

test('days in plain words find what was recorded on them, and every hit shows why it was found', async () => {
  // The server's clock is set to 20 March 2026, a Friday.
  const resultsOf = (q: string) => seen(`/find?q=${encodeURIComponent(q)}`);
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: server.clock.now, zone: 'America/New_York' };
  const sent = { id: 'G778', gatheredAt: '2026-03-12T16:00', source: 'back lot by the beech', volume: '9 gal' };
  const saved = await record(server.book, context, gatherings, sent);
  if ('problem' in saved) throw new Error(JSON.stringify(saved.problem));
  for (const q of ['12 Mar', 'March 12', '12th of March 2026', '2026-03-12', '8 days ago', 'last week'])
    expect([q, (await resultsOf(q)).includes('G778')]).toEqual([q, true]);
  expect(await resultsOf('12 Mar')).toContain('date: 12 Mar 2026');
  expect(await resultsOf('last week')).toContain('date: 9 Mar 2026 to 15 Mar 2026');
  expect(await resultsOf('March beech')).toMatch(
    /G778 .*where from: back lot by the beech date: 1 Mar 2026 to 31 Mar 2026/i,
  );
  expect(await resultsOf('beech lot')).toContain('G778');
  for (const q of ['11 Mar', 'April', '2025', 'yesterday', 'March maple', '31 April'])
    expect([q, (await resultsOf(q)).includes('G778')]).toEqual([q, false]);
});

test('part of a lot’s or jar’s code finds it, with the part highlighted', async () => {
  const code =
    (await lotsOf({ sql: server.book.read, sugarhouse: 'home' }, 'pack')).find(({ jars }) => jars)?.code ?? '';
  const { body } = await server.web.inject({ url: `/find?q=${code.slice(3)}`, headers: { cookie } });
  expect(body).toContain(`code: ${code.slice(0, 3)}<mark>${code.slice(3)}</mark>`);
  const jars: string[] = [];
  for await (const jar of jarsOfPack({ sql: server.book.read, sugarhouse: 'home' }, code))
    jars.push(printedJarCode(jar.code));
  expect(await seen(`/find?q=${jars[0]?.slice(0, 6).toLowerCase()}`)).toContain(jars[0]);
});

test('a source is printed once, though its kind is part of its text', async () => {
  const page = await seen('/cautions');
  expect(page).toContain('common practice, no source');
  expect(page).not.toContain('common practice, no source (practice)');
  expect(page).not.toContain('(second hand) (second hand)');
});
