import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { writeEvening } from '../browser/an-evening.js';
import { aServer, posted, signedIn, type AServer } from './a-server.js';

let server: AServer;
let cookie = '';

beforeAll(async () => {
  server = await aServer();
  server.server.firstWord.current(server.clock.now);
  await posted(server, '/set-up', {
    word: server.words.at(-1) ?? '',
    name: 'Tamarack Hollow Sugarhouse',
    place: 'Vermont',
    initials: 'WE',
    person: 'Wren Ellery',
    password: 'steam over the roof at night',
  });
  await writeEvening(server);
  cookie = await signedIn(server, 'WE', 'steam over the roof at night');
});
afterAll(() => server.close());

const seen = async (url: string): Promise<string> =>
  (await server.web.inject({ url, headers: { cookie } })).body.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');

test('a place finds the jars that went there, by how many and of which lot', async () => {
  expect(await seen('/find?q=Millrace')).toMatch(/6 jars of \d{5}A-1 to Millrace Green market/);
});

test('a source is said once, though its kind is in its own words', async () => {
  const page = await seen('/cautions');
  expect(page).toContain('common practice, no source');
  expect(page).not.toContain('common practice, no source (practice)');
  expect(page).not.toContain('(second hand) (second hand)');
});
