import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { beginMockRecall, closeMockRecall, runMockRecall } from '#libs/actions/practice/mock-recall.js';
import type { Book } from '#libs/store/book.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { engines } from '../support/engines.js';
import { writeContext, done, problemOf, recordOrThrow } from '../support/sugarhouse.js';

describe.each(engines())('A mock recall on $name', (engine) => {
  let fresh: () => Promise<Book>;
  beforeAll(async () => {
    await engine.start();
    fresh = await engine.copiesOf((book) => recordOrThrow(book, 'house'));
  });
  afterAll(() => engine.stop());

  test('of a season boiled without emptying the pans names the first lots and how many more there are', async () => {
    const book = await fresh();
    expect(problemOf(await beginMockRecall(book, writeContext())).text).toContain('no jars in this book yet');
    let last = '';
    for (let n = 1; n <= 40; n++) {
      await recordOrThrow(book, 'gathering', { id: `North slope tank ${n}` });
      const beganAt = `2026-03-${String(1 + Math.floor(n / 2)).padStart(2, '0')}T${n % 2 === 0 ? '06' : '14'}:00`;
      const from = last ? { carriedFrom: `${last}:1 qt` } : {};
      const result = { beganAt, finishedAt: '', gatherings: `North slope tank ${n}`, ...from };
      last = (await recordOrThrow(book, 'boil', result)).id;
    }
    await recordOrThrow(book, 'pack', { fromLots: `${last}:2 qt`, jars: '8', packedAt: '2026-03-25T10:00' });
    const practised = done(await runMockRecall(book, writeContext()));
    expect(practised.trace.boils).toHaveLength(40);
    expect(practised.result).toMatch(
      /^by the records, 8 of 8 jars of .*: nobody counted the shelf; boils (\w+, ){23}\w+ and 16 more; sap .* and 16 more$/,
    );

    const begun = done(await beginMockRecall(book, writeContext()));
    const later = { now: new Date(writeContext().now.getTime() + 61_000) };
    const closed = done(await closeMockRecall(book, writeContext(later), begun.id, 7));
    expect([closed.milliseconds, closed.recorded.outcome]).toEqual([61_000, 'added']);
    expect(closed.result).toContain('7 of 8 jars');
    expect(closed.result).toContain('1 unaccounted for');
    expect(await verifyBook(book)).toMatchObject({ ok: true });
    await book.close();
  });
});
