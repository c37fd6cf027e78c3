import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { balanceOf } from '#libs/store/queries/jar-balance.js';
import { findLot, recordsOf } from '#libs/store/queries/lots.js';
import { owner, setUp } from '../support/newcomer.js';
import { writeDay } from '../support/season-server.js';
import { startServer, posted, signedIn, type TestServer } from '../support/server.js';

/** A corrective action that was recorded by mistake, or for the wrong lot. */
let server: TestServer;
let cookie = '';
let once = 0;
let day: Awaited<ReturnType<typeof writeDay>>;

beforeAll(async () => {
  server = await startServer();
  await setUp(server);
  cookie = await signedIn(server, 'WE', owner.password);
  day = await writeDay(server);
});
afterAll(() => server.close());

const reader = () => sugarhouseReader(server.book.read, 'home');
const send = (url: string, fields: Record<string, string> = {}) =>
  posted(server, url, { _once: `void-${once++}`, ...fields }, { cookie });
const newest = async () => (await recordsOf(reader(), 'action')).at(-1)?.id ?? '';
const voided = (id: string) => send(`/records/action/${id}/void`, { why: 'another lot' });
const act = (lot: string, fields: Record<string, string>) =>
  send(`/lots/${lot}/act`, { found: 'cold jars', done: 'filled again', 'jars~pick': 'all', ...fields });
const lotNow = (lot: string) => findLot(reader(), lot);
const stops = async (lot: string): Promise<string[]> =>
  ((await lotNow(lot))?.verdict?.findings ?? []).filter(({ stop }) => stop).map(({ rule }) => rule);

test('what it cleared holds the lot again once it is voided from the page that corrects it', async () => {
  const before = await stops(day.cold);
  expect(before).toContain('fill-temperature');
  const cleared = { way: 'reheated-and-repacked', cause: 'cold-jar', 'fillTemps~unit': 'F' };
  const read = {
    ...{ 'fillTemps~row~1~temp': '190', 'fillTemps~row~1~from': '8', 'fillTemps~row~1~to': '8' },
    ...{ 'fillTemps~row~2~temp': '188', 'fillTemps~row~2~from': '15', 'fillTemps~row~2~to': '15' },
  };
  expect((await act(day.cold, { ...cleared, ...read })).statusCode).toBe(303);
  expect(await stops(day.cold)).not.toContain('fill-temperature');
  const id = await newest();
  const page = (await server.web.inject({ url: `/records/action/${id}/correct`, headers: { cookie } })).body;
  expect(page).toContain(`action="/records/action/${id}/void"`);
  expect((await voided(id)).statusCode).toBe(303);
  expect(await stops(day.cold)).toEqual(before);
});

test('a hold that it brought waits for a maker’s release once it is voided', async () => {
  const mouldy = { found: 'mould under a lid', done: 'set apart', way: 'inspected', mould: 'yes' };
  expect((await act(day.pack, mouldy)).statusCode).toBe(303);
  expect(await stops(day.pack)).toContain('mould');
  expect((await voided(await newest())).statusCode).toBe(303);
  expect(await lotNow(day.pack)).toMatchObject({
    state: 'held',
    verdict: { awaitsRelease: expect.stringContaining('removed a hold: Mould') },
  });
  expect(await verifyBook(server.book)).toMatchObject({ ok: true });
});

test('jars that it destroyed are counted as on hand again once it is voided', async () => {
  const balance = () => balanceOf(reader(), day.cold, '2100-01-01T00:00:00Z');
  const before = await balance();
  expect((await act(day.cold, { way: 'destroyed', cause: 'cold-jar' })).statusCode).toBe(303);
  expect(await balance()).toMatchObject({ onHand: before.onHand - 15, destroyed: 15 });
  expect((await voided(await newest())).statusCode).toBe(303);
  expect(await balance()).toEqual(before);
  expect(await verifyBook(server.book)).toMatchObject({ ok: true });
});
