import { afterAll, beforeAll, beforeEach, describe, expect, test } from '@jest/globals';
import { plansOfHeldLots } from '#libs/actions/lots/held-now.js';
import { holdLot } from '#libs/actions/lots/hold-lot.js';
import { recallLot } from '#libs/actions/lots/recall-lots.js';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { readRecall } from '#libs/actions/recall/read-recall.js';
import { loadSeasonContext } from '#libs/actions/season/season-context.js';
import { callsOf } from '#libs/reports/recall/recall-calls.js';
import type { Book } from '#libs/store/book.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { balanceOf } from '#libs/store/queries/jar-balance.js';
import { jarsOfPack } from '#libs/store/queries/lots.js';
import { engines } from '../support/engines.js';
import { startSeason, writeContext, done, problemOf, sugarhouse, write, recordOrThrow } from '../support/sugarhouse.js';

const pack = '26077A-1';
const planned = { id: 'S900', jars: '12', sentAt: '2026-06-01T09:00' };
/** Ten days after the planned day. */
const later = { now: new Date('2026-06-11T12:00:00Z') };

describe.each(engines())('A plan whose lot is held before its day on $name', (engine) => {
  let book: Book;
  let begun: () => Promise<Book>;
  beforeAll(async () => {
    await engine.start();
    begun = await engine.copiesOf(startSeason);
  });
  afterAll(() => engine.stop());
  beforeEach(async () => {
    book = await begun();
  });
  const home = () => sugarhouseReader(book.read, sugarhouse);
  const onHand = async (at = later): Promise<number> => (await balanceOf(home(), pack, at.now.toISOString())).onHand;
  const code = async (n: number): Promise<string> => {
    for await (const jar of jarsOfPack(home(), pack, n, n)) return jar.code;
    throw new Error(`no jar ${n}`);
  };
  const stopped = async (): Promise<string[]> => (await plansOfHeldLots(home())).map(([plan]) => plan.id);
  /** Of 48 jars, 9 to 16 too cold. */
  const partlyHeld = () =>
    recordOrThrow(
      book,
      'pack',
      { lot: pack, fillTemps: '188 F#T1 jars 1-8;176 F#T1 jars 9-16;186 F#T1 jars 17-48' },
      {},
      { why: 'read from the sheet' },
    );

  test('moves nothing when its day passes; one that nothing holds does', async () => {
    await recordOrThrow(book, 'dispatch', planned);
    expect(await onHand()).toBe(36);
    done(await holdLot(book, writeContext(), pack, 'a lid that did not sit'));
    expect(await onHand()).toBe(48);
    expect(await stopped()).toEqual(['S900']);
    expect(await verifyBook(book)).toMatchObject({ ok: true });
  });

  test('has moved its jars where the lot was held only after the day', async () => {
    await recordOrThrow(book, 'dispatch', planned);
    done(await holdLot(book, writeContext(later), pack, 'a lid that did not sit'));
    expect(await onHand()).toBe(36);
    expect(await stopped()).toEqual([]);
  });

  test('still moves nothing once the lot is released, until somebody writes when the jars left', async () => {
    await recordOrThrow(book, 'dispatch', planned);
    done(await holdLot(book, writeContext(), pack, 'a lid that did not sit'));
    done(await releaseLot(book, writeContext(later), pack, 'the lid sits'));
    expect([await onHand(), await stopped()]).toEqual([48, ['S900']]);
    // Renaming the buyer changes nothing about the jars.
    const corrected = (but: Record<string, string>) =>
      recordOrThrow(book, 'dispatch', { ...planned, ...but }, later, { why: 'asked at the market' });
    await corrected({ to: 'Millrace Green market' });
    expect(await onHand()).toBe(48);
    await corrected({ to: 'Millrace Green market', sentAt: '2026-06-10T09:00' });
    expect([await onHand(), await stopped()]).toEqual([36, []]);
    expect(await verifyBook(book)).toMatchObject({ ok: true });
  });

  test('is turned into a fact only as jars that had already left while the lot is held', async () => {
    await recordOrThrow(book, 'dispatch', planned);
    done(await holdLot(book, writeContext(), pack, 'a lid that did not sit'));
    const fact = (but: Record<string, string>) =>
      write(book, 'dispatch', { ...planned, ...but }, later, { why: 'asked at the market' });
    expect(problemOf(await fact({ sentAt: '2026-06-10T09:00' })).kind).toBe('refused');
    expect(problemOf(await fact({ to: 'somebody else' })).kind).toBe('refused');
    done(await fact({ alreadyLeft: 'yes' }));
    expect(await onHand()).toBe(36);
  });

  test('is listed in a recall, and its jars are not counted as with the buyer', async () => {
    await recordOrThrow(book, 'dispatch', { ...planned, telephone: '802 555 0142' });
    done(await recallLot(book, writeContext(), pack, 'a jar came back swollen'));
    const recall = await readRecall(home(), pack, await loadSeasonContext(book.read, writeContext(later)), {});
    expect(recall?.lots).toMatchObject([{ jarsOnHand: 48, jarsSentOut: 0 }]);
    expect(callsOf(recall!)).toMatchObject([{ to: 'Millrace Green', telephone: '802 555 0142', jars: 0 }]);
  });

  test('of a partly held pack it goes on where it names free jars, and stops where it names a held one or a count', async () => {
    for (const [id, jars] of [
      ['S901', await code(3)],
      ['S902', await code(12)],
      ['S903', '4'],
    ])
      await recordOrThrow(book, 'dispatch', { ...planned, id: id!, jars: jars! });
    await partlyHeld();
    expect(await stopped()).toEqual(['S902', 'S903']);
    expect(await onHand()).toBe(47);
    // Planned again with the free jars, it is no longer a plan from before the hold.
    await recordOrThrow(book, 'dispatch', { ...planned, id: 'S904', jars: '4' });
    expect(await stopped()).toEqual(['S902', 'S903']);
  });

  test('a held jar that is only planned to go is not taken as gone when the free ones are counted', async () => {
    await recordOrThrow(book, 'dispatch', { ...planned, jars: await code(12), kind: 'retained' });
    await partlyHeld();
    expect(problemOf(await write(book, 'dispatch', { jars: '41' })).text).toContain('40 jars on hand may leave');
    await recordOrThrow(book, 'dispatch', { jars: '40' });
  });
});
