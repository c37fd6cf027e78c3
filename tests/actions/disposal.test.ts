import { afterAll, beforeAll, beforeEach, describe, expect, test } from '@jest/globals';
import { correctEntry } from '#libs/actions/record/correct-entry.js';
import { traceLot } from '#libs/actions/lots/trace-lot.js';
import type { Book } from '#libs/store/book.js';
import { lotsWithSomeLeft } from '#libs/store/queries/work-in-progress.js';
import { historyOf } from '#libs/store/log/log.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { flowsOutOf, lotsDownstream } from '#libs/store/queries/trace.js';
import { engines } from '../support/engines.js';
import { startSeason, writeContext, done, problemOf, sugarhouse, write, recordOrThrow } from '../support/sugarhouse.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

const litresOf = { gal: 3.785, qt: 0.946, pt: 0.473 };

describe.each(engines())('Sap and syrup that went into no jar, on $name', (engine) => {
  let book: Book;
  let begun: () => Promise<Book>;
  beforeAll(async () => {
    await engine.start();
    begun = await engine.copiesOf(async (fresh) => {
      await startSeason(fresh);
      await recordOrThrow(fresh, 'boil', {
        gatherings: '',
        sapVolume: '100 gal',
        syrupVolume: '2 gal',
        beganAt: '2026-03-20T07:30',
        finishedAt: '2026-03-20T19:00',
      });
      await recordOrThrow(fresh, 'gathering', { id: 'G002', volume: '30 gal', gatheredAt: '2026-03-21T16:00' });
    });
  });
  afterAll(() => engine.stop());
  beforeEach(async () => {
    book = await begun();
  });
  const inHand = async (kind: 'boil' | 'gathering') =>
    (await lotsWithSomeLeft(sugarhouseReader(book.read, sugarhouse), kind, 2025)).map((lot) => lot.code);
  const syrup = async (code: string) =>
    done(await traceLot(sugarhouseReader(book.read, sugarhouse), code, writeContext().now)).syrupLitres;

  test('soured sap that is thrown out is no longer left over, and the lot’s history gives the reason', async () => {
    expect(await inHand('gathering')).toEqual(['G002']);
    const thrown = await recordOrThrow(book, 'spent', {
      lot: 'G002',
      how: 'thrown-out',
      why: 'ropy after three warm days',
    });
    expect(thrown.id).toBe('U0001');
    expect(await inHand('gathering')).toEqual([]);
    expect(await syrup('G002')).toMatchObject({ left: 0, inJars: 0, spent: 113.562, lost: 0 });
    expect((await historyOf(sugarhouseReader(book.read, sugarhouse), 'G002')).at(-1)?.record).toMatchObject({
      kind: 'spent',
      typed: { how: 'thrown-out', why: 'ropy after three warm days' },
    });
  });

  test('syrup used at the house, lost to cooling and filter cloth, and filled into jars are separate amounts', async () => {
    await recordOrThrow(book, 'pack', {
      fromLots: '26079A:1 gal',
      packedAt: '2026-03-21T10:00',
      jars: '8',
      container: 'glass jar 16 fl oz',
    });
    await recordOrThrow(book, 'spent', { lot: '26079A', volume: '1 qt' });
    await recordOrThrow(book, 'spent', { lot: '26079A', volume: '1 pt', how: 'shrink' });
    const balance = await syrup('26079A');
    expect(balance.spent).toBeCloseTo(litresOf.qt, 2);
    expect(balance.lost).toBeCloseTo(litresOf.pt, 2);
    expect(balance.left).toBeCloseTo(litresOf.gal - litresOf.qt - litresOf.pt, 2);
    expect(balance.inJars).toBeCloseTo(litresOf.gal, 2);
  });

  test('more than is left is refused, with the difference; a blank amount means all that is left, once', async () => {
    const refused = problemOf(await write(book, 'spent', { lot: '26079A', volume: '3 gal' }));
    expect(refused).toEqual({ kind: 'refused', text: '26079A has 2 gal left: 3 gal is 1 gal more than that.' });
    await recordOrThrow(book, 'spent', { lot: '26079A' });
    expect((await syrup('26079A')).left).toBe(0);
    expect(problemOf(await write(book, 'spent', { lot: '26079A' })).text).toBe(
      'By the records, nothing is left of 26079A.',
    );
    expect(await inHand('boil')).toEqual([]);
  });

  test('jars, unmeasured syrup and a future date can’t be recorded as a disposal', async () => {
    const { id } = await recordOrThrow(book, 'boil', {
      gatherings: '',
      syrupVolume: '1 gal',
      beganAt: '2026-03-25T07:00',
      finishedAt: '',
    });
    expect(problemOf(await write(book, 'spent', { lot: '26077A-1' })).text).toMatch(
      /^Lot: expected a gathering, a receipt or a boil of this book, got 26077A-1, whose jars are sent out or counted/,
    );
    expect(problemOf(await write(book, 'spent', { lot: 'nowhere' })).kind).toBe('invalid');
    expect(problemOf(await write(book, 'spent', { lot: id, at: '2026-06-01T09:00' })).text).toMatch(
      /a time in the past.*Is the clock right\?/,
    );
    expect(problemOf(await write(book, 'spent', { lot: id, how: 'lost' })).text).toMatch(
      /expected one of house, thrown-out/,
    );
  });

  test('a disposal of the wrong lot is corrected to the right one, and the first lot gets its syrup back', async () => {
    const { id } = await recordOrThrow(book, 'spent', { lot: '26079A', volume: '1 gal' });
    done(await correctEntry(book, writeContext(), id, 'it was the sap', { lot: 'G002', volume: '5 gal' }));
    expect((await syrup('26079A')).left).toBeCloseTo(2 * litresOf.gal, 2);
    expect((await syrup('G002')).spent).toBeCloseTo(5 * litresOf.gal, 1);
    expect(await verifyBook(book)).toMatchObject({ ok: true });
  });

  test('a disposal is no lot: a trace down does not list it', async () => {
    await recordOrThrow(book, 'spent', { lot: '26079A', volume: '1 qt' });
    expect((await lotsDownstream(sugarhouseReader(book.read, sugarhouse), '26079A')).map((lot) => lot.code)).toEqual([
      '26079A',
    ]);
    expect(await flowsOutOf(sugarhouseReader(book.read, sugarhouse), '26079A')).toEqual([]);
  });
});
