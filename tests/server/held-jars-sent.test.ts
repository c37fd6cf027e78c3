import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from '@jest/globals';
import { findLot, recordsOf } from '#libs/store/queries/lots.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { engines } from '../support/engines.js';
import { house, owner } from '../support/newcomer.js';
import { posted, startServer, type TestServer } from '../support/server.js';
import { recordOrThrow } from '../support/sugarhouse.js';

describe.each(engines())('Jars of a pack of which jars 9 to 16 are held, on $name', (engine) => {
  let at: TestServer;
  let cookie = '';
  const lot = '26077A-1';

  beforeAll(() => engine.start());
  afterAll(() => engine.stop());
  beforeEach(async () => {
    at = await startServer({}, { engine });
    at.clock.now = new Date('2026-05-01T22:00:00Z');
    await at.web.inject('/set-up');
    const done = await posted(at, '/set-up', { ...house, ...owner, word: at.lines[0] ?? '' });
    cookie = done.cookies.map((each) => `${each.name}=${each.value}`).join('; ');
    for (const kind of ['gathering', 'boil']) await recordOrThrow(at.book, kind);
  });
  afterEach(() => at.close());

  const pack = async (fillTemps: string): Promise<void> => {
    await recordOrThrow(at.book, 'pack', { fromLots: '26077A:1 gal', jars: '16', fillTemps });
  };
  const someCold = '186 F@10:05 jar 8;178 F@10:20 jar 16';
  const send = (path: string, fields: Record<string, string>) => posted(at, path, fields, { cookie });
  const sell = (jars: string, more: Record<string, string> = {}) =>
    send('/dispatches/new', {
      lot,
      jars,
      to: 'Millrace Green',
      contact: 'stall 4',
      kind: 'sale',
      sentAt: '2026-04-20T09:00',
      ...more,
    });
  const advice = async (rule: string): Promise<string[]> =>
    ((await findLot(sugarhouseReader(at.book.read, 'home'), lot))?.verdict?.findings ?? [])
      .filter((each) => each.rule === rule)
      .map(({ found }) => found);
  const correctFirst = async (fields: Record<string, string>) => {
    const [first] = await recordsOf(sugarhouseReader(at.book.read, 'home'), 'dispatch');
    return send(`/records/dispatch/${first?.id}/correct`, { ...fields, why: 'the buyer’s list' });
  };
  /** Another entry about the lot, after which it is judged again. */
  const testLead = async (): Promise<void> => {
    const test = { lot, lead: '2 ppb', at: '2026-04-25T08:00' };
    expect((await send('/supporting-records/lead-tests/new', test)).statusCode).toBe(303);
  };
  const held = async (): Promise<unknown> =>
    (await findLot(sugarhouseReader(at.book.read, 'home'), lot))?.verdict?.heldJars;

  test('that were free when they were sold are no deviation, by number or by count, also after the lot is held by hand', async () => {
    await pack(someCold);
    expect(await held()).toEqual([{ from: 9, to: 16 }]);
    expect((await sell('jars 1-2')).statusCode).toBe(303);
    expect((await sell('3', { to: 'a neighbour' })).statusCode).toBe(303);
    expect(await advice('sent-while-held')).toEqual([]);
    expect((await sell('jars 9-10')).statusCode).toBe(409);
    expect((await sell('4', { to: 'too many' })).statusCode).toBe(409);
    expect((await send(`/lots/${lot}/hold`, { why: 'a rumour' })).statusCode).toBe(303);
    await testLead();
    expect(await advice('sent-while-held')).toEqual([]);
    expect(await advice('left-before-hold')).toEqual([]);
  });

  test('that a corrected sale by count names are a deviation, which says whom to call', async () => {
    await pack(someCold);
    expect((await sell('2')).statusCode).toBe(303);
    const corrected = await correctFirst({ jars: 'jars 9-10' });
    expect(corrected.statusCode).toBe(303);
    const withNotes = [cookie, ...corrected.cookies.map((each) => `${each.name}=${each.value}`)].join('; ');
    const next = { url: String(corrected.headers.location), headers: { cookie: withNotes } };
    expect((await at.web.inject(next)).body).toContain(
      'jars 9–10 of 26077A-1, which went to Millrace Green (stall 4), must not be eaten while held',
    );
    const expected = ['jars 9–10, held, went to Millrace Green (stall 4) on 2026-04-20: call them'];
    expect(await advice('sent-while-held')).toEqual(expected);
    // A later entry about the lot keeps it.
    await testLead();
    expect(await advice('sent-while-held')).toEqual(expected);
  });

  test('that were sold before the hold are named with their buyer once a correction names them', async () => {
    await pack('186 F@10:05 jar 8;186 F@10:20 jar 16');
    expect((await sell('2')).statusCode).toBe(303);
    expect((await sell('2', { to: 'a neighbour', contact: '' })).statusCode).toBe(303);
    expect((await send(`/records/pack/${lot}/correct`, { fillTemps: someCold, why: 'misread' })).statusCode).toBe(303);
    expect(await held()).toEqual([{ from: 9, to: 16 }]);
    expect(await advice('left-before-hold')).toEqual([expect.stringMatching(/^4 jars of it had already left: ask/)]);
    expect((await correctFirst({ jars: 'jars 15-16' })).statusCode).toBe(303);
    expect(await advice('left-before-hold')).toEqual([
      '4 jars of it had already left (jars 15–16, held, went to Millrace Green (stall 4) on 2026-04-20: call them): ask your authority whether to recall them',
    ]);
    expect(await advice('sent-while-held')).toEqual([]);
  });

  test('by count beyond the free ones are a deviation where a correction moves the sale into the hold', async () => {
    await pack('186 F@10:05 jar 8;186 F@10:20 jar 16');
    expect((await sell('12')).statusCode).toBe(303);
    expect((await send(`/records/pack/${lot}/correct`, { fillTemps: someCold, why: 'misread' })).statusCode).toBe(303);
    at.clock.now = new Date('2026-05-03T22:00:00Z');
    expect((await correctFirst({ sentAt: '2026-05-02T09:00' })).statusCode).toBe(303);
    expect(await advice('sent-while-held')).toEqual([
      'at least 4 jars that were held went to Millrace Green (stall 4) on 2026-05-02: call them',
    ]);
  });

  test('that were free when sold and are held later count as sent before the hold', async () => {
    await pack(someCold);
    expect((await sell('jars 1-2')).statusCode).toBe(303);
    const text = '178 F@10:05 jar 8;178 F@10:20 jar 16';
    expect((await send(`/records/pack/${lot}/correct`, { fillTemps: text, why: 'misread' })).statusCode).toBe(303);
    expect(await advice('sent-while-held')).toEqual([]);
    expect(await advice('left-before-hold')).toEqual([expect.stringMatching(/^2 jars of it had already left/)]);
  });
});
