import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addKey, addPerson } from '#libs/actions/accounts/accounts.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { readHead } from '#libs/store/log/log.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { done } from '../support/sugarhouse.js';
import { writeDay } from '../support/season-server.js';
import { posted, signedIn, startServer, type TestServer } from '../support/server.js';

/** Only the owner writes the sugarhouse's own record and closes a season; nobody else corrects, adds to or undoes either. */
let at: TestServer;
const cookies: Record<string, string> = {};
const keys: Record<string, string> = {};
const initials = { maker: 'OE', packer: 'PK', owner: 'WE' };
/** The number of the log's last entry about each of the two records. */
const entryOf: Record<string, number> = {};

beforeAll(async () => {
  at = await startServer();
  const { pack } = await writeDay(at);
  for (const [role, who] of Object.entries(initials)) {
    const password = `steam over the roof of ${role}`;
    done(await addPerson(at.book, 'home', { initials: who, role, password }));
    cookies[role] = await signedIn(at, who, password);
    keys[role] = done(await addKey(at.book, 'home', { name: `${role} script`, role }, at.clock.now)).key;
  }
  const changed = await correct('owner', 'house', { phone: '802 555 0199' });
  expect(changed.statusCode).toBe(303);
  expect((await byPage('owner', '/season/2026/close', { signed: 'Wren Ellery' })).statusCode).toBe(303);
  for (const [kind, id] of records) entryOf[kind] = (await saved(kind, id))?.lastSeq ?? 0;
  expect((await correct('maker', `pack/${pack}`, { note: 'for the market' })).statusCode).toBe(303);
}, 60_000);
afterAll(() => at.close());

const records = [
  ['house', 'house'],
  ['season', '2026'],
] as const;
let n = 0;
const byPage = (role: string, url: string, fields: Record<string, string>) =>
  posted(at, url, { _once: `once-${n++}`, ...fields }, { cookie: cookies[role] ?? '' });
const byApi = (role: string, url: string, payload: object) =>
  at.web.inject({ method: 'POST', url, payload, headers: { authorization: `Bearer ${keys[role]}` } });
const correct = (role: string, path: string, fields: Record<string, string>) =>
  byPage(role, `/records/${path.includes('/') ? path : `${path}/${path}`}/correct`, {
    'correction~why': 'misread',
    ...fields,
  });
const saved = (kind: 'house' | 'season', id: string) => findRecord(sugarhouseReader(at.book.read, 'home'), kind, id);
const entries = async (): Promise<number> => (await readHead(at.book.read)).entries;
const page = async (role: string, url: string) => at.web.inject({ url, headers: { cookie: cookies[role] ?? '' } });

test.each(['maker', 'packer'])('a %s corrects, undoes, voids or adds to neither, by page or API', async (role) => {
  const before = await entries();
  const wrong: string[] = [];
  for (const [kind, id] of records) {
    const entry = entryOf[kind] ?? 0;
    const changes =
      kind === 'house' ? { place: 'Quebec', publicUrl: 'https://elsewhere.example' } : { note: 'nothing' };
    const answers = {
      'correction form': await page(role, `/records/${kind}/${id}/correct`),
      'correction by page': await correct(role, `${kind}/${id}`, changes),
      'correction by API': await byApi(role, '/api/corrections', { entry, why: 'misread', changes }),
      undo: await byPage(role, `/undo/${entry}`, {}),
      'void by page': await byPage(role, `/records/${kind}/${id}/void`, { why: 'entered twice' }),
      'void by API': await byApi(role, '/api/voids', { entry, why: 'entered twice' }),
      ...(kind === 'house'
        ? { 'addition by API': await byApi(role, '/api/house/house/additions', { email: 'a@b.example' }) }
        : {}),
    };
    for (const [name, { statusCode }] of Object.entries(answers))
      if (statusCode !== 403) wrong.push(`${kind}, ${name}: ${statusCode}`);
    for (const url of [`/records/${kind}/${id}`, `/records/${entry}`])
      if ((await page(role, url)).body.includes(`/records/${kind}/${id}/correct`))
        wrong.push(`${url}: a link to correct it`);
  }
  expect(wrong).toEqual([]);
  expect(await entries()).toBe(before);
});

test('the owner corrects both, by page and API, undoes the last change and sees the links', async () => {
  for (const [kind, id] of records)
    expect((await page('owner', `/records/${kind}/${id}`)).body).toContain(`/records/${kind}/${id}/correct`);
  expect((await correct('owner', 'season/2026', { note: 'nothing is missing' })).statusCode).toBe(303);
  const changes = { publicUrl: 'https://jars.tamarack.example' };
  const api = await byApi('owner', '/api/corrections', { entry: entryOf['house'], why: 'moved', changes });
  expect(api.statusCode).toBe(201);
  const house = await saved('house', 'house');
  expect(house?.typed['publicUrl']).toBe('https://jars.tamarack.example');
  expect((await byPage('owner', `/undo/${house?.lastSeq}`, {})).statusCode).toBe(303);
  expect((await saved('house', 'house'))?.typed['publicUrl']).toBeUndefined();
});
