import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { engines } from '../support/engines.js';
import { house, owner } from '../support/newcomer.js';
import { posted, startServer, type TestServer } from '../support/server.js';
import { recordOrThrow } from '../support/sugarhouse.js';

const inNewHampshire = { ...house, town: 'Harrow Notch, New Hampshire', place: 'New Hampshire' };
const confirmed = { authority: 'state food office', authorityWith: 'M. Roy', authorityOn: '2026-02-10' };
/** Thinner than 66.9 °Bx, which is not verified for New Hampshire, and thicker than 66.0, which applies meanwhile. */
const between = { densityReading: '66.4 Bx', densityAt: '20 C', densityBy: 'refractometer-atc', jars: '12' };

describe.each(engines())('an unverified least density, on $name', (engine) => {
  let at: TestServer;
  let cookie = '';

  beforeAll(async () => {
    await engine.start();
    at = await startServer({}, { engine });
    at.clock.now = new Date('2026-05-01T22:00:00Z');
    await at.web.inject('/set-up');
    const done = await posted(at, '/set-up', { ...inNewHampshire, ...owner, word: at.lines[0] ?? '' });
    cookie = done.cookies.map((each) => `${each.name}=${each.value}`).join('; ');
    await recordOrThrow(at.book, 'gathering');
    await recordOrThrow(at.book, 'boil');
  });
  afterAll(async () => {
    await at.close();
    await engine.stop();
  });

  const why = async (pack: string): Promise<string> =>
    (await at.web.inject({ url: `/lots/${pack}`, headers: { cookie } })).body;
  const sendOut = (pack: string) =>
    posted(
      at,
      '/sent/new',
      { lot: pack, jars: '2', to: 'Millrace Green', how: 'sale', sentAt: '2026-04-20T09:00' },
      { cookie },
    );

  test('is an advisory until the maker confirms it', async () => {
    const { id } = await recordOrThrow(at.book, 'pack', { ...between, fromLots: '26077A:0.75 gal' });
    expect(id).toBe('26077A-1');
    const page = await why(id);
    expect(page).toContain('may go out');
    expect(page).toContain('limit 66.0 °Bx or more');
    expect(page).toContain('confirm it with the authority');
  });

  test('needs the name of who confirmed it', async () => {
    const answer = await posted(at, '/house', { ...inNewHampshire, leastDensityConfirmed: 'yes' }, { cookie });
    expect([answer.statusCode, answer.body]).toEqual([
      422,
      expect.stringContaining('enter with whom at the authority you confirmed the density'),
    ]);
  });

  test('holds thinner lots once it is confirmed, also those packed before', async () => {
    const answer = await posted(
      at,
      '/house',
      { ...inNewHampshire, ...confirmed, leastDensityConfirmed: 'yes' },
      { cookie },
    );
    expect(answer.statusCode).toBe(303);
    const { id } = await recordOrThrow(at.book, 'pack', {
      ...between,
      fromLots: '26077A:0.75 gal',
      packedAt: '2026-03-19T11:00',
    });
    const page = await why(id);
    expect(page).toMatch(/held/);
    expect(page).toContain('66.9 °Bx or more');
    expect(page).toContain('confirmed by the maker with M. Roy on 2026-02-10');
    const refused = await sendOut('26077A-1');
    expect([refused.statusCode, refused.body]).toEqual([409, expect.stringContaining('66.9 °Bx or more')]);
  });

  test('opens nothing when the confirmation is withdrawn', async () => {
    const back = await posted(
      at,
      '/house',
      { ...inNewHampshire, ...confirmed, leastDensityConfirmed: 'no' },
      { cookie },
    );
    expect(back.statusCode).toBe(303);
    expect(await why('26077A-2')).toMatch(/held/);
  });
});
