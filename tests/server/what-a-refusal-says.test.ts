import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { findLot, lotsOf, recordsOf } from '#libs/store/queries/lots.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { readHead } from '#libs/store/log/log.js';
import { writeEvening } from '../support/evening-scenario.js';
import { owner, setUp } from '../support/newcomer.js';
import { posted, signedIn, startServer, type TestServer } from '../support/server.js';

let server: TestServer;
let cookie = '';
let once = 0;

beforeAll(async () => {
  server = await startServer();
  await setUp(server);
  await writeEvening(server);
  cookie = await signedIn(server, 'WE', owner.password);
});
afterAll(() => server.close());

const home = () => sugarhouseReader(server.book.read, 'home');
const open = (url: string) => server.web.inject({ url, headers: { cookie } });
const send = (url: string, fields: Record<string, string> = {}) =>
  posted(server, url, { _once: `refusal-${once++}`, ...fields }, { cookie });
const entries = async (): Promise<number> => (await readHead(server.book.read)).entries;
const packOf = async (state: string): Promise<string> =>
  (await lotsOf(home(), 'pack')).find((lot) => lot.state === state)?.code ?? `no ${state} pack`;

test('a page opened by a wrong method says so in plain words, and not that something typed was not saved', async () => {
  const answer = await open('/files/preview');
  expect([answer.statusCode, answer.headers.allow]).toEqual([405, 'POST']);
  expect(answer.body).toContain('Go back and use the links and buttons of that page.');
  expect(answer.body).not.toMatch(/Allow header|Nothing was saved/);
  const sent = await send('/files/export/boils.csv');
  expect([sent.statusCode, sent.headers.allow]).toEqual([405, 'GET, HEAD']);
  expect(sent.body).toContain('Nothing was saved.');
});

test('the page of an unknown jar gives the maker’s telephone only where it is recorded', async () => {
  const unknown = () => server.web.inject('/j/ZZZZ-ZZZZ');
  expect((await unknown()).body).toContain('Or ask the maker named on the label');
  expect((await unknown()).body).not.toContain('tel:');
  await send('/house', {
    name: 'Tamarack Hollow Sugarhouse',
    place: 'Vermont',
    hydrometerMadeFor: '60-F',
    phone: '802 555 0100',
  });
  const answer = await unknown();
  expect([answer.statusCode, answer.body]).toEqual([404, expect.stringContaining('<a href="tel:8025550100">')]);
  expect(answer.body).not.toContain('Or ask the maker');
});

test('a record is voided only with a reason, which is asked for beside its box', async () => {
  const [{ id = '' } = {}] = await recordsOf(home(), 'dispatch');
  const before = await entries();
  const answer = await send(`/records/dispatch/${id}/void`);
  expect([answer.statusCode, await entries()]).toEqual([422, before]);
  expect(answer.body).toContain('href="#f-void-why"');
  expect(answer.body).toMatch(/<details class="more" open>.*<input id="f-void-why"[^>]*aria-invalid="true"/s);
  expect((await send(`/records/dispatch/${id}/void`, { why: 'entered twice' })).statusCode).toBe(303);
});

test('a record of a kind that is only corrected doesn’t offer to be voided', async () => {
  const [{ id = '' } = {}] = await recordsOf(home(), 'instrument');
  expect((await open(`/records/instrument/${id}/correct?field=made`)).body).not.toContain('/void');
  const [{ id: check = '' } = {}] = await recordsOf(home(), 'check');
  expect((await open(`/records/check/${check}/correct?field=reads`)).body).toContain(`/records/check/${check}/void`);
});

test('a recalled lot’s release page has nothing to enter', async () => {
  const { body } = await open(`/lots/${await packOf('recalled')}/release`);
  expect(body).toContain('is recalled, not held: there is nothing to release.');
  expect(body).not.toContain('name="why"');
});

test('a refused release names no command of a terminal', async () => {
  const held = await packOf('held');
  const answer = await send(`/lots/${held}/release`, { why: 'looks fine' });
  expect([answer.statusCode, (await findLot(home(), held))?.state]).toEqual([409, 'held']);
  expect(answer.body).toContain('Then record the corrective action with its jars and its cause.');
  expect(answer.body).not.toMatch(/\bbook (act|release)\b/);
});

test('a returned jar’s blank form names both answers that are missing, and judges nothing', async () => {
  const answer = await send(`/returns/${await packOf('open')}`);
  expect(answer.statusCode).toBe(422);
  expect(answer.body).toContain('href="#f-said"');
  expect(answer.body).toContain('href="#f-hold"');
  expect(answer.body).not.toContain('What the readings mean');
});

test('without links and keys the People page offers the first of each, not another', async () => {
  const blank = (await open('/people')).body;
  expect(blank).not.toMatch(/Another (link|key)/);
  expect(blank.match(/None yet\./g)).toHaveLength(2);
  await send('/people/links', { name: 'Inspector', days: '7' });
  await send('/people/keys', { name: 'market-sheet', role: 'guest' });
  const filled = (await open('/people')).body;
  expect([filled.includes('Another link'), filled.includes('Another key')]).toEqual([true, true]);
  expect(filled).not.toContain('None yet.');
});
