import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { readHead } from '#libs/store/log/log.js';
import { engines } from '../support/engines.js';
import { problemOf, write, recordOrThrow } from '../support/sugarhouse.js';

describe.each(engines())('The clock of a book on $name', (engine) => {
  beforeAll(() => engine.start());
  afterAll(() => engine.stop());
  const at = (now: string): { now: Date } => ({ now: new Date(now) });

  test('may be set back a little, but not before the last entry, unless somebody confirms it', async () => {
    const book = await engine.freshBook();
    // A server whose clock starts in 2020 writes the first entry of a new book: there is nothing to compare it with.
    await recordOrThrow(book, 'gathering', { id: 'G1', gatheredAt: '2019-12-31T18:00' }, at('2020-01-01T00:10:00Z'));
    await recordOrThrow(book, 'gathering', { id: 'G2' }, at('2026-04-01T12:00:00Z'));
    await recordOrThrow(book, 'gathering', { id: 'G3' }, at('2026-04-01T11:56:00Z'));
    const back = await write(
      book,
      'gathering',
      { id: 'G4', gatheredAt: '2019-12-31T18:00' },
      at('2020-01-01T00:20:00Z'),
    );
    expect(problemOf(back)).toMatchObject({
      kind: 'refused',
      text: expect.stringMatching(/clock says 2020-01-01T00:20 UTC.*the last entry was written 2026-04-01T07:56/),
    });
    expect((await readHead(book.read)).entries).toBe(3);
    expect(
      await recordOrThrow(
        book,
        'gathering',
        { id: 'G4', gatheredAt: '2019-12-31T18:00' },
        { ...at('2020-01-01T00:20:00Z'), clockIsRight: true },
      ),
    ).toMatchObject({ entry: 4 });
    await recordOrThrow(book, 'gathering', { id: 'G5', gatheredAt: '2019-12-31T18:00' }, at('2020-01-01T00:21:00Z'));
  });

  test('is refused where it is far ahead, and accepted once somebody confirms it', async () => {
    const book = await engine.freshBook();
    const first = await write(book, 'gathering', { id: 'G1' }, at('2150-03-01T00:00:00Z'));
    expect(problemOf(first).text).toMatch(/clock says 2150-03-01T00:00 UTC.*book: --clock-is-right/);
    await recordOrThrow(book, 'gathering', { id: 'G1' }, at('2026-04-01T12:00:00Z'));
    const later = await write(book, 'gathering', { id: 'G2' }, at('2044-04-01T12:00:00Z'));
    expect(problemOf(later).text).toMatch(/more than 10 years after the last entry.*--clock-is-right/);
    expect((await readHead(book.read)).entries).toBe(1);
    await recordOrThrow(book, 'gathering', { id: 'G2' }, at('2034-04-01T12:00:00Z'));
    await recordOrThrow(book, 'gathering', { id: 'G3' }, { ...at('2050-04-01T12:00:00Z'), clockIsRight: true });
  });
});
