import { describe, expect, test } from '@jest/globals';
import { holdLot } from '#libs/actions/lots/hold-lot.js';
import { historyOf, readHead } from '#libs/store/log/log.js';
import { findLot } from '#libs/store/queries/lots.js';
import { engines } from '../support/engines.js';
import { writeContext, done, problemOf, write, recordOrThrow } from '../support/sugarhouse.js';
import { pack, seasonCopies } from '../support/season-copies.js';

describe.each(engines())('Plans and facts of a lot on $name', (engine) => {
  const season = seasonCopies(engine);
  const { advice, packMore } = season;
  const hold = async (code: string, why = 'a lid that did not sit') =>
    done(await holdLot(season.book, writeContext(), code, why));

  test('that is held refuses plans and facts alike, with the way out; jars that have already left are accepted with a finding', async () => {
    await hold(pack);
    const planned = await write(season.book, 'dispatch', { jars: '3', sentAt: '2026-07-01T09:00' });
    expect(problemOf(planned)).toMatchObject({ kind: 'refused', text: expect.stringContaining('is held') });
    // Destroying jars, keeping them or taking them back can be planned.
    expect(
      await recordOrThrow(season.book, 'dispatch', { jars: '3', sentAt: '2026-07-01T09:00', kind: 'destroyed' }),
    ).toMatchObject({ outcome: 'new' });
    const later = { now: new Date('2026-05-04T12:00:00Z') };
    const gone = { jars: '2', sentAt: '2026-05-03T09:00' };
    expect(problemOf(await write(season.book, 'dispatch', gone, later))).toMatchObject({
      kind: 'refused',
      text: expect.stringMatching(/is held.*A maker releases it.*already_left yes/),
    });
    await recordOrThrow(season.book, 'dispatch', { ...gone, alreadyLeft: 'yes' }, later);
    expect(await advice()).toContain('already-left');
    expect((await findLot(season.reader(), pack))?.jars).toBe(48);
  });

  test('a dispatch that is corrected to another lot is removed from the first and judged in the other', async () => {
    const { id: other } = await packMore({});
    const sent = await recordOrThrow(season.book, 'dispatch', { jars: '60' });
    expect(await advice()).toContain('sent-more-than-made');
    await recordOrThrow(
      season.book,
      'dispatch',
      { id: sent.id, jars: '60', lot: other },
      {},
      { why: 'the wrong line' },
    );
    expect(await advice(other)).toContain('sent-more-than-made');
    expect(await advice()).not.toContain('sent-more-than-made');
    expect((await historyOf(season.reader(), pack)).at(-1)).toMatchObject({
      entryType: 'correct',
      why: 'the wrong line',
    });
  });

  test('a plan for more than is left is refused; a fact of more than was made is accepted with a finding', async () => {
    expect(problemOf(await write(season.book, 'dispatch', { jars: '49', sentAt: '2026-07-01T09:00' })).text).toMatch(
      /48 jars on hand: 49 is 1 too many/,
    );
    await recordOrThrow(season.book, 'dispatch', { jars: '40', sentAt: '2026-07-01T09:00' });
    expect(problemOf(await write(season.book, 'dispatch', { jars: '9', sentAt: '2026-07-02T09:00' })).text).toMatch(
      /with 40 already planned/,
    );
    await recordOrThrow(season.book, 'dispatch', { jars: '49' });
    expect(await advice()).toContain('sent-more-than-made');
    const { id } = await packMore({ fromLots: '26077A:1 gal', jars: '16' });
    expect(await advice(id)).toContain('drawn-more-than-there');
  });

  test('never goes into itself, directly or through other lots', async () => {
    const { id: second } = await recordOrThrow(season.book, 'pack', {
      fromLots: `${pack}:1 qt`,
      jars: '4',
      packedAt: '2026-03-25T10:00',
    });
    const { id: third } = await recordOrThrow(season.book, 'pack', {
      fromLots: `${second}:1 pt`,
      jars: '2',
      packedAt: '2026-03-26T10:00',
    });
    const before = await readHead(season.book.read);
    for (const from of [pack, second, third]) {
      const loop = await write(
        season.book,
        'pack',
        { lot: pack, fromLots: `${from}:1 pt` },
        {},
        { why: 'poured round' },
      );
      expect(problemOf(loop)).toMatchObject({
        kind: 'invalid',
        text: expect.stringContaining(`did not go into`),
      });
    }
    const { id: later } = await recordOrThrow(season.book, 'boil', {
      beganAt: '2026-03-20T07:00',
      finishedAt: '2026-03-20T19:00',
      carriedFrom: '26077A:1 qt',
      gatherings: '',
    });
    expect(
      problemOf(await write(season.book, 'boil', { lot: '26077A', carriedFrom: `${later}:1 qt` }, {}, { why: 'x' }))
        .kind,
    ).toBe('invalid');
    expect((await readHead(season.book.read)).entries).toBe(before.entries + 1);
  });
});
