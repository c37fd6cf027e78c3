import { describe, expect, test } from '@jest/globals';
import { correctEntry } from '#libs/actions/record/correct-entry.js';
import { importRows } from '#libs/actions/import/import-rows.js';
import { packs } from '#libs/actions/kinds/pack.js';
import { record } from '#libs/actions/record/record.js';
import { readHead } from '#libs/store/log/log.js';
import { engines } from '../support/engines.js';
import { writeContext, done, problemOf, write, recordOrThrow } from '../support/sugarhouse.js';
import { pack, seasonCopies } from '../support/season-copies.js';

describe.each(engines())('The time of a fill reading, on $name', (engine) => {
  const season = seasonCopies(engine);
  const aRun = { fromLots: '26077A:1 qt', jars: '4' };
  const entries = async () => (await readHead(season.book.read)).entries;

  // It is 2026-05-01T18:00 in Harrow Notch; boil 26077A began 2026-03-18T07:30.
  const today = { ...aRun, packedAt: '2026-05-01T17:30' };
  const refused: [is: string, but: Record<string, string>, says: RegExp][] = [
    ['over ten minutes ahead', { ...today, fillTemps: '186 F@18:11' }, /it is 2026-05-01T18:00 by this computer’s/],
    ['a day ahead', { ...today, fillTemps: '186 F@2026-05-02T10:00' }, /Is the clock right\?/],
    ['before the boil', { ...aRun, packedAt: '2026-03-18T15:00', fillTemps: '186 F@07:29' }, /after boil 26077A began/],
    [
      'days before',
      { ...aRun, packedAt: '2026-03-25T10:00', fillTemps: '186 F@2026-03-24T14:00' },
      /12 h before the pack/,
    ],
  ];
  test.each(refused)(
    '%s is refused, named with its reading, in a pack and in a row of a file',
    async (_, but, says) => {
      const before = await entries();
      const fillTemps = `187 F;${but['fillTemps']}`;
      const answer = problemOf(await write(season.book, 'pack', { ...but, fillTemps }));
      expect(answer.kind).toBe('invalid');
      expect(answer.text).toMatch(says);
      expect(answer.text).toContain(`"${but['fillTemps']}" as the second reading`);
      const row = `${but['fromLots']},${but['packedAt']},glass jar 8 fl oz,4,${fillTemps},OE`;
      const file = new TextEncoder().encode(`from_lots,packed_at,container,jars,fill_temps,by\n${row}\n`);
      expect((await importRows(season.book, writeContext(), packs, file)).faults).toMatchObject([
        { line: 2, column: 'fill_temps', expected: expect.stringMatching(says) },
      ]);
      expect(await entries()).toBe(before);
    },
  );

  test('in a corrective action is neither in the future nor before the pack', async () => {
    const ahead = await write(season.book, 'action', { at: '2026-05-01T17:30', fillTemps: '186 F@18:20' });
    expect(problemOf(ahead).text).toMatch(/Is the clock right/);
    const early = await write(season.book, 'action', { at: '2026-05-01T17:30', fillTemps: '186 F@2026-03-18T20:00' });
    expect(problemOf(early).text).toMatch(/12 h before the pack/);
    await recordOrThrow(season.book, 'action', { at: '2026-05-01T17:30', fillTemps: '186 F@17:40' });
  });

  test('from a clock slightly ahead, a pack past midnight or a pack dated by its end is accepted', async () => {
    await recordOrThrow(season.book, 'pack', { ...today, fillTemps: '186 F@18:10' });
    await recordOrThrow(season.book, 'pack', {
      ...aRun,
      packedAt: '2026-03-19T23:30',
      fillTemps: '186 F@23:40;185 F@00:20',
    });
    await recordOrThrow(season.book, 'pack', {
      ...aRun,
      packedAt: '2026-03-20T11:30',
      fillTemps: '186 F@10:05;185 F@11:20',
    });
  });

  test('accepted by an older program stays, and the pack can be corrected elsewhere', async () => {
    const ahead = '186 F@2026-05-03T10:00';
    const early = writeContext({ now: new Date('2026-05-03T22:00:00Z') });
    done(await record(season.book, early, packs, { fillTemps: [ahead] }, { add: true, of: pack }));
    const clockBack = { clockIsRight: true };
    done(
      await correctEntry(season.book, writeContext(clockBack), pack, 'the colour was read', { transmittance: '55 %' }),
    );
    done(await record(season.book, writeContext(clockBack), packs, { fillTemps: ['186 F'] }, { add: true, of: pack }));
  });
});
