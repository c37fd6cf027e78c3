import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { findLot, findRecord } from '#libs/store/queries/lots.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { owner, setUp } from '../support/newcomer.js';
import { posted, signedIn, startServer, type TestServer } from '../support/server.js';
import { recordOrThrow } from '../support/sugarhouse.js';

let at: TestServer;
let cookie = '';
beforeAll(async () => {
  at = await startServer();
  await setUp(at);
  at.clock.now = new Date('2026-05-01T22:00:00Z');
  cookie = await signedIn(at, 'WE', owner.password);
  await recordOrThrow(at.book, 'gathering', { id: 'G001', volume: '60 gal' });
  await recordOrThrow(at.book, 'gathering', { id: 'G002', volume: '52 gal' });
});
afterAll(() => at.close());

const reader = () => sugarhouseReader(at.book.read, 'home');
const page = async (url: string): Promise<string> => (await at.web.inject({ url, headers: { cookie } })).body;
/** The addresses behind the items of a field on the page that lists them. */
const itemLinks = (html: string, field: string): string[] =>
  [...html.matchAll(new RegExp(`href="(\\?field=${field}&(?:amp;)?item=[^"]+)"`, 'g'))].map(([, href]) =>
    (href ?? '').replace('&amp;', '&'),
  );
const hiddenFieldsIn = (html: string): Record<string, string> =>
  Object.fromEntries(
    [...html.matchAll(/<input type="hidden" name="(_\w+|correction~[a-z]+)" value="([^"]*)"/g)].map((each) => [
      each[1] ?? '',
      each[2] ?? '',
    ]),
  );
/** Opens the page of one item and posts its form with these boxes. */
async function correct(record: string, item: string, boxes: Record<string, string | string[]>) {
  const address = `/records/${record}/correct`;
  const html = await page(`${address}${item}`);
  return posted(
    at,
    address,
    { ...hiddenFieldsIn(html), 'correction~why': 'read the wrong line', ...boxes },
    { cookie },
  );
}

