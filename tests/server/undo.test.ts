import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { undoEntry } from '#libs/actions/record/undo-entry.js';
import { voidRecord } from '#libs/actions/record/void-record.js';
import { sentencesOf } from '#libs/actions/record/problem.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { balanceOf } from '#libs/store/queries/jar-balance.js';
import { findLot, findRecord, lotsOf, recordsOf } from '#libs/store/queries/lots.js';
import { writeEvening } from '../support/evening-scenario.js';
import { owner, setUp } from '../support/newcomer.js';
import { startServer, posted, signedIn, type TestServer } from '../support/server.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

let server: TestServer;
let cookie = '';
let boil = '';
let pack = '';
let once = 0;

beforeAll(async () => {
  server = await startServer();
  await setUp(server);
  await writeEvening(server);
  cookie = await signedIn(server, 'WE', owner.password);
  boil = (await recordsOf(sugarhouseReader(server.book.read, 'home'), 'boil'))[0]?.id ?? '';
  pack = await beginPack();
});
afterAll(() => server.close());

const read = () => server.book.read;
const send = (url: string, fields: Record<string, string> = {}) =>
  posted(server, url, { _once: `undo-${once++}`, ...fields }, { cookie });
const beginPack = async (): Promise<string> => {
  const begun = await send('/packs/begin', {
    'fromLots~more': `${boil}:0.1 gal`,
    container: 'glass jar 8 fl oz',
    'packedAt~ago': 'now',
  });
  return /\/lots\/([^#]+)/.exec(String(begun.headers['location']))?.[1] ?? '';
};
const fill = (temperature: string) => send(`/packs/${pack}/fill`, { temperature, 'temperature~unit': 'F' });
const fills = async (): Promise<number> =>
  (await findRecord(sugarhouseReader(read(), 'home'), 'pack', pack))?.body.fillTemps.length ?? 0;
/** The address of the undo button on the page after a save. */
const offered = async (answer: { cookies: { name: string; value: string }[]; headers: object }): Promise<string> => {
  const cookies = answer.cookies.map(({ name, value }) => `${name}=${value}`).join('; ');
  const page = await server.web.inject({ url: '/', headers: { cookie: `${cookie}; ${cookies}` } });
  return /action="(\/undo\/\d+)"/.exec(page.body)?.[1] ?? '';
};

test('a mistaken reading is undone with one button; the log keeps both entries', async () => {
  await fill('186');
  const slip = await offered(await fill('187'));
  expect(slip).toMatch(/^\/undo\/\d+$/);
  expect((await send(slip)).statusCode).toBe(303);
  expect(await fills()).toBe(1);
  const page = (await server.web.inject({ url: `/lots/${pack}`, headers: { cookie } })).body;
  expect(page).toContain('Undone: entry');
  expect(page).toContain('<del>187 °F at 12:00</del>');
});

test('undoing a cold reading leaves the pack held until it is released, whatever later readings are', async () => {
  expect((await send(await offered(await fill('178')))).statusCode).toBe(303);
  expect(await fills()).toBe(1);
  await send(`/packs/${pack}/finish`, {
    jars: '1',
    densityReading: '61',
    'densityReading~unit': 'Bx',
    densityAt: '185',
    'densityAt~unit': 'F',
    densityBy: 'hydrometer',
  });
  const lot = await findLot(sugarhouseReader(read(), 'home'), pack);
  expect(lot?.jars).toBe(1);
  expect(lot?.verdict?.findings.filter(({ stop }) => stop)).toEqual([]);
  expect(lot?.state).toBe('held');
  expect(lot?.verdict?.awaitsRelease).toContain('Fill temperature');
  const page = (await server.web.inject({ url: `/lots/${pack}`, headers: { cookie } })).body;
  expect(page).toMatch(/class="main-action next-action" href="[^"]*\/release">Release</);
});

test('a line of the log that did not happen is voided: the page leaves it out and the history keeps it', async () => {
  const before = (await recordsOf(sugarhouseReader(read(), 'home'), 'line')).length;
  const running =
    (await lotsOf(sugarhouseReader(read(), 'home'), 'boil')).find((lot) => lot.millilitres === undefined)?.code ?? '';
  const slip = await offered(await send(`/boils/${running}/log/fire`, { ago: 'now' }));
  expect((await recordsOf(sugarhouseReader(read(), 'home'), 'line')).length).toBe(before + 1);
  expect((await send(slip)).statusCode).toBe(303);
  expect((await recordsOf(sugarhouseReader(read(), 'home'), 'line')).length).toBe(before);
  const page = (await server.web.inject({ url: `/lots/${running}`, headers: { cookie } })).body;
  expect(page).toMatch(/Voided: line \w+ did not happen\./);
  expect(page).toContain('Fire. Voided later.');
  expect(await send(slip).then((again) => again.body)).toContain('already voided');
});

test('a dispatch that did not happen gives its jars back, and its id is not reused', async () => {
  const open =
    (await lotsOf(sugarhouseReader(read(), 'home'), 'pack')).find((lot) => lot.state === 'open' && lot.jars)?.code ??
    '';
  const now = server.clock.now.toISOString();
  const there = (await balanceOf(sugarhouseReader(read(), 'home'), open, now)).onHand;
  const out = { lot: open, jars: '2', to: 'Millrace Green market', 'sentAt~ago': 'now' };
  const slip = await offered(await send('/dispatches/new', out));
  expect((await balanceOf(sugarhouseReader(read(), 'home'), open, now)).onHand).toBe(there - 2);
  const id = (await recordsOf(sugarhouseReader(read(), 'home'), 'dispatch')).at(-1)?.id ?? '';
  expect((await send(slip)).statusCode).toBe(303);
  expect((await balanceOf(sugarhouseReader(read(), 'home'), open, now)).onHand).toBe(there);
  await send('/dispatches/new', out);
  const ids = (await recordsOf(sugarhouseReader(read(), 'home'), 'dispatch')).map((each) => each.id);
  expect(ids).not.toContain(id);
});

test('a record that others depend on can’t be voided, nor can a held pack, and a sentence says why', async () => {
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: server.clock.now, zone: 'America/New_York' };
  const refusalOf = async (kind: 'boil' | 'pack', id: string): Promise<string> => {
    const answer = await voidRecord(server.book, context, kind, id, 'begun by mistake');
    return 'problem' in answer ? sentencesOf(answer.problem).join(' ') : 'voided';
  };
  expect(await refusalOf('boil', boil)).toMatch(/went into .*void what was made of it first/);
  const cold = await beginPack();
  await send(`/packs/${cold}/fill`, { temperature: '170', 'temperature~unit': 'F' });
  expect(await refusalOf('pack', cold)).toContain('was held by the rule “Fill temperature”');
  const mistaken = await beginPack();
  expect(await refusalOf('pack', mistaken)).toBe('voided');
  expect(await beginPack()).not.toBe(mistaken);
  expect(await undoEntry(server.book, context, 1)).toHaveProperty('problem');
});

test('the page that corrects a record voids it too, with a reason', async () => {
  const id = (await recordsOf(sugarhouseReader(read(), 'home'), 'dispatch')).at(-1)?.id ?? '';
  const { body } = await server.web.inject({ url: `/records/dispatch/${id}/correct`, headers: { cookie } });
  expect(body).toContain(`action="/records/dispatch/${id}/void"`);
  expect((await send(`/records/dispatch/${id}/void`, { why: '' })).statusCode).toBe(422);
  expect((await send(`/records/dispatch/${id}/void`, { why: 'entered twice' })).statusCode).toBe(303);
  expect(await findRecord(sugarhouseReader(read(), 'home'), 'dispatch', id)).toBeUndefined();
});

test('by the API a record that did not happen is voided once, and has a page that says so', async () => {
  const made = await addKey(server.book, 'home', { name: 'script', role: 'maker' }, server.clock.now);
  const key = 'key' in made ? made.key : '';
  const api = (payload: object, headers: Record<string, string> = {}) =>
    server.web.inject({
      method: 'POST',
      url: '/api/voids',
      headers: { authorization: `Bearer ${key}`, ...headers },
      payload,
    });
  const mistaken = await beginPack();
  expect((await api({ entry: mistaken, why: ' ' })).statusCode).toBe(422);
  expect((await api({ entry: 'none', why: 'x' })).statusCode).toBe(404);
  expect((await api({ entry: boil, why: 'x' })).statusCode).toBe(409);
  const sent = { entry: mistaken, why: 'begun by mistake' };
  const once = { 'idempotency-key': 'void-1' };
  const done = await api(sent, once);
  expect([done.statusCode, done.json<unknown>()]).toMatchObject([201, { id: mistaken, lot: null, outcome: 'new' }]);
  const again = await api(sent, once);
  expect([again.statusCode, again.json<unknown>()]).toEqual([201, done.json<unknown>()]);
  expect((await api(sent)).json<{ detail: string }>().detail).toContain('already voided');
  for (const url of [`/lots/${mistaken}`, `/records/pack/${mistaken}`]) {
    const page = await server.web.inject({ url, headers: { cookie } });
    expect([page.statusCode, page.body]).toEqual([200, expect.stringContaining('VOIDED')]);
    expect(page.body).toContain('Reason: begun by mistake');
  }
});

test('a voided dispatch of jars from a held lot stays a deviation of the season', async () => {
  const lot =
    (await lotsOf(sugarhouseReader(read(), 'home'), 'pack')).find((each) => each.state === 'open' && each.jars)?.code ??
    '';
  await send(`/lots/${lot}/hold`, { why: 'lids flex' });
  await send('/dispatches/new', {
    lot,
    jars: '2',
    to: 'Millrace Green market',
    alreadyLeft: 'yes',
    'sentAt~ago': 'now',
  });
  const id = (await recordsOf(sugarhouseReader(read(), 'home'), 'dispatch')).at(-1)?.id ?? '';
  await send(`/records/dispatch/${id}/void`, { why: 'still on the shelf' });
  const year = server.clock.now.getFullYear();
  const made = await addKey(server.book, 'home', { name: 'reader', role: 'maker' }, server.clock.now);
  const authorization = `Bearer ${'key' in made ? made.key : ''}`;
  const summary = await server.web.inject({
    url: `/api/seasons/${year}/summary.json`,
    headers: { authorization },
  });
  const { deviations } = summary.json<{
    deviations: { lot: string; kind: string; found: string; done: unknown[] }[];
  }>();
  expect(deviations.filter((each) => each.kind === 'void')).toEqual([
    expect.objectContaining({
      lot,
      rule: 'dispatch-voided',
      found: expect.stringContaining(`${id}: 2 jars recorded as gone to Millrace Green market`),
      done: [expect.objectContaining({ by: 'WE', words: 'Voided: still on the shelf.' })],
      open: false,
    }),
  ]);
});

test('a replay of the log gives the same index, voids included', async () => {
  expect(await verifyBook(server.book)).toMatchObject({ ok: true });
});
