import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { findLot, type Lot } from '#libs/store/queries/lots.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { engines } from '../support/engines.js';
import { house, owner } from '../support/newcomer.js';
import { posted, startServer, type TestServer } from '../support/server.js';
import { recordOrThrow } from '../support/sugarhouse.js';

/** On the line of Vermont's chart, which is printed for a hydrometer made for 60 °F. */
const onTheChart = { densityReading: '60.4 Bx', densityAt: '185 F' };
/** Passes New York's limit by a hydrometer made for 60 °F; New York has no chart of its own. */
const nearTheLimit = { densityReading: '66.2 Bx', densityAt: '60 F' };
const question = 'What temperature is printed on your hydrometer?';

describe.each(engines())('What is printed on the hydrometer, on $name', (engine) => {
  let at: TestServer;
  let cookie = '';
  let hour = 10;

  beforeAll(() => engine.start());
  afterAll(() => engine.stop());
  const begin = async (answer: string, place = 'Vermont'): Promise<void> => {
    at = await startServer({}, { engine });
    at.clock.now = new Date('2026-05-01T22:00:00Z');
    await at.web.inject('/set-up');
    const setUp = { ...house, place, hydrometerMadeFor: answer, ...owner, word: at.lines[0] ?? '' };
    const done = await posted(at, '/set-up', setUp);
    cookie = done.cookies.map((each) => `${each.name}=${each.value}`).join('; ');
    for (const kind of ['gathering', 'boil']) await recordOrThrow(at.book, kind);
  };

  const pack = async (more: Record<string, string> = {}): Promise<string> =>
    (
      await recordOrThrow(at.book, 'pack', {
        ...onTheChart,
        densityBy: 'hydrometer',
        fromLots: '26077A:0.75 gal',
        jars: '12',
        packedAt: `2026-03-19T${++hour}:00`,
        ...more,
      })
    ).id;
  const lot = async (code: string): Promise<Lot | undefined> => findLot(sugarhouseReader(at.book.read, 'home'), code);
  const holds = async (code: string): Promise<[string | undefined, string[]]> => {
    const found = await lot(code);
    return [found?.state, (found?.verdict?.findings ?? []).filter(({ stop }) => stop).map(({ rule }) => rule)];
  };
  const page = async (url: string): Promise<string> => (await at.web.inject({ url, headers: { cookie } })).body;
  const tap = (hydrometerMadeFor: string, more = {}) =>
    posted(at, '/house/hydrometer', { hydrometerMadeFor, ...more }, { cookie });

  test('is asked once: until then a reading passes by both temperatures, and the answer opens without a release', async () => {
    hour = 10;
    await begin('', 'New York');
    expect(await page('/')).not.toContain(question);
    const [near, thick, named, otherwise] = [
      await pack(nearTheLimit),
      await pack({ densityReading: '67.6 Bx', densityAt: '60 F' }),
      await pack({ ...nearTheLimit, densityCalibratedAt: '60 F' }),
      await pack({ densityBy: 'refractometer-atc', densityReading: '67 Bx', densityAt: '' }),
    ];
    expect(await holds(near)).toEqual(['held', ['hydrometer-temperature']]);
    for (const each of [thick, named, otherwise]) expect(await holds(each)).toEqual(['open', []]);
    const sent = { lot: near, jars: '2', to: 'Millrace Green', kind: 'sale', sentAt: '2026-04-20T09:00' };
    expect((await posted(at, '/dispatches/new', sent, { cookie })).statusCode).toBe(409);
    const held = await page(`/lots/${near}`);
    expect(held).toContain('the temperature printed on it is not recorded: by one made for 68 °F it is 65.9 °Bx true');
    expect(held.match(/action="\/house\/hydrometer"/g)).toHaveLength(3);
    expect(await page('/')).toContain(question);

    const saved = await tap('60-F', { back: near });
    expect([saved.statusCode, saved.headers.location]).toEqual([303, expect.stringContaining(`/lots/${near}`)]);
    expect(await holds(near)).toEqual(['open', []]);
    expect(await page(`/lots/${near}`)).toContain('may go out');
    expect(await page('/')).not.toContain(question);
    await at.close();
  });

  test('holds thin syrup read with a hydrometer made for 68 °F, and a changed answer opens nothing by itself', async () => {
    hour = 10;
    await begin('');
    const near = await pack();
    expect(await holds(near)).toEqual(['open', []]);
    expect(await page(`/lots/${near}`)).toContain('by one made for 68 °F it is 66.4 °Bx true');
    await tap('68-F');
    expect(await holds(near)).toEqual(['held', ['density-too-thin']]);
    expect(await page(`/lots/${near}`)).toContain('made for 68 °F as the sugarhouse recorded of its hydrometers');
    const made60 = await pack({ densityCalibratedAt: '60 F' });
    expect(await holds(made60)).toEqual(['open', []]);
    expect((await tap('60-F')).statusCode).toBe(303);
    expect(await holds(near)).toEqual(['held', []]);
    expect((await lot(near))?.verdict?.awaitsRelease).toMatch(/^A later entry removed a hold/);
    await at.close();
  });

  test('judges a reading by the temperature recorded with it, not by the answer of the sugarhouse', async () => {
    hour = 10;
    await begin('60-F');
    expect(await holds(await pack({ densityCalibratedAt: '68 F' }))).toEqual(['held', ['density-too-thin']]);
    expect(await holds(await pack())).toEqual(['open', []]);
    await at.close();
  });

  test('stays held after the answer “not known” until the reading records it; Today doesn’t ask again', async () => {
    hour = 10;
    await begin('', 'New York');
    const near = await pack(nearTheLimit);
    await tap('not-known');
    expect(await holds(near)).toEqual(['held', ['hydrometer-temperature']]);
    expect(await page('/')).not.toContain(question);
    const held = await page(`/lots/${near}`);
    expect(held).not.toContain('action="/house/hydrometer"');
    expect(held).toContain(`href="/packs/${near}/density"`);
    const form = await page(`/packs/${near}/density`);
    expect(form).toContain('name="densityCalibratedAt"');
    const added = await posted(
      at,
      `/packs/${near}/density`,
      { densityCalibratedAt: '60', 'densityCalibratedAt~unit': 'F' },
      { cookie },
    );
    expect(added.statusCode).toBe(303);
    expect(await holds(near)).toEqual(['open', []]);
    await at.close();
  });

  test('is one of the answers, saved by the form of the sugarhouse as typed by the command line or a file', async () => {
    hour = 10;
    await begin('68F');
    expect(await page('/house')).toMatch(/value="68-F" checked/);
    for (const [typed, value] of [
      ['60 F', '60-F'],
      ['20 C', '68-F'],
      ['not known', 'not-known'],
    ] as const) {
      expect((await posted(at, '/house', { ...house, hydrometerMadeFor: typed }, { cookie })).statusCode).toBe(303);
      expect(await page('/house')).toMatch(new RegExp(`value="${value}" checked`));
    }
    expect((await posted(at, '/house', { ...house, hydrometerMadeFor: '65 F' }, { cookie })).statusCode).toBe(422);
    await at.close();
  });
});
