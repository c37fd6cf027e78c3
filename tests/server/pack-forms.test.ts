import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { packFields } from '#libs/actions/kinds/pack.js';
import { owner, setUp } from '../support/newcomer.js';
import { startServer, signedIn, type TestServer } from '../support/server.js';
import { writeDay } from '../support/season-server.js';

let server: TestServer;
let cookie = '';
beforeAll(async () => {
  server = await startServer();
  await setUp(server);
  await writeDay(server);
  cookie = await signedIn(server, 'WE', owner.password);
}, 60_000);
afterAll(() => server.close());

/**
 * Names of the boxes on a page, without the suffixes that a field of several boxes adds: `fillTemps~2`, `packedAt~day`.
 */
async function boxes(url: string): Promise<Set<string>> {
  const { body, statusCode } = await server.web.inject({ url, headers: { cookie } });
  expect(statusCode).toBe(200);
  return new Set([...body.matchAll(/ name="(\w+)/g)].map(([, name]) => name ?? ''));
}

test('the form for a pack from paper has every field of a pack, but for what only the pad asks while jars are filled', async () => {
  const fieldNames = await boxes('/packs/finished');
  expect(Object.keys(packFields).filter((name) => !fieldNames.has(name))).toEqual(['thermometerCheck']);
});
