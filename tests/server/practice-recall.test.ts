import { describe, expect, test } from '@jest/globals';
import { balanceOf } from '#libs/store/queries/jar-balance.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { recallSuite, hiddenFieldsIn } from '../support/recall-suite.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

const here = recallSuite();
const { open, send, entries, records: saved } = here;

describe('a mock recall', () => {
  const begin = async (): Promise<string> => {
    const drawn = await send('/recall/mock/begin', hiddenFieldsIn((await open('/recall/mock')).body));
    expect(drawn.statusCode).toBe(303);
    return String(drawn.headers.location);
  };

  test('picks a jar, runs a clock, and records the reconciliation that closes it', async () => {
    const running = await begin();
    const { body } = await open(running);
    expect(body).toContain('data-since="2026-03-20T12:00:00-04:00" data-seconds');
    expect(body).toMatch(/<dt id="boils">|<dt>Boils<\/dt>/);
    const [begun] = await saved('practice-recall');
    expect(begun?.body).toMatchObject({ jar: expect.stringMatching(/^[0-9A-Z]{4}-[0-9A-Z]{4}$/), result: '' });
    expect((await open('/recall/mock')).body).toContain(`href="${running}">Continue`);
    expect((await open('/season/2026')).body).toContain('No mock recall with a shelf count is recorded this season.');
    here.at.clock.now = new Date(here.at.clock.now.getTime() + 95_000);
    const before = await entries();
    for (const _ of [1, 2]) {
      const closed = await send(running, { ...hiddenFieldsIn(body), onShelf: '0' });
      expect(closed.headers.location).toBe('/recall/mock');
      here.at.clock.now = new Date(here.at.clock.now.getTime() + 5_000);
    }
    expect(await entries()).toBe(before + 1);
    const [practised] = await saved('practice-recall');
    expect(practised?.body).toMatchObject({ seconds: 95, jar: begun?.body['jar'] });
    expect(practised?.body['result']).toMatch(/^\d+ of \d+ jars of .*; boils /);
    expect((await open('/recall/mock')).body).toContain(String(practised?.body['result']));
    const season = (await open('/season/2026')).body;
    expect(season).not.toContain('No mock recall with a shelf count is recorded this season.');
    expect(season).toContain(`<b>within 2 minutes</b> ${String(practised?.body['result'])}`);
  });

  test('its clock runs from its first entry: no address and no form moves it, and a second close is refused', async () => {
    const running = await begin();
    const { body } = await open(`${running}?since=2020-01-01T00:00:00Z`);
    here.at.clock.now = new Date(here.at.clock.now.getTime() + 60_000);
    const moved = { since: here.at.clock.now.toISOString(), at: here.at.clock.now.toISOString(), seconds: '1' };
    await send(running, { ...hiddenFieldsIn(body), ...moved });
    const last = (await saved('practice-recall')).at(-1);
    expect(last?.body['seconds']).toBe(60);
    const again = await send(running, { _once: 'another-close-of-it', onShelf: '3' });
    expect(again.statusCode).toBe(422);
    expect((await saved('practice-recall')).at(-1)?.body).toEqual(last?.body);
    expect(await verifyBook(here.at.book)).toMatchObject({ ok: true });
  });

  test('the same form sent twice begins once', async () => {
    const hidden = hiddenFieldsIn((await open('/recall/mock')).body);
    const before = await entries();
    const first = await send('/recall/mock/begin', hidden);
    expect((await send('/recall/mock/begin', hidden)).headers.location).toBe(first.headers.location);
    expect(await entries()).toBe(before + 1);
  });

  test('jars missing from the count are unaccounted for; an invalid count, and one begun the day before, are refused', async () => {
    const running = await begin();
    const begun = (await saved('practice-recall')).at(-1)?.body;
    const lot = String(begun?.['lot']);
    expect((await open(running)).body).toContain(String(begun?.['jar']));
    const { made, sentOut, destroyed, other } = await balanceOf(
      sugarhouseReader(here.at.book.read, 'home'),
      lot,
      utcOf(here.at.clock.now),
    );
    const elsewhere = sentOut + destroyed + other;
    const close = (more: Record<string, string>) =>
      send(running, { _once: `close-${Object.values(more).join()}`, ...more });
    expect((await close({ onShelf: 'some' })).statusCode).toBe(422);
    const before = here.at.clock.now;
    here.at.clock.now = new Date(before.getTime() + 90_000_000);
    expect((await close({ onShelf: '4' })).statusCode).toBe(409);
    here.at.clock.now = new Date(before.getTime() + 1000);
    await close({ onShelf: '0' });
    expect((await saved('practice-recall')).at(-1)?.body['result']).toContain(
      `${elsewhere} of ${made} jars of ${lot}: ${made > elsewhere ? `${made - elsewhere} unaccounted for` : 'all accounted for'}`,
    );
    expect((await open('/recall/mock/P9999')).statusCode).toBe(404);
  });
});
