import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addKey, addPerson } from '#libs/actions/accounts/accounts.js';
import { startServer, posted, signedIn, type TestServer } from '../support/server.js';
import { writeDay } from '../support/season-server.js';

let at: TestServer;
let day: Awaited<ReturnType<typeof writeDay>>;
const cookies: Record<string, string> = {};
const keys: Record<string, string> = {};

beforeAll(async () => {
  at = await startServer();
  day = await writeDay(at);
  for (const [initials, role] of [
    ['OE', 'maker'],
    ['JP', 'helper'],
  ] as const) {
    const password = `steam over the roof of ${initials}`;
    const added = await addPerson(at.book, 'home', { initials, name: initials, role, password });
    if ('problem' in added) throw new Error(JSON.stringify(added.problem));
    cookies[initials] = await signedIn(at, initials, password);
  }
  for (const role of ['maker', 'helper']) {
    const made = await addKey(at.book, 'home', { name: `${role} script`, role }, at.clock.now);
    if ('key' in made) keys[role] = made.key;
  }
}, 60_000);
afterAll(() => at.close());

const page = async (url: string, who = 'OE') => (await at.web.inject({ url, headers: { cookie: cookies[who] } })).body;
const form = (url: string, fields: Record<string, string>, who = 'OE') =>
  posted(at, url, fields, { cookie: cookies[who]! });
const api = (url: string, body: object, role = 'maker') =>
  at.web.inject({ method: 'POST', url, payload: body, headers: { authorization: `Bearer ${keys[role]}` } });
const sale = { jars: '2', sentAt: '2026-03-20T10:00', to: 'the stall', kind: 'sale' };
/** A dispatch's id as the next page names it. */
const idIn = (body: string): string => /\b(S\d{4})\b/.exec(body)?.[1] ?? '';

test('jars of a held lot are refused over page and API with the reason, the way out and the question whether they are gone', async () => {
  const refused = await form('/dispatches/new', { ...sale, lot: day.cold });
  expect(refused.statusCode).toBe(409);
  expect(refused.body).toContain(`${day.cold} is held: no jar of it may leave. Fill temperature: found 178`);
  expect(refused.body).toMatch(/They have already left/);
  const over = await api('/api/dispatches', { ...sale, lot: day.cold });
  expect([over.statusCode, over.json()]).toEqual([409, expect.objectContaining({ rule: 'fill-temperature' })]);
  for (const kind of ['gift', 'sample', 'kept'])
    expect((await api('/api/dispatches', { ...sale, kind, lot: day.cold })).statusCode).toBe(409);
  const sample = { ...sale, kind: 'sample', laboratory: 'yes', jars: '1', lot: day.cold, to: 'a laboratory' };
  expect((await api('/api/dispatches', sample)).statusCode).toBe(201);
});

test('a blank box is explained by an example, not by the longest id', async () => {
  const sent = await form('/dispatches/new', { ...sale, kind: 'sale' });
  expect(sent.body).toContain('Lot: fill this in, for example 26077A-1');
  const check = await form('/supporting-records/checks/new', { how: 'ice', reads: '32', 'reads~unit': 'F' });
  expect(check.body).toContain('Instrument: fill this in, for example T1');
  expect(check.body).not.toContain('at most 60 letters');
});

test('a helper reports that they had already left; Today lists it until a maker has initialled it', async () => {
  const reported = await form('/dispatches/new', { ...sale, lot: day.cold, alreadyLeft: 'yes' }, 'JP');
  expect(reported.statusCode).toBe(303);
  const today = await page('/');
  expect(today).toMatch(new RegExp(`Left while held, to be initialled[^]*2 jars of ${day.cold} went to the stall`));
  const id = idIn(today);
  expect(await page(`/records/dispatch/${id}`)).toContain('A maker must initial it');
  expect((await form(`/dispatches/${id}/acknowledge`, { note: 'called' }, 'JP')).statusCode).toBe(403);
  expect((await api('/api/acknowledgements', { dispatch: id }, 'helper')).statusCode).toBe(403);
  expect((await form(`/dispatches/${id}/acknowledge`, { note: 'called the stall' })).statusCode).toBe(303);
  expect(await page('/')).not.toContain('Left while held, to be initialled');
  expect(await page(`/records/dispatch/${id}`)).toMatch(/Initialled by OE, .*called the stall/);
  expect(await page(`/lots/${day.cold}`)).toMatch(/Jars reported after they had left[^]*initialled by OE/);
});