describe('a correction of one fill reading', () => {
  let lot = '';
  const fills = async () => (await findRecord(reader(), 'pack', lot))?.typed['fillTemps'];
  const state = async () => (await findLot(reader(), lot))?.state;
  beforeAll(async () => {
    await recordOrThrow(at.book, 'boil', { lot: '26077A', gatherings: 'G001' });
    const fillTemps = '176 F@10:05#T1 jar 1;186 F@10:20#T1 jars 2-20;184 F@10:40#T1 jars 21-40';
    lot = (await recordOrThrow(at.book, 'pack', { fromLots: '26077A', jars: '40', fillTemps })).id;
    expect(await state()).toBe('held');
  });

  test('each reading is listed by itself, and the page of one says that the others stay', async () => {
    const list = await page(`/records/pack/${lot}/correct?field=fillTemps`);
    expect(itemLinks(list, 'fillTemps')).toEqual([
      '?field=fillTemps&item=0',
      '?field=fillTemps&item=1',
      '?field=fillTemps&item=2',
      '?field=fillTemps&item=new',
    ]);
    const one = await page(`/records/pack/${lot}/correct?field=fillTemps&item=1`);
    expect(one).toMatch(/Stays as it is:<\/span> 176 °F at 10:05, thermometer T1, jar 1 · 184 °F/);
    expect(await page(`/records/pack/${lot}/correct?field=all`)).not.toContain('name="fillTemps~row~1~temp"');
  });

  test('the cold reading stays, and its jar stays held', async () => {
    const boxes = { 'fillTemps~row~1~temp': '185', 'fillTemps~row~1~from': '2', 'fillTemps~row~1~to': '20' };
    const saved = await correct(`pack/${lot}`, '?field=fillTemps&item=1', { ...boxes, 'fillTemps~unit': 'F' });
    expect(saved.statusCode).toBe(303);
    expect(await fills()).toBe('176 F@10:05#T1 jar 1;185 F jars 2-20;184 F@10:40#T1 jars 21-40');
    expect(await state()).toBe('held');
  });

  test('one that was left out is added, a wrong one is removed, and blank boxes change nothing', async () => {
    const added = { 'fillTemps~row~1~temp': '183', 'fillTemps~row~1~from': '40', 'fillTemps~unit': 'F' };
    expect((await correct(`pack/${lot}`, '?field=fillTemps&item=new', added)).statusCode).toBe(303);
    expect(await fills()).toBe('176 F@10:05#T1 jar 1;185 F jars 2-20;184 F@10:40#T1 jars 21-40;183 F jar 40');
    const removed = { 'correction~strike': 'fillTemps' };
    expect((await correct(`pack/${lot}`, '?field=fillTemps&item=2', removed)).statusCode).toBe(303);
    expect(await fills()).toBe('176 F@10:05#T1 jar 1;185 F jars 2-20;183 F jar 40');
    const blank = await correct(`pack/${lot}`, '?field=fillTemps&item=0', {});
    expect([blank.statusCode, blank.body.includes('a new value, or a tick that removes the recorded one')]).toEqual([
      422,
      true,
    ]);
    expect(await fills()).toBe('176 F@10:05#T1 jar 1;185 F jars 2-20;183 F jar 40');
  });

  test('a form of a reading that somebody else corrected since is refused, and nothing is lost', async () => {
    const before = await fills();
    const html = await page(`/records/pack/${lot}/correct?field=fillTemps&item=0`);
    const stale = { ...hiddenFieldsIn(html), 'correction~item': '171 °F at 09:00' };
    const boxes = { 'correction~why': 'a slip in typing', 'fillTemps~row~1~temp': '190', 'fillTemps~unit': 'F' };
    const refused = await posted(at, `/records/pack/${lot}/correct`, { ...stale, ...boxes }, { cookie });
    expect(refused.statusCode).toBe(422);
    expect(refused.body).toContain('corrected it in the meantime');
    expect(await fills()).toBe(before);
  });

  test('a reading whose jar was poured back stays poured back with its corrected temperature', async () => {
    const fillTemps = '176 F@10:05 jar 1;186 F@10:20 jars 2-40;176 F@10:05 jar 1 poured back;187 F jar 1';
    const { id } = await recordOrThrow(at.book, 'pack', {
      fromLots: '26077A',
      jars: '40',
      packedAt: '2026-03-20T10:00',
      fillTemps,
    });
    expect(itemLinks(await page(`/records/pack/${id}/correct?field=fillTemps`), 'fillTemps')).toHaveLength(4);
    const boxes = { 'fillTemps~row~1~temp': '177', 'fillTemps~row~1~from': '1', 'fillTemps~unit': 'F' };
    expect((await correct(`pack/${id}`, '?field=fillTemps&item=0', boxes)).statusCode).toBe(303);
    expect((await findRecord(reader(), 'pack', id))?.typed['fillTemps']).toBe(
      '177 F jar 1;186 F@10:20 jars 2-40;177 F jar 1 poured back;187 F jar 1',
    );
  });
});

test('one gathering of a boil is corrected, and the other still went in', async () => {
  await recordOrThrow(at.book, 'boil', { lot: '26078A', gatherings: 'G002;G001:500 gal' });
  const boxes = { gatherings: 'G001', 'gatherings~of~G001': '50', 'gatherings~unit': 'gal' };
  expect((await correct('boil/26078A', '?field=gatherings&item=1', boxes)).statusCode).toBe(303);
  const boil = await findRecord(reader(), 'boil', '26078A');
  expect(boil?.body.gatherings.map(({ lot, typed }) => [lot, typed])).toEqual([
    ['G002', ''],
    ['G001', '50 gal'],
  ]);
  const form = await page('/records/boil/26078A/correct?field=gatherings&item=1');
  expect([form.includes('value="G001"'), form.includes('value="G002"')]).toEqual([true, false]);
  const twice = await correct('boil/26078A', '?field=gatherings&item=new', boxes);
  expect([twice.statusCode, twice.body.includes('each lot once')]).toEqual([422, true]);
});

test('steps that were ticked are ticked on their page, so that one more tick leaves the others', async () => {
  const { id } = await recordOrThrow(at.book, 'gathering', { id: 'G009', handling: 'strained' });
  const html = await page(`/records/gathering/${id}/correct?field=handling`);
  expect(html).toMatch(/value="strained"[^>]*checked/);
});
