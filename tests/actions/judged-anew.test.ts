import { describe, expect, test } from '@jest/globals';
import { packsUnderway } from '#libs/actions/kinds/pack.js';
import { record, type RecordOptions } from '#libs/actions/record/record.js';
import { findEntry } from '#libs/store/log/log.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { engines } from '../support/engines.js';
import { writeContext, done, recordOrThrow } from '../support/sugarhouse.js';
import { pack, seasonCopies } from '../support/season-copies.js';

describe.each(engines())('A verdict follows the present state of the book on $name', (engine) => {
  const season = seasonCopies(engine);
  const { lot, write, correct } = season;
  /** A correction sends the complete record with the new values. */
  const rules = async (code = pack): Promise<string[]> =>
    ((await lot(code)).verdict?.findings ?? []).map((finding) => finding.rule);
  const run = async (but: Record<string, string | string[]>): Promise<string> =>
    (await recordOrThrow(season.book, 'pack', { fromLots: '26077A:1 qt', jars: '4', ...but })).id;
  const check = (id: string, at: string, reads: string, recordOptions: RecordOptions = {}): Promise<string> =>
    write('check', { id, instrument: 'T1', at, how: 'ice', should: '32 F', reads }, recordOptions);
  const over = async (code: string): Promise<boolean> => (await rules(code)).includes('drawn-more-than-there');

  test('the first check of the season counts for packs before it; one of another season doesn’t', async () => {
    expect(await rules()).toContain('thermometer-not-checked');
    await check('C0', '2025-04-01T08:00', '32 F');
    expect(await rules()).toContain('thermometer-not-checked');
    await check('C1', '2026-04-01T08:00', '32 F');
    expect(await rules()).not.toContain('thermometer-not-checked');
    // Corrected to the year before, it no longer counts.
    await check('C1', '2025-04-02T08:00', '32 F', { of: 'C1', why: 'last year’s sheet' });
    expect(await rules()).toContain('thermometer-not-checked');
    expect(await verifyBook(season.book)).toMatchObject({ ok: true });
  });

  test('a thermometer found to read high holds the lots it read since its last good check, also after it is adjusted', async () => {
    await check('C1', '2026-03-20T07:00', '32 F');
    const before = await run({ fillTemps: '181 F#T1', packedAt: '2026-03-19T12:00' });
    // Typed in lower case, it is the same thermometer.
    const since = await run({ fillTemps: '181 F#t1', packedAt: '2026-03-21T08:00' });
    expect((await lot(since)).state).toBe('open');
    await check('C2', '2026-03-22T08:00', '35 F');
    expect([(await lot(before)).state, (await lot(since)).state]).toEqual(['open', 'held']);
    expect(await rules(since)).toContain('fill-temperature');
    await check('C3', '2026-03-22T09:00', '32 F');
    const after = await run({ fillTemps: '181 F#T1', packedAt: '2026-03-23T08:00' });
    expect([(await lot(since)).state, (await lot(after)).state]).toEqual(['held', 'open']);
    // The check itself was recorded wrongly: once it is corrected, the lot that it alone held waits for a release.
    await check('C2', '2026-03-22T08:00', '32.5 F', { of: 'C2', why: 'read the wrong line' });
    expect([(await lot(since)).state, await rules(since)]).toEqual([
      'held',
      expect.not.arrayContaining(['fill-temperature']),
    ]);
    expect(await verifyBook(season.book)).toMatchObject({ ok: true });
  });

  test('a pack that draws more than there was is a finding on the other packs of the boil too, until it is corrected', async () => {
    expect(await over(pack)).toBe(false);
    const sister = await run({ fromLots: '26077A:1 gal', packedAt: '2026-03-20T10:00' });
    expect([await over(pack), await over(sister)]).toEqual([true, true]);
    await correct('pack', pack, { fromLots: '26077A:2 gal', jars: '30' });
    expect([await over(pack), await over(sister)]).toEqual([false, false]);
    const { verdict } = await lot(pack);
    expect(verdict?.lowestFill?.typed).toBe('185 F');
    expect(await verifyBook(season.book)).toMatchObject({ ok: true });
  });

  test('a fill reading judges only its own pack, also where too much was drawn; a smaller draw judges the others', async () => {
    const other = await run({ fromLots: '26077A:1 gal', packedAt: '2026-03-20T10:00' });
    const begun = await record(season.book, writeContext(), packsUnderway, {
      fromLots: '26077A:1 pt',
      packedAt: '2026-03-20T12:00',
      container: 'glass jar 8 fl oz',
      by: 'OE',
    });
    const filling = done(begun).id;
    expect([await over(pack), await over(other), await over(filling)]).toEqual([true, true, true]);
    const { entry } = done(
      await record(
        season.book,
        writeContext(),
        packsUnderway,
        { fillTemps: '186 F@12:10 jar 1' },
        { add: true, of: filling },
      ),
    );
    const judged = (await findEntry(season.book.read, entry))?.judged?.map((each) => each.lot);
    expect(judged).toEqual([filling]);
    const { lastSeq } = await lot(other);
    expect(lastSeq).toBeLessThan(entry);
    await correct('pack', pack, { fromLots: '26077A:1 gal', jars: '15' });
    expect([await over(pack), await over(other), await over(filling)]).toEqual([false, false, false]);
    expect(await verifyBook(season.book)).toMatchObject({ ok: true });
  });

  test('the boil’s own measured volume clears it', async () => {
    await run({ fromLots: '26077A:1 gal', packedAt: '2026-03-20T10:00' });
    expect(await over(pack)).toBe(true);
    await correct('boil', '26077A', { syrupVolume: '4 gal' });
    expect(await over(pack)).toBe(false);
  });

  test('syrup used at the house counts too, with its corrections', async () => {
    await correct('pack', pack, { fromLots: '26077A:2 gal', jars: '30' });
    const used = await write('spent', { lot: '26077A', how: 'house', volume: '1 gal' });
    const sister = await run({ fromLots: '26077A:2 qt', packedAt: '2026-03-20T10:00' });
    expect([await over(pack), await over(sister)]).toEqual([true, true]);
    await correct('spent', used, { volume: '1 qt' });
    expect([await over(pack), await over(sister)]).toEqual([false, false]);
  });

  test('sap drawn twice is a finding on both boils, until the gathering is corrected to a larger volume', async () => {
    await recordOrThrow(season.book, 'boil', {
      beganAt: '2026-03-20T07:30',
      finishedAt: '',
      gatherings: 'G001:60 gal',
    });
    expect([await over('26077A'), await over('26079A')]).toEqual([true, true]);
    await correct('gathering', 'G001', { volume: '180 gal' });
    expect([await over('26077A'), await over('26079A')]).toEqual([false, false]);
    expect(await verifyBook(season.book)).toMatchObject({ ok: true });
  });
});
