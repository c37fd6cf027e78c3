import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addPerson } from '#libs/actions/accounts/accounts.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { jarsOfPack, recordsOf } from '#libs/store/queries/lots.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { posted, signedIn, startServer, type TestServer } from '../support/server.js';
import { writeDay } from '../support/season-server.js';

let at: TestServer;
let day: Awaited<ReturnType<typeof writeDay>>;
let cookie = '';
beforeAll(async () => {
  at = await startServer();
  day = await writeDay(at);
  const password = 'steam over the roof at night';
  await addPerson(at.book, 'home', { initials: 'OE', name: 'OE', role: 'maker', password });
  cookie = await signedIn(at, 'OE', password);
}, 60_000);
afterAll(() => at.close());

const reader = () => sugarhouseReader(at.book.read, 'home');
async function jarsOf(pack: string, from: number, to: number): Promise<string[]> {
  const codes: string[] = [];
  for await (const jar of jarsOfPack(reader(), pack, from, to)) codes.push(printedJarCode(jar.code));
  return codes;
}
const tray = { sentAt: '2026-03-20T10:00', to: 'Millrace Green market', _once: 'tray-of-two-packs-00000000000000' };

test('a tray of jars by their codes becomes one return per pack, once however often it is sent', async () => {
  const [first, second] = [await jarsOf(day.pack, 1, 3), await jarsOf(day.cold, 1, 2)];
  const jars = [...first, ...second].join('\n');
  const before = (await recordsOf(reader(), 'dispatch')).length;
  for (const _ of [1, 2])
    expect(
      (await posted(at, '/dispatches/new', { ...tray, 'jars~codes': jars, kind: 'returned' }, { cookie })).statusCode,
    ).toBe(303);
  const saved = (await recordsOf(reader(), 'dispatch'))
    .slice(before)
    .map(({ body }) => [body.lot, body.jars, body.kind]);
  expect(saved.sort()).toEqual(
    [
      [day.pack, 3, 'returned'],
      [day.cold, 2, 'returned'],
    ].sort(),
  );
});

test('a tray of several packs is undone with one button: every dispatch is voided, or none where one was changed since', async () => {
  const sentBack = async (once: string, n: number) => {
    const jars = [...(await jarsOf(day.pack, n, n)), ...(await jarsOf(day.cold, n, n))].join('\n');
    const answer = await posted(at, '/dispatches/new', { ...tray, jars, kind: 'returned', _once: once }, { cookie });
    const cookies = answer.cookies.map(({ name, value }) => `${name}=${value}`).join('; ');
    const { body } = await at.web.inject({ url: '/dispatches', headers: { cookie: `${cookie}; ${cookies}` } });
    return /action="(\/undo\/\d+\.\d+)"/.exec(body)?.[1] ?? '';
  };
  const before = (await recordsOf(reader(), 'dispatch')).map(({ id }) => id);
  const undo = await sentBack('a-tray-to-be-undone', 7);
  expect(undo).toMatch(/^\/undo\/\d+\.\d+$/);
  for (const _ of [1, 2]) expect((await posted(at, undo, { _once: 'undo-tray' }, { cookie })).statusCode).toBe(303);
  expect((await recordsOf(reader(), 'dispatch')).map(({ id }) => id)).toEqual(before);

  const again = await sentBack('a-tray-that-was-changed', 8);
  const [, second] = (await recordsOf(reader(), 'dispatch')).slice(-2);
  const change = { to: 'Harrow Notch store', why: 'wrong buyer', _once: 'changed-since' };
  const changed = await posted(at, `/records/dispatch/${second?.id}/correct`, change, { cookie });
  expect(changed.statusCode).toBe(303);
  const refused = await posted(at, again, { _once: 'undo-changed' }, { cookie });
  expect([refused.statusCode, refused.body]).toEqual([409, expect.stringContaining('correct it instead')]);
  expect(await recordsOf(reader(), 'dispatch')).toHaveLength(before.length + 2);
  expect((await posted(at, '/undo/1.999999', { _once: 'undo-none' }, { cookie })).statusCode).toBe(404);
});

test('where one pack of a tray may not leave, no jar of the tray is sent', async () => {
  const jars = [...(await jarsOf(day.pack, 4, 5)), ...(await jarsOf(day.cold, 3, 3))].join('\n');
  const before = (await recordsOf(reader(), 'dispatch')).length;
  const refused = await posted(
    at,
    '/dispatches/new',
    { ...tray, _once: 'a-tray-of-two-packs-1', 'jars~codes': jars, kind: 'sale' },
    { cookie },
  );
  expect(refused.statusCode).toBe(409);
  expect(refused.body).toContain(`${day.cold} is held: no jar of it may leave`);
  expect((await recordsOf(reader(), 'dispatch')).length).toBe(before);
  for (const code of jars.split('\n')) expect(refused.body).toContain(code);
});

test('an unknown jar code is reported and the tray stays, and a count still needs its lot', async () => {
  const [known = ''] = await jarsOf(day.pack, 6, 6);
  const unknownJar = await posted(
    at,
    '/dispatches/new',
    { ...tray, _once: 'tray-3', jars: `${known}\n2222-2222`, kind: 'returned' },
    { cookie },
  );
  expect(unknownJar.statusCode).toBe(422);
  expect(unknownJar.body).toMatch(/2222-2222/);
  const counted = await posted(
    at,
    '/dispatches/new',
    { ...tray, _once: 'tray-4', jars: '4', kind: 'sale' },
    { cookie },
  );
  expect(counted.statusCode).toBe(422);
  expect(counted.body).toContain('Lot: fill this in');
});

test('jars are named by their first and last number in boxes of their own, and another count beside them is refused there', async () => {
  const numbers = { ...tray, lot: day.pack, 'jars~from~1': '9', 'jars~to~1': '10', kind: 'returned' };
  const both = await posted(at, '/dispatches/new', { ...numbers, jars: '3', _once: 'tray-5' }, { cookie });
  expect([both.statusCode, both.body]).toEqual([422, expect.stringContaining('one of the three')]);
  expect(both.body).toMatch(/name="jars~to~1" value="10"/);
  const equal = await posted(at, '/dispatches/new', { ...numbers, jars: '2', _once: 'tray-6' }, { cookie });
  expect(equal.statusCode).toBe(303);
  const saved = (await recordsOf(reader(), 'dispatch')).at(-1);
  expect([saved?.typed['jars'], saved?.body.jars, saved?.body.codes.length]).toEqual(['jars 9-10', 2, 2]);
});

test('the page that takes jars back has the fields of a return, and is linked from the list and from a bad jar', async () => {
  const page = async (url: string): Promise<string> => (await at.web.inject({ url, headers: { cookie } })).body;
  const form = await page('/dispatches/new?kind=returned');
  expect(form).toContain('<h1>Take jars back</h1>');
  expect(form).toMatch(/name="kind" value="returned" checked/);
  expect(form).toMatch(/From whom/);
  expect(form).toContain('How they were kept'.toLowerCase());
  for (const from of ['/dispatches', '/returns'])
    expect(await page(from)).toContain('href="/dispatches/new?kind=returned"');
});