test('returned jars are on Today until their condition is recorded', async () => {
  const back = { ...sale, lot: day.pack, kind: 'returned', sentAt: '2026-03-20T11:30' };
  const { id } = (await api('/api/dispatches', back)).json<{ id: string }>();
  expect(await page('/')).toMatch(/Returned, to be inspected[^]*2 jars of/);
  const half = await form(`/dispatches/${id}/inspection`, { sealed: '2' }, 'JP');
  expect([half.statusCode, half.body]).toEqual([422, expect.stringContaining('how they were kept')]);
  expect((await form(`/dispatches/${id}/inspection`, { sealed: '2', keptHow: 'cold' }, 'JP')).statusCode).toBe(303);
  expect(await page('/')).not.toContain('Returned, to be inspected');
  const trace = await at.web.inject({
    url: `/api/lots/${day.pack}/trace`,
    headers: { authorization: `Bearer ${keys['maker']}` },
  });
  expect(trace.json()).toMatchObject({ jars: { onHand: 20, sentOut: 10, other: 0 } });
});

test('a plan of a lot that was held after it is on Today', async () => {
  const plan = { ...sale, lot: day.pack, sentAt: '2026-04-01T09:00' };
  expect((await form('/dispatches/new', plan)).statusCode).toBe(303);
  expect(await page('/')).not.toContain('Planned, but may not leave');
  expect((await form(`/lots/${day.pack}/hold`, { why: 'a lid that did not sit' })).statusCode).toBe(303);
  expect(await page('/')).toMatch(new RegExp(`Planned, but may not leave[^]*2 jars of ${day.pack} for the stall`));
});

test('the page of a release names the rule that still holds the lot, and what to do first', async () => {
  const release = await page(`/lots/${day.cold}/release`);
  expect(release).toMatch(
    /stamp small held">HELD<[^]*Found: 178[^]*Required: 180[^]*href="\/lots\/[^"]*\/act">[^]*Corrective action first/,
  );
  expect(release).toMatch(/<button class="main-action second">/);
  expect(await page(`/lots/${day.pack}/release`)).not.toContain('Corrective action first');
});

test('every record and every log entry links back to its lot or list', async () => {
  expect(await page('/records/house/house')).toMatch(/href="\/house">← The sugarhouse<[^]*<h1>The sugarhouse</);
  expect(await page('/records/1')).toMatch(/class="crumb"><a href="\/records\/house\/house">← The sugarhouse</);
});

test('page and API show why a pack is in its state, and a second person verifies it on its page', async () => {
  const why = await page(`/lots/${day.cold}/why`);
  expect(why).toMatch(/Rules that can hold a lot: 1 rule holds it, \d+ not recorded, 1 without a limit here, \d+ met/);
  expect(why).toMatch(
    /<h2>Holds it<[^]*Fill temperature[^]*found 178[^]*<h2>Not recorded<[^]*<h2>No limit here<[^]*Interval between fill readings[^]*<h2>Met</,
  );
  expect(why).toMatch(/Not recorded: [^<]*which thermometer took each reading/);
  const read = await at.web.inject({
    url: `/api/lots/${day.pack}/why`,
    headers: { authorization: `Bearer ${keys['maker']}` },
  });
  expect(read.json()).toMatchObject({
    rules: expect.arrayContaining([
      expect.objectContaining({ rule: 'fill-temperature', state: 'met', because: ['186 °F, by WE', '184 °F, by WE'] }),
    ]),
  });
  expect(await page(`/lots/${day.pack}`)).toContain('Verification by a second person is not recorded.');
  expect((await form(`/lots/${day.pack}/verify`, { note: 'the fill sheet' }, 'JP')).statusCode).toBe(303);
  const lot = await page(`/lots/${day.pack}`);
  expect(lot).toMatch(/Verified by JP, .*: the fill sheet\./);
  expect(lot).not.toContain('Verification by a second person is not recorded.');
});
