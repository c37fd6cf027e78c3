import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import type { SqlValue } from '#libs/store/connection/sql.js';
import { engines } from '../support/engines.js';

const columns = ['sugarhouse', 'into_lot', 'from_lot', 'kind', 'millilitres', 'typed', 'at_utc'];

describe.each(engines())('rows inserted together on $name', (engine) => {
  beforeAll(() => engine.start());
  afterAll(() => engine.stop());

  test('are stored as the same rows inserted one by one, whatever their texts and numbers', async () => {
    const book = await engine.freshBook();
    // PostgreSQL stores no NUL; half a pair of UTF-16 is replaced by both drivers.
    const letters = [
      'a',
      '1',
      '"',
      '\\',
      "'",
      '[',
      '{',
      '\n',
      '\u001f',
      'é',
      '\u2028',
      '\u{1f600}',
      '\\u0000',
      '\\ud800',
    ];
    const unit = fc.constantFrom(...letters, ...(engine.name === 'SQLite' ? ['\u0000', '\ud800'] : []));
    const text = fc.oneof(fc.string({ unit }), fc.constantFrom('', '007', '1e3', 'null', '[1]', '{"a":1}', '-0'));
    const number = fc.oneof(
      fc.integer(),
      fc.maxSafeInteger(),
      fc.double({ noNaN: true, noDefaultInfinity: true }),
      // SQLite reads the last two from their text as the number beside them.
      fc.constantFrom(0, 2 ** 53, 1e21, 378.5411784, 5045833.512439257, 0.897530939890335),
    );
    const lines = fc.array(fc.tuple(text, number), { minLength: 2, maxLength: 40 });
    let run = 0;
    await fc.assert(
      fc.asyncProperty(lines, async (cells) => {
        run++;
        const of = (house: string): SqlValue[][] =>
          cells.map(([typed, millilitres], n) => [house, `L${n}`, 'S', 'sap', millilitres, typed, '2026-03-01T00:00Z']);
        await book.writeHousehold((sql) => sql.insert('flow', columns, of(`together ${run}`)));
        await book.writeHousehold(async (sql) => {
          for (const line of of(`single ${run}`)) await sql.insert('flow', columns, [line]);
        });
        const stored = (house: string) =>
          book.read.rows`SELECT into_lot, from_lot, kind, millilitres, typed, at_utc FROM flow
            WHERE sugarhouse = ${house} ORDER BY into_lot`;
        const together = await stored(`together ${run}`);
        expect(together).toHaveLength(cells.length);
        expect(together).toEqual(await stored(`single ${run}`));
      }),
      { numRuns: 60 },
    );
  }, 60_000);

  test('replace those of the same key where the statement says so', async () => {
    const book = await engine.freshBook();
    const put = (words: string) =>
      book.writeHousehold((sql) =>
        sql.insert(
          'household_note',
          ['sugarhouse', 'name', 'words'],
          Array.from({ length: 1200 }, (_, n) => ['home', `note ${n}`, words]),
          'ON CONFLICT (sugarhouse, name) DO UPDATE SET words = excluded.words',
        ),
      );
    await put('one');
    await put('two');
    const [sum] = await book.read
      .rows`SELECT COUNT(*) AS n, MIN(words) AS least, MAX(words) AS most FROM household_note`;
    expect({ ...sum, n: Number(sum?.['n']) }).toEqual({ n: 1200, least: 'two', most: 'two' });
  });
});
