import { describe, expect, test } from '@jest/globals';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { record } from '#libs/actions/record/record.js';
import { findLot, findRecord } from '#libs/store/queries/lots.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { engines } from '../support/engines.js';
import { writeContext, done, recordOrThrow } from '../support/sugarhouse.js';
import { seasonCopies } from '../support/season-copies.js';

describe.each(engines())('A check of a thermometer on $name', (engine) => {
  const season = seasonCopies(engine);
  /** The sentence after saving, and the stored record. */
  const check = async (sent: Record<string, string>) => {
    const all = { instrument: 'T1', at: '2026-03-20T07:00', ...sent };
    const { id, notes } = done(await record(season.book, writeContext(), kindByName.get('check')!, all));
    const body = (await findRecord(season.reader(), 'check', id))?.body;
    return { verdict: notes.join(' '), should: body?.should?.typed, from: body?.shouldFrom };
  };
  const pack = async (fillTemps: string): Promise<string> =>
    (
      await recordOrThrow(season.book, 'pack', {
        fromLots: '26077A:1 qt',
        jars: '4',
        packedAt: '2026-03-20T10:00',
        fillTemps,
      })
    ).id;
  const state = async (code: string) => (await findLot(season.reader(), code))?.state;
  const rules = async (code: string): Promise<string[]> =>
    (await findLot(season.reader(), code))?.verdict?.findings.map(({ rule }) => rule) ?? [];

  test('needs only what it read in ice, and gives a verdict', async () => {
    expect(await check({ how: 'ice', reads: '32.4 F' })).toEqual({
      verdict: 'T1 reads 0.4 °F high in ice, where 32 °F is right: within 2 °F.',
      should: '32 F',
      from: 'ice',
    });
    expect((await check({ how: 'ice', reads: '37 F' })).verdict).toBe(
      'T1 reads 5 °F high in ice, where 32 °F is right: don’t use it.',
    );
    expect(await check({ how: 'ice', reads: '0.5 C' })).toMatchObject({ should: '0 C', from: 'ice' });
  });

  test('in boiling water uses the boiling point by the day’s pressure, else by the elevation', async () => {
    expect(await check({ how: 'boiling-water', reads: '211 F', pressure: '29.4 inHg' })).toMatchObject({
      should: '211.1 F',
      from: 'pressure',
    });
    const byHeight = await check({ how: 'boiling-water', reads: '209.5 F', elevation: '1400 ft' });
    expect(byHeight).toMatchObject({ should: '209.4 F', from: 'elevation' });
    expect(byHeight.verdict).toContain('check again with today’s pressure');
    expect(await check({ how: 'boiling-water', reads: '210 F', should: '210 F' })).toMatchObject({ from: 'typed' });
  });

  test('uses the sugarhouse’s elevation where the check gives none', async () => {
    await recordOrThrow(season.book, 'house', { elevation: '1400 ft' }, {}, { of: 'house', add: true });
    expect(await check({ how: 'boiling-water', reads: '209 F' })).toMatchObject({
      should: '209.4 F',
      from: 'elevation',
    });
  });

  test.each<[Record<string, string>, RegExp]>([
    [{ how: 'ice' }, /^Saved, and no check yet: enter what it read\. A check needs both/],
    [{ how: 'boiling-water', reads: '211 F' }, /no check yet: enter the day’s pressure, the elevation or/],
    [{ how: 'reference', reads: '180 F' }, /no check yet: enter what it should read and what it read/],
  ])('without both temperatures has no verdict, and says so: %j', async (sent, formatted) => {
    expect((await check(sent)).verdict).toMatch(formatted);
    const code = await pack('190 F#T1 jar 4');
    expect(await rules(code)).toContain('thermometer-not-checked');
  });

  test('a lot held by elevation alone is opened by the check with the day’s pressure', async () => {
    const code = await pack('181 F#T1 jar 4');
    await check({ how: 'boiling-water', reads: '211.8 F', elevation: '1400 ft', at: '2026-03-20T12:00' });
    expect(await state(code)).toBe('held');
    await check({ how: 'boiling-water', reads: '211.8 F', pressure: '29.8 inHg', at: '2026-03-20T13:00' });
    expect([await state(code), await rules(code)]).toEqual(['open', expect.not.arrayContaining(['fill-temperature'])]);
    expect(await verifyBook(season.book)).toMatchObject({ ok: true });
  });

  test('clears nothing held by another thermometer', async () => {
    const code = await pack('181 F#T1 jar 4');
    await check({ how: 'ice', reads: '35 F' });
    expect(await state(code)).toBe('held');
    await check({ instrument: 'T2', how: 'ice', reads: '32 F', at: '2026-03-20T12:00' });
    expect(await state(code)).toBe('held');
  });

  test('counts the jars that had left before it failed', async () => {
    const code = await pack('181 F#T1 jar 4');
    await recordOrThrow(season.book, 'dispatch', { lot: code, jars: '2', sentAt: '2026-03-21T09:00' });
    await check({ how: 'ice', reads: '35 F', at: '2026-03-22T09:00' });
    const { verdict } = (await findLot(season.reader(), code))!;
    expect(verdict?.findings.find(({ rule }) => rule === 'left-before-hold')?.found).toMatch(
      /^2 jars of it had already left/,
    );
  });
});
