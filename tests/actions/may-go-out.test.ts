import { describe, expect, test } from '@jest/globals';
import { acknowledgements, reportsAlreadyLeft } from '#libs/actions/kinds/acknowledgement.js';
import { dispatchKinds } from '#libs/actions/kinds/dispatch.js';
import { holdLot } from '#libs/actions/lots/hold-lot.js';
import { recallLot } from '#libs/actions/lots/recall-lots.js';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { packs } from '#libs/actions/kinds/pack.js';
import { record } from '#libs/actions/record/record.js';
import { balanceOf } from '#libs/store/queries/jar-balance.js';
import { findLot, jarsOfPack } from '#libs/store/queries/lots.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { engines } from '../support/engines.js';
import { writeContext, done, problemOf, write, recordOrThrow } from '../support/sugarhouse.js';
import { pack, seasonCopies } from '../support/season-copies.js';

const later = '2026-07-01T09:00';

describe.each(engines())('Jars that may go out on $name', (engine) => {
  const season = seasonCopies(engine);
  const codes = async (...numbers: number[]): Promise<string> => {
    const found: string[] = [];
    for await (const jar of jarsOfPack(season.reader(), pack)) if (numbers.includes(jar.n)) found.push(jar.code);
    return found.join(';');
  };
  const advice = async () =>
    ((await findLot(season.reader(), pack))?.verdict?.findings ?? []).filter(({ stop }) => !stop);
  /** Jars 9 to 16 too cold, between good readings that name their jars. */
  const partlyHeld = () =>
    recordOrThrow(
      season.book,
      'pack',
      { lot: pack, fillTemps: '188 F#T1 jars 1-8;176 F#T1 jars 9-16;186 F#T1 jars 17-48' },
      {},
      { why: 'read from the sheet' },
    );

  test.each(['held', 'recalled'] as const)(
    'no jar of a %s lot goes to anyone who may eat it; any other dispatch is accepted',
    async (state) => {
      done(await (state === 'held' ? holdLot : recallLot)(season.book, writeContext(), pack, 'a lid that did not sit'));
      for (const kind of dispatchKinds)
        for (const sentAt of ['2026-04-11T09:00', later]) {
          const answer = await write(season.book, 'dispatch', { kind, jars: '2', sentAt });
          const eaten = ['sale', 'gift', 'sample', 'kept'].includes(kind);
          expect({ kind, sentAt, problem: problemOf(answer).kind }).toEqual({
            kind,
            sentAt,
            problem: eaten ? 'refused' : 'none',
          });
          if (eaten) expect(problemOf(answer).text).toMatch(new RegExp(`${pack} is ${state}.*already_left yes`));
        }
      await recordOrThrow(season.book, 'dispatch', {
        kind: 'sample',
        laboratory: 'yes',
        jars: '2',
        to: 'a laboratory',
      });
      expect(problemOf(await write(season.book, 'dispatch', { kind: 'sale', laboratory: 'yes', jars: '2' })).kind).toBe(
        'invalid',
      );
    },
  );

  test('the free jars of a partly held pack can be sent, by code and by count, and never a held one', async () => {
    await partlyHeld();
    expect((await findLot(season.reader(), pack))?.verdict?.heldJars).toEqual([{ from: 9, to: 16 }]);
    expect(problemOf(await write(season.book, 'dispatch', { jars: await codes(8, 9) })).text).toMatch(
      /is held: .*\(jar 9\) may not leave; the other jars may\. Fill temperature: found 176/,
    );
    await recordOrThrow(season.book, 'dispatch', { jars: await codes(7, 8) });
    expect(problemOf(await write(season.book, 'dispatch', { jars: '39' })).text).toMatch(
      /38 jars on hand may leave, 39 are too many. Take none of jars 9–16/,
    );
    await recordOrThrow(season.book, 'dispatch', { jars: '38' });
    expect(problemOf(await write(season.book, 'dispatch', { jars: '1', sentAt: '2026-04-12T09:00' })).kind).toBe(
      'refused',
    );
    await recordOrThrow(season.book, 'dispatch', {
      kind: 'destroyed',
      jars: await codes(9, 10),
      sentAt: '2026-04-12T10:00',
    });
    expect(await balanceOf(season.reader(), pack, writeContext().now.toISOString())).toMatchObject({
      onHand: 6,
    });
  });

  test('a hold by hand of a partly held pack holds all of it', async () => {
    await partlyHeld();
    done(await holdLot(season.book, writeContext(), pack, 'the whole tray looks odd'));
    expect(problemOf(await write(season.book, 'dispatch', { jars: await codes(7) })).kind).toBe('refused');
  });

  test('jars are not sold or given away before their seals are checked; a drum has no seals', async () => {
    const { id } = await recordOrThrow(season.book, 'pack', { fromLots: '26077A:1 qt', jars: '4', sealsFailed: '' });
    for (const kind of ['sale', 'gift'])
      expect(problemOf(await write(season.book, 'dispatch', { lot: id, jars: '1', kind })).text).toMatch(
        /the seals were not checked.*12 to 24 h after filling.*0 if none did/,
      );
    await recordOrThrow(season.book, 'dispatch', { lot: id, jars: '1', kind: 'retained' });
    await recordOrThrow(season.book, 'dispatch', { lot: id, jars: '1', alreadyLeft: 'yes' });
    done(await record(season.book, writeContext(), packs, { lot: id, sealsFailed: '0' }, { add: true, of: id }));
    await recordOrThrow(season.book, 'dispatch', { lot: id, jars: '1', sentAt: '2026-04-13T09:00' });
    await recordOrThrow(season.book, 'receipt');
    const { id: drum } = await recordOrThrow(season.book, 'pack', {
      fromLots: 'R001:6 gal',
      container: 'steel drum 6 gal',
      jars: '1',
      sealsFailed: '',
      containerPrep: '',
    });
    await recordOrThrow(season.book, 'dispatch', { lot: drum, jars: '1' });
  });

  test('jars that had already left need a maker’s initials, and stay a deviation after the release', async () => {
    done(await holdLot(season.book, writeContext(), pack, 'a lid that did not sit'));
    expect(problemOf(await write(season.book, 'dispatch', { jars: '3', alreadyLeft: 'yes', sentAt: later })).kind).toBe(
      'invalid',
    );
    const { id } = await recordOrThrow(season.book, 'dispatch', { jars: '3', alreadyLeft: 'yes' });
    expect(await advice()).toContainEqual(
      expect.objectContaining({ rule: 'already-left', found: expect.stringContaining('no maker’s initials yet') }),
    );
    const initialled = () =>
      record(season.book, writeContext({ by: 'OE' }), acknowledgements, { dispatch: id, note: 'called the stall' });
    done(await initialled());
    expect(await reportsAlreadyLeft(season.reader())).toMatchObject([{ acknowledged: { by: 'OE' } }]);
    // The report changed, so it waits again.
    await recordOrThrow(season.book, 'dispatch', { id, jars: '4', alreadyLeft: 'yes' }, {}, { why: 'counted again' });
    expect(await reportsAlreadyLeft(season.reader())).toMatchObject([{ acknowledged: undefined }]);
    done(await initialled());
    done(await releaseLot(season.book, writeContext(), pack, 'lids pressed again, all down'));
    expect(await advice()).toContainEqual(
      expect.objectContaining({ rule: 'already-left', found: expect.stringContaining('initialled by OE') }),
    );
    expect(problemOf(await record(season.book, writeContext(), acknowledgements, { dispatch: 'S0' })).kind).toBe(
      'invalid',
    );
    expect(await verifyBook(season.book)).toMatchObject({ ok: true });
  });

  test('a correction can’t send more jars of a held lot, but may rename the buyer', async () => {
    const { id } = await recordOrThrow(season.book, 'dispatch', { jars: '3' });
    const { id: plan } = await recordOrThrow(season.book, 'dispatch', { jars: '2', sentAt: later });
    const { id: broken } = await recordOrThrow(season.book, 'dispatch', {
      jars: '2',
      kind: 'broken',
      sentAt: '2026-04-12T09:00',
    });
    done(await recallLot(season.book, writeContext(), pack, 'a jar came back swollen'));
    const corrected = (of: string, but: Record<string, string>) =>
      write(season.book, 'dispatch', { id: of, jars: '3', ...but }, {}, { why: 'read the wrong line' });
    expect(problemOf(await corrected(id, { to: 'Notch Road Farm Stand' })).kind).toBe('none');
    expect(problemOf(await corrected(id, { jars: '5' })).kind).toBe('refused');
    expect(problemOf(await corrected(plan, { jars: '2', sentAt: '2026-04-30T09:00' })).kind).toBe('refused');
    expect(problemOf(await corrected(broken, { jars: '2', kind: 'sale' })).kind).toBe('refused');
  });

  test('a jar that came back is not sold again before it is inspected', async () => {
    const jar = await codes(5);
    await recordOrThrow(season.book, 'dispatch', { jars: jar });
    const { id } = await recordOrThrow(season.book, 'dispatch', {
      jars: jar,
      kind: 'returned',
      sentAt: '2026-04-20T09:00',
    });
    const again = { jars: jar, sentAt: '2026-04-22T09:00' };
    expect(problemOf(await write(season.book, 'dispatch', again)).text).toMatch(
      /was returned from .* set apart: first record on/,
    );
    expect(problemOf(await write(season.book, 'dispatch', { jars: '48', sentAt: '2026-04-22T09:00' })).text).toMatch(
      /47 jars on hand; returned and set apart: 1/,
    );
    const back = { id, jars: jar, kind: 'returned', sentAt: '2026-04-20T09:00' };
    expect(problemOf(await write(season.book, 'dispatch', { ...back, sealed: '1' }, {}, { add: true })).text).toMatch(
      /how they were kept/i,
    );
    await recordOrThrow(season.book, 'dispatch', { ...back, sealed: '1', keptHow: 'warm' }, {}, { add: true });
    await recordOrThrow(season.book, 'dispatch', again);
    expect(await verifyBook(season.book)).toMatchObject({ ok: true });
  });
});
