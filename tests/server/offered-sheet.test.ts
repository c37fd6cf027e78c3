import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { owner, setUp } from '../support/newcomer.js';
import { writeDay } from '../support/season-server.js';
import { startServer, posted, signedIn, type TestServer } from '../support/server.js';

let server: TestServer;
let cookie = '';
let pack = '';

beforeAll(async () => {
  server = await startServer();
  await setUp(server);
  cookie = await signedIn(server, 'WE', owner.password);
  pack = (await writeDay(server)).pack;
  await posted(server, `/lots/${pack}/labels/read`, { _once: 'read' }, { cookie });
});
afterAll(() => server.close());

const labels = async (query = ''): Promise<string> =>
  (await server.web.inject({ url: `/lots/${pack}/labels${query}`, headers: { cookie } })).body;

test('the sheet offered first holds the whole label, with the advice to refrigerate', async () => {
  const offered = await labels();
  const [stock = ''] = [...offered.matchAll(/name="stock" value="([^"]+)"[^>]* checked/g)].map(([, name]) => name);
  expect(stock).not.toBe('');
  expect(offered).toContain('Refrigerate after opening');
  expect(offered).not.toContain('Left out');
});

test('a smaller sheet that somebody chooses still says what it leaves out', async () => {
  const small = await labels('?stock=roll-57x32');
  expect(small).toMatch(/name="stock" value="roll-57x32"[^>]* checked/);
  expect(small).toContain('Left out, as there is no room');
});
