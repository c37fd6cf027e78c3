import { describe, expect, test } from '@jest/globals';
import { plansOfHeldLots } from '#libs/actions/lots/held-now.js';
import { holdLot } from '#libs/actions/lots/hold-lot.js';
import { recallLot } from '#libs/actions/lots/recall-lots.js';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { readRecall } from '#libs/actions/recall/read-recall.js';
import { loadSeasonContext } from '#libs/actions/season/season-context.js';
import { callsOf } from '#libs/reports/recall/recall-calls.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { balanceOf } from '#libs/store/queries/jar-balance.js';
import { jarsOfPack } from '#libs/store/queries/lots.js';
import { engines } from '../support/engines.js';
import { writeContext, done, problemOf, write, recordOrThrow } from '../support/sugarhouse.js';
import { pack, seasonCopies } from '../support/season-copies.js';

const planned = { id: 'S900', jars: '12', sentAt: '2026-06-01T09:00' };
/** Ten days after the planned day. */
const later = { now: new Date('2026-06-11T12:00:00Z') };

describe.each(engines())('A plan whose lot is held before its day on $name', (engine) => {
  const season = seasonCopies(engine);
  const home = () => season.reader();
  const onHand = async (at = later): Promise<number> => (await balanceOf(home(), pack, at.now.toISOString())).onHand;
  const code = async (n: number): Promise<string> => {
    for await (const jar of jarsOfPack(home(), pack, n, n)) return jar.code;
    throw new Error(`no jar ${n}`);
  };
  const stopped = async (): Promise<string[]> => (await plansOfHeldLots(home())).map(([plan]) => plan.id);
  /** Of 48 jars, 9 to 16 too cold. */
  const partlyHeld = () =>
    recordOrThrow(
      season.book,
      'pack',
      { lot: pack, fillTemps: '188 F#T1 jars 1-8;176 F#T1 jars 9-16;186 F#T1 jars 17-48' },
      {},
      { why: 'read from the sheet' },
    );

  test('moves no jars when its day passes; one that nothing holds does', async () => {
    await recordOrThrow(season.book, 'dispatch', planned);
    expect(await onHand()).toBe(36);
    done(await holdLot(season.book, writeContext(), pack, 'a lid that did not sit'));
    expect(await onHand()).toBe(48);
    expect(await stopped()).toEqual(['S900']);
    expect(await verifyBook(season.book)).toMatchObject({ ok: true });
  });

  test('has moved its jars if the lot was held only after that day', async () => {
    await recordOrThrow(season.book, 'dispatch', planned);
    done(await holdLot(season.book, writeContext(later), pack, 'a lid that did not sit'));
    expect(await onHand()).toBe(36);
    expect(await stopped()).toEqual([]);
  });

  test('still moves nothing once the lot is released, until somebody records when the jars left', async () => {
    await recordOrThrow(season.book, 'dispatch', planned);
    done(await holdLot(season.book, writeContext(), pack, 'a lid that did not sit'));
    done(await releaseLot(season.book, writeContext(later), pack, 'the lid sits'));
    expect([await onHand(), await stopped()]).toEqual([48, ['S900']]);
    // Renaming the buyer changes nothing about the jars.
    const corrected = (but: Record<string, string>) =>
      recordOrThrow(season.book, 'dispatch', { ...planned, ...but }, later, { why: 'asked at the market' });
    await corrected({ to: 'Millrace Green market' });
    expect(await onHand()).toBe(48);
    await corrected({ to: 'Millrace Green market', sentAt: '2026-06-10T09:00' });
    expect([await onHand(), await stopped()]).toEqual([36, []]);
    expect(await verifyBook(season.book)).toMatchObject({ ok: true });
  });

  test('can be recorded as done only as jars that had already left, while the lot is held', async () => {
    await recordOrThrow(season.book, 'dispatch', planned);
    done(await holdLot(season.book, writeContext(), pack, 'a lid that did not sit'));
    const fact = (but: Record<string, string>) =>
      write(season.book, 'dispatch', { ...planned, ...but }, later, { why: 'asked at the market' });
    expect(problemOf(await fact({ sentAt: '2026-06-10T09:00' })).kind).toBe('refused');
    expect(problemOf(await fact({ to: 'somebody else' })).kind).toBe('refused');
    done(await fact({ alreadyLeft: 'yes' }));
    expect(await onHand()).toBe(36);
  });

  test('is listed in a recall, and its jars are not counted as with the buyer', async () => {
    await recordOrThrow(season.book, 'dispatch', { ...planned, telephone: '802 555 0142' });
    done(await recallLot(season.book, writeContext(), pack, 'a jar came back swollen'));
    const recall = await readRecall(home(), pack, await loadSeasonContext(season.book.read, writeContext(later)), {});
    expect(recall?.lots).toMatchObject([{ jarsOnHand: 48, jarsSentOut: 0 }]);
    expect(callsOf(recall!)).toMatchObject([{ to: 'Millrace Green', telephone: '802 555 0142', jars: 0 }]);
  });

  test('of a partly held pack goes ahead if it lists free jars, and stops if it lists a held one or gives a count', async () => {
    for (const [id, jars] of [
      ['S901', await code(3)],
      ['S902', await code(12)],
      ['S903', '4'],
    ])
      await recordOrThrow(season.book, 'dispatch', { ...planned, id: id!, jars: jars! });
    await partlyHeld();
    expect(await stopped()).toEqual(['S902', 'S903']);
    expect(await onHand()).toBe(47);
    // Planned again with the free jars, it is no longer a plan from before the hold.
    await recordOrThrow(season.book, 'dispatch', { ...planned, id: 'S904', jars: '4' });
    expect(await stopped()).toEqual(['S902', 'S903']);
  });

  test('does not make a held jar count as gone when the free ones are counted', async () => {
    await recordOrThrow(season.book, 'dispatch', { ...planned, jars: await code(12), kind: 'retained' });
    await partlyHeld();
    expect(problemOf(await write(season.book, 'dispatch', { jars: '41' })).text).toContain('40 jars on hand may leave');
    await recordOrThrow(season.book, 'dispatch', { jars: '40' });
  });
});
