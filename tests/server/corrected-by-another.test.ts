import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addKey, addPerson } from '#libs/actions/accounts/accounts.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { readPdf } from '../support/read-pdf.js';
import { writeDay } from '../support/season-server.js';
import { startServer, posted, signedIn, type TestServer } from '../support/server.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

let at: TestServer;
let pack: string;
let key: string;
let cookie: string;

beforeAll(async () => {
  at = await startServer();
  pack = (await writeDay(at)).cold;
  const made = await addKey(at.book, 'home', { name: 'kitchen tablet', role: 'maker' }, at.clock.now);
  if ('problem' in made) throw new Error(JSON.stringify(made.problem));
  key = made.key;
  const password = 'steam over the long pan';
  await addPerson(at.book, 'home', { initials: 'WE', name: 'Wren Ellery', role: 'owner', password });
  cookie = await signedIn(at, 'WE', password);
}, 60_000);
afterAll(() => at.close());

const send = (url: string, body: object) =>
  at.web.inject({ method: 'POST', url, payload: body, headers: { authorization: `Bearer ${key}` } });
const api = async <T = unknown>(url: string) =>
  (await at.web.inject({ url, headers: { authorization: `Bearer ${key}` } })).json<T>();
const page = async (url: string) => (await at.web.inject({ url, headers: { cookie } })).body;

test('a record by JP at noon stays so on every page and document after WE corrected another field in the evening', async () => {
  const action = {
    lot: pack,
    found: 'jar at 178 F',
    done: 'reheated and packed again',
    fillTemps: ['187 F'],
    by: 'JP',
  };
  const made = await send('/api/actions', action);
  expect(made.statusCode).toBe(201);
  const { id, entry } = made.json<{ id: string; entry: number }>();
  const noon = '2026-03-20T12:00:00-04:00';
  at.clock.now = new Date('2026-03-20T23:30:00Z');
  const corrected = await posted(
    at,
    `/records/action/${id}/correct`,
    { 'correction~why': 'it was the third jar', found: 'third jar at 178 F' },
    { cookie },
  );
  expect(corrected.statusCode).toBe(303);

  expect(await api(`/api/actions/${id}`)).toMatchObject({ by: 'JP', at: noon, found: 'third jar at 178 F' });
  expect((await findRecord(sugarhouseReader(at.book.read, 'home'), 'action', id))?.body).toMatchObject({
    by: 'JP',
    at: noon,
  });
  const history = (await api<{ entries: { entry: number; deed: string; by: string }[] }>(`/api/lots/${pack}/history`))
    .entries;
  expect(history.filter((each) => each.entry >= entry).map(({ by, deed: entryType }) => [by, entryType])).toEqual([
    ['JP', 'act'],
    ['WE', 'correct'],
  ]);

  const lot = await page(`/lots/${pack}`);
  expect(lot).toMatch(/Corrective action\.[^]{0,80}JP/);
  expect(lot).toMatch(/Corrected: corrective action[^]{0,120}WE/);

  const pdf = await at.web.inject({
    url: '/api/seasons/2026/summary.pdf',
    headers: { authorization: `Bearer ${key}` },
  });
  const text = (await readPdf(pdf.rawPayload)).text.replaceAll('\n', ' ');
  expect(text).toMatch(/2026-03-20 12:00 JP: reheated and packed again/);
  expect(text).not.toMatch(/2026-03-20 19:30 (?:JP|WE): reheated/);
});
