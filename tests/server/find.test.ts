import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { gatherings } from '#libs/actions/kinds/gathering.js';
import { record } from '#libs/actions/record/record.js';
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

test('a place finds the jars that went there, by how many and of which lot', async () => {
  expect(await seen('/find?q=Millrace')).toMatch(/6 jars of \d{5}A-1 to Millrace Green market/);
});

test('a name is found in capitals and in small letters, with accents as with plain ones', async () => {
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

test('a source is said once, though its kind is in its own words', async () => {
  const page = await seen('/cautions');
  expect(page).toContain('common practice, no source');
  expect(page).not.toContain('common practice, no source (practice)');
  expect(page).not.toContain('(second hand) (second hand)');
});
