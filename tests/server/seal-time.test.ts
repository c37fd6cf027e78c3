import { afterAll, beforeAll, beforeEach, afterEach, describe, expect, test } from '@jest/globals';
import { importRows } from '#libs/actions/import/import-rows.js';
import { packs } from '#libs/actions/kinds/pack.js';
import { recordsAbout } from '#libs/store/queries/lots.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { engines } from '../support/engines.js';
import { house, owner } from '../support/newcomer.js';
import { posted, startServer, type TestServer } from '../support/server.js';
import { recordOrThrow, writeContext } from '../support/sugarhouse.js';

describe.each(engines())('When seals were counted, on $name', (engine) => {
  let at: TestServer;
  let cookie = '';
  let sales = 0;

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

  /** The pack of 12 jars was filled at 10:00 on 19 March. */
  const paper = {
    'fromLots~more': '26077A:0.75 gal',
    packedAt: '2026-03-19T10:00',
    container: 'glass jar 8 fl oz',
    jars: '12',
    ...{ fillTemps: '188 F jar 12', densityReading: '60.4 Bx', densityAt: '185 F', densityBy: 'hydrometer', by: 'WE' },
  };
  const send = (path: string, fields: Record<string, string>) => posted(at, path, fields, { cookie });
  const page = async (url: string): Promise<string> => (await at.web.inject({ url, headers: { cookie } })).body;
  const sell = async (lot: string): Promise<number> =>
    (
      await send('/dispatches/new', {
        ...{ lot, jars: '1', to: `Millrace Green ${++sales}`, kind: 'sale', sentAt: '2026-04-20T09:00' },
      })
    ).statusCode;

  test('a count copied from paper needs its time, and one of warm jars is no check', async () => {
    const undated = await send('/packs/finished', { ...paper, sealsFailed: '0' });
    expect([undated.statusCode, undated.body]).toEqual([422, expect.stringContaining('when the seals were counted')]);
    const warm = await send('/packs/finished', { ...paper, sealsFailed: '0', sealsAt: '2026-03-19T11:30' });
    expect(warm.statusCode).toBe(303);
    const lot = await page('/lots/26077A-1');
    expect(lot).toContain('seals not checked');
    expect(lot).toContain('0 failed by a count made or entered 1 h 30 min after filling, too early to tell');
    expect(await sell('26077A-1')).toBe(409);
    // The way out: count them again, from the pack’s own button.
    expect(lot).toContain('href="/packs/26077A-1/seals"');
    expect((await send('/packs/26077A-1/seals', { sealsFailed: '0', sealsAt: '2026-03-20T09:00' })).statusCode).toBe(
      303,
    );
    expect(await page('/lots/26077A-1')).not.toContain('seals not checked');
    expect(await sell('26077A-1')).toBe(303);
  });

  test('a count the day after is a check, and a count in the future is refused', async () => {
    const dated = { ...paper, sealsFailed: '0' };
    expect((await send('/packs/finished', { ...dated, sealsAt: '2026-07-01T09:00' })).statusCode).toBe(422);
    expect((await send('/packs/finished', { ...dated, sealsAt: '2026-03-20T09:00' })).statusCode).toBe(303);
    expect(await sell('26077A-1')).toBe(303);
  });

  test('the form for a count at the bench is set to now, and another time is one choice', async () => {
    expect((await send('/packs/finished', paper)).statusCode).toBe(303);
    const form = await page('/packs/26077A-1/seals');
    expect(form).toContain('Seals counted at');
    expect(form).toMatch(/name="sealsAt~ago"/);
    const warm = { sealsFailed: '0', 'sealsAt~ago': 'other', sealsAt: '2026-03-19T12:00' };
    expect((await send('/packs/26077A-1/seals', warm)).statusCode).toBe(303);
    expect(await page('/lots/26077A-1')).toContain('seals not checked');
    expect(await sell('26077A-1')).toBe(409);
    expect((await send('/packs/26077A-1/seals', { sealsFailed: '0', 'sealsAt~ago': 'now' })).statusCode).toBe(303);
    expect(await sell('26077A-1')).toBe(303);
  });

  test('a file and a script say when; without it the time of the entry counts', async () => {
    const rows = [
      'lot,from_lots,packed_at,container,jars,fill_temps,density_reading,density_at,density_by,seals_failed,seals_at,by',
      '26077A-1,26077A:0.75 gal,2026-03-19T10:00,glass jar 8 fl oz,12,188 F,60.4 Bx,185 F,hydrometer,0,2026-03-19T14:00,WE',
      '26077A-2,26077A:0.75 gal,2026-03-19T11:00,glass jar 8 fl oz,12,188 F,60.4 Bx,185 F,hydrometer,0,,WE',
    ];
    const context = { ...writeContext(), now: at.clock.now };
    const imported = await importRows(at.book, context, packs, Buffer.from(rows.join('\n')));
    expect(imported.faults).toEqual([]);
    expect([await sell('26077A-1'), await sell('26077A-2')]).toEqual([409, 303]);
  });

  test('of jars packed again the count has its own time, and an action without a count records none', async () => {
    expect(
      (await send('/packs/finished', { ...paper, sealsFailed: '0', sealsAt: '2026-03-20T09:00' })).statusCode,
    ).toBe(303);
    const again = {
      ...{
        at: '2026-04-10T10:00',
        found: 'a loose lid',
        way: 'reheated-and-repacked',
        'jars~pick': 'all',
        cause: 'band-loose',
      },
      ...{ done: 'packed again', fillTemps: '188 F jar 12', sealsFailed: '0', 'sealsAt~ago': 'other' },
    };
    expect((await send('/lots/26077A-1/act', { ...again, sealsAt: '2026-04-10T11:00' })).statusCode).toBe(303);
    expect(await sell('26077A-1')).toBe(409);
    const looked = {
      found: 'see above',
      way: 'inspected',
      'jars~pick': 'all',
      cause: 'band-loose',
      done: 'looked',
      'sealsAt~ago': 'now',
    };
    expect((await send('/lots/26077A-1/act', looked)).statusCode).toBe(303);
    const reader = sugarhouseReader(at.book.read, 'home');
    const actions = await recordsAbout(reader, '26077A-1', 'action');
    expect(actions.map(({ typed }) => [typed['sealsFailed'], typed['sealsAt']])).toEqual([
      ['0', expect.stringContaining('2026-04-10T11:00')],
      [undefined, undefined],
    ]);
  });
});
