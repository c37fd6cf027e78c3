import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { owner, setUp } from '../support/newcomer.js';
import { supporting } from '../support/documented-season.js';
import { readPdf } from '../support/read-pdf.js';
import { posted, signedIn, startServer, type TestServer } from '../support/server.js';
import { recordOrThrow } from '../support/sugarhouse.js';

let at: TestServer;
let cookie = '';
beforeAll(async () => {
  at = await startServer();
  await setUp(at);
  at.clock.now = new Date('2026-05-01T22:00:00Z');
  cookie = await signedIn(at, 'WE', owner.password);
  for (const kind of ['gathering', 'boil', 'pack']) await recordOrThrow(at.book, kind);
});
afterAll(() => at.close());

const got = (url: string) => at.web.inject({ url, headers: { cookie } });
const page = async (address = '/season/2026'): Promise<string> => (await got(address)).body;
const pageOne = async (): Promise<string> =>
  ((await readPdf((await got('/api/seasons/2026/summary.pdf')).rawPayload)).pages[0]?.text ?? '').replace(/\s+/g, ' ');
const sign = (name: string) => posted(at, '/season/2026/close', { signed: name }, { cookie });

test('a signature covers the entries of its time; page and summary say what was recorded since', async () => {
  expect(await pageOne()).toContain('Signed by: not recorded');
  expect((await sign('Wren Ellery')).statusCode).toBe(303);
  const entries = Number(/Signed by Wren Ellery, 2026-05-01, over (\d+) entries/.exec(await pageOne())?.[1]);
  expect(entries).toBeGreaterThan(4);
  expect(await pageOne()).toContain('entries of the record; nothing was recorded since');
  expect(await page()).not.toContain('Sign it again');

  await recordOrThrow(at.book, 'dispatch', { jars: '2', to: 'June Pascoe', kind: 'gift' });
  const since = '1 entry was recorded since, 1 about lots of this season: it is not signed';
  expect(await pageOne()).toContain(`over ${entries} entries of the record; ${since}`);
  expect(await page()).toContain(`<b>${since}.</b>`);
});

test('the owner signs again, and the new signature covers everything', async () => {
  expect(await page()).toContain('Sign it again');
  expect((await sign('Orla Ellery')).statusCode).toBe(303);
  expect(await pageOne()).toMatch(/Signed by Orla Ellery, 2026-05-01, over \d+ entries of the record; nothing was/);
  expect(await page()).not.toContain('Sign it again');
});

test('what is still missing names a complaint without an answer and an instrument that failed a check', async () => {
  const check = { instrument: 'T7', how: 'ice', should: '32 F', at: '2026-04-02T08:00', reads: '36 F' };
  await supporting(at.book, 'checks', check);
  const failed = 'T7 failed its check of 2026-04-02 (ice point), and no good check is recorded since.';
  expect(await page()).toContain(failed);
  // A good check in boiling water proves nothing in ice, here as on Today.
  const boiling = { how: 'boiling-water', should: '210.4 F', reads: '210.4 F', at: '2026-04-02T09:00' };
  await supporting(at.book, 'checks', { ...check, ...boiling });
  expect(await page()).toContain(failed);
  expect(await page('/')).toContain('T7 read 4 °F high in ice');
  await supporting(at.book, 'checks', { ...check, at: '2026-04-03T08:00', reads: '32 F' });
  expect(await page()).not.toContain('T7 failed its check');
  expect(await page('/')).not.toContain('T7 read 4 °F high');
  await supporting(at.book, 'complaints', { lot: '26077A-1', at: '2026-04-20T10:00', said: 'the lid was sticky' });
  expect(await page()).toContain('What was done about the complaint of 2026-04-20 is not recorded.');
  expect((await posted(at, '/lots/26077A-1/recall', { why: 'the authority asked' }, { cookie })).statusCode).toBe(303);
  expect(await page()).toContain('Recalled: its call list shows who was reached.');
});
