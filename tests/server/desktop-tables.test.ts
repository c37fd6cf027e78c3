import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { importKinds } from '#libs/actions/kinds/registry.js';
import { record } from '#libs/actions/record/record.js';
import { owner, setUp } from '../support/newcomer.js';
import { startServer, signedIn, type TestServer } from '../support/server.js';

/** Desktop tables, by their addresses: the page without script, and the exported file. */
let server: TestServer;
let cookie = '';

beforeAll(async () => {
  server = await startServer();
  await setUp(server);
  cookie = await signedIn(server, 'WE', owner.password);
  const gatherings = importKinds.find((each) => each.plural === 'gatherings');
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: server.clock.now, zone: 'America/New_York' };
  for (const [id, volume, source] of [
    ['G001', '120 gal', 'North slope'],
    ['G002', '9 gal', '=SUM(A1) lot'],
    ['G003', '80 gal', 'North slope'],
  ] as const) {
    const sent = { id, gatheredAt: `2026-03-1${id.slice(-1)}T16:00`, source, volume };
    const saved = gatherings && (await record(server.book, context, gatherings, sent));
    if (!saved || 'problem' in saved) throw new Error(JSON.stringify(saved));
  }
});
afterAll(() => server.close());

const get = async (url: string): Promise<string> => (await server.web.inject({ url, headers: { cookie } })).body;
/** The first cell of each row of the table, from the top. */
const rows = async (url: string): Promise<string[]> => {
  const table = /<table class="desktop-table">[^]*?<\/table>/.exec(await get(url))?.[0] ?? '';
  return [...table.matchAll(/<tr><td[^>]*><a[^>]*>([^<]*)</g)].map(([, text = '']) => text);
};

test('rows are newest first, and sort by any column up or down: a volume by its size and not by its text', async () => {
  expect(await rows('/sap')).toEqual(['G003', 'G002', 'G001']);
  expect(await rows('/sap?sort=volume')).toEqual(['G002', 'G003', 'G001']);
  expect(await rows('/sap?sort=-volume')).toEqual(['G001', 'G003', 'G002']);
  expect(await get('/sap?sort=volume')).toMatch(/aria-sort="ascending"><a href="\/sap\?sort=-volume">Volume/);
});

test('words filter the rows in any order, and a word without a match is reported', async () => {
  expect(await rows('/sap?q=slope+north')).toEqual(['G003', 'G001']);
  expect(await get('/sap?q=slope&sort=volume')).toContain('2 of 3 gatherings and receipts');
  expect(await get('/sap?q=zzz')).toContain('No gatherings and receipts with “zzz”.');
});

test('the exported file has the rows of the table, in its order, and no formula that a spreadsheet would run', async () => {
  const answer = await server.web.inject({ url: '/sap?q=gal&sort=-volume&as=csv', headers: { cookie } });
  expect(answer.headers['content-type']).toBe('text/csv; charset=utf-8');
  expect(answer.headers['content-disposition']).toContain('attachment');
  const lines = answer.body.trim().split('\r\n');
  expect(lines.map((line) => line.split(',')[0])).toEqual(['"Number"', '"G001"', '"G003"', '"G002"']);
  expect(answer.body).toContain(`"'=SUM(A1) lot"`);
});

test('boils, packs and dispatches have such a table too', async () => {
  for (const url of [
    '/boils?sort=began',
    '/packs?sort=jars',
    '/dispatches?sort=to',
    '/dispatches?as=csv',
    '/packs?as=csv',
    '/boils?as=csv',
  ])
    expect([url, (await server.web.inject({ url, headers: { cookie } })).statusCode]).toEqual([url, 200]);
});

test('a list without rows offers no filter and no file of nothing, and says so once', async () => {
  for (const [url, none] of [
    ['/boils', 'No boil yet.'],
    ['/packs', 'No pack yet.'],
    ['/dispatches', 'No jars sent out yet.'],
  ] as const) {
    const body = await get(url);
    expect(body.split(none)).toHaveLength(2);
    expect(body).not.toMatch(/Export as CSV|with “”|Filter/);
  }
  expect(await get('/boils?q=slope')).toContain('No boils with “slope”.');
});
