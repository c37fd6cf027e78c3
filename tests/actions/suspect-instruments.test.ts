import { describe, expect, test } from '@jest/globals';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { suspectInstrument, suspectLots } from '#libs/actions/facts/suspect-lots.js';
import { record } from '#libs/actions/record/record.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { suspectPeriodOf, isInSuspectPeriod } from '#libs/syrup/instruments/suspect-period.js';
import { engines } from '../support/engines.js';
import { writeContext, done, problemOf, recordOrThrow } from '../support/sugarhouse.js';
import { seasonCopies } from '../support/season-copies.js';

describe.each(engines())('An instrument found wrong on $name', (engine) => {
  const season = seasonCopies(engine);
  const { write } = season;
  const check = (at: string, reads: string, more: Record<string, string> = {}): Promise<string> =>
    write('check', { instrument: 'T1', at, how: 'ice', should: '32 F', reads, ...more });
  const lots = async (from: Parameters<typeof suspectLots>[1]): Promise<string[]> =>
    done(await suspectLots(season.reader(), from));
  const run = async (but: Record<string, string>): Promise<string> =>
    (await recordOrThrow(season.book, 'pack', { fromLots: '26077A:1 qt', jars: '4', ...but })).id;

  test('makes every lot suspect that has a reading naming it: in the jar, the kettle, the log, the draw-off, the density, an action', async () => {
    const inJar = await run({ fillTemps: '186 F#t1', packedAt: '2026-03-20T08:00' });
    const inKettle = await run({ instruments: 'T2; T1', packedAt: '2026-03-20T09:00' });
    const other = await run({ instruments: 'T11', fillTemps: '186 F#T10', packedAt: '2026-03-20T10:00' });
    expect(await lots({ thermometer: 'T1' })).toEqual([inJar, inKettle].sort());

    const corrected = { gatherings: 'G002:10 gal' };
    await recordOrThrow(season.book, 'gathering', { id: 'G002' });
    const logged = await recordOrThrow(season.book, 'boil', {
      beganAt: '2026-03-21T07:00',
      ...corrected,
      finishedAt: '',
    });
    await write('line', { lot: logged.id, at: '2026-03-21T09:00', temperature: '214 F', instruments: 'T1' });
    const drawn = await recordOrThrow(season.book, 'boil', {
      beganAt: '2026-03-22T07:00',
      ...corrected,
      finishedAt: '',
    });
    await recordOrThrow(season.book, 'draw', {
      boil: drawn.id,
      drawnAt: '2026-03-22T09:00',
      temp: '218 F',
      instruments: 'T1',
    });
    const finished = await recordOrThrow(season.book, 'boil', {
      beganAt: '2026-03-23T07:00',
      finishedAt: '2026-03-23T19:00',
      ...corrected,
      finishTemp: '218 F',
      instruments: 'T1',
    });
    await recordOrThrow(season.book, 'action', { lot: other, at: '2026-03-24T10:00', fillTemps: '188 F#T1' });
    expect(await lots({ thermometer: 'T1' })).toEqual(
      [inJar, inKettle, logged.id, drawn.id, finished.id, other].sort(),
    );
    expect(await lots({ thermometer: 'T10' })).toEqual([other]);
    expect(await verifyBook(season.book)).toMatchObject({ ok: true });
  });

  test('makes only readings suspect from its last good check to the failed one', async () => {
    const early = await run({ fillTemps: '186 F#T1', packedAt: '2026-03-20T08:00' });
    await check('2026-03-20T18:00', '32.5 F', { id: 'C1' });
    const between = await run({ fillTemps: '186 F#T1', packedAt: '2026-03-21T08:00' });
    // Begun before the good check; one of its jars was read after it, by the reading's time.
    const across = await run({
      fillTemps: ['186 F@17:00#T1', '186 F@18:30#T1'] as never,
      packedAt: '2026-03-20T16:30',
    });
    await check('2026-03-22T08:00', '37 F', { id: 'C2' });
    await check('2026-03-22T09:00', '32 F', { id: 'C3', done: 'adjusted' });
    const after = await run({ fillTemps: '186 F#T1', packedAt: '2026-03-23T08:00' });

    expect(await lots({ check: 'C2' })).toEqual([between, across].sort());
    expect(await lots({ thermometer: 't1' })).toEqual([between, across].sort());
    expect(done(await suspectInstrument(season.reader(), { check: 'C2' })).period).toMatchObject({
      lastPassedCheck: 'C1',
      failedCheck: 'C2',
    });
    const all = await lots({ lots: [early, after], check: 'C2' });
    expect(all).toEqual([early, after, between, across].sort());
  });

  test('may be a hydrometer, whose check has the result right or wrong', async () => {
    const pack = await run({ instruments: 'H2', packedAt: '2026-03-21T08:00' });
    await write('check', { id: 'C7', instrument: 'H2', at: '2026-03-20T08:00', how: 'reference', fit: 'yes' });
    await write('check', { id: 'C8', instrument: 'H2', at: '2026-03-22T08:00', how: 'reference', fit: 'no' });
    expect(await lots({ check: 'C8' })).toEqual([pack]);
  });

  test('is found by its id in capital or small letters', async () => {
    const packs = [];
    for (const [n, id] of ['Öfen-1', 'öfen-1', 'A_B%!"1'].entries())
      packs.push(await run({ instruments: id, fillTemps: '186 F', packedAt: `2026-03-2${n}T08:00` }));
    expect(await lots({ thermometer: 'ÖFEN-1' })).toEqual(packs.slice(0, 2));
    expect(await lots({ thermometer: 'a_b%!"1' })).toEqual(packs.slice(2));
  });

  test('is reported as unknown if it has no readings, and so is an unknown check', async () => {
    await check('2026-03-20T18:00', '37 F', { id: 'C1' });
    expect(problemOf(await suspectLots(season.reader(), { check: 'C1' }))).toMatchObject({
      kind: 'unknown',
    });
    expect(problemOf(await suspectLots(season.reader(), { check: 'C99' })).text).toContain('C99');
    await check('2026-03-21T18:00', '32 F', { id: 'C2' });
    expect(problemOf(await suspectLots(season.reader(), { check: 'C2' })).text).toContain('which it passed');
    expect(
      problemOf(
        await record(season.book, writeContext(), kindByName.get('line')!, {
          lot: '26077A',
          at: '2026-03-18T09:00',
          temperature: '214 F',
          instruments: 'T:1',
        }),
      ).text,
    ).toContain('ids like T1;H2');
  });
});

test('between two good checks nothing is suspect, and without any check everything is', () => {
  const should = { typed: '32 F', unit: 'F', degrees: 32, celsius: 0 } as const;
  const at = (id: string, atMs: number, celsius: number) => ({ id, atMs, should, reads: { ...should, celsius } });
  const period = suspectPeriodOf([at('a', 10, 0), at('b', 20, 1), at('c', 30, 3), at('d', 40, 0)]);
  expect(period).toEqual({ afterMs: 20, untilMs: 30, lastPassedCheck: 'b', failedCheck: 'c' });
  expect([15, 20, 25, 30, 31].map((ms) => isInSuspectPeriod(period, ms, ms))).toEqual([
    false,
    false,
    true,
    true,
    false,
  ]);
  expect(isInSuspectPeriod(period, 5, 25)).toBe(true);
  expect(isInSuspectPeriod(suspectPeriodOf([]), 5, 5)).toBe(true);
});
