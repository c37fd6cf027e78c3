import { describe, expect, test } from '@jest/globals';
import { holdLot } from '#libs/actions/lots/hold-lot.js';
import { recallLot } from '#libs/actions/lots/recall-lots.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import { jarsOfPack } from '#libs/store/queries/lots.js';
import { engines } from '../support/engines.js';
import { writeContext, done, problemOf, write, recordOrThrow } from '../support/sugarhouse.js';
import { pack, seasonCopies } from '../support/season-copies.js';

describe.each(engines())('At the edge of what may go out on $name', (engine) => {
  const season = seasonCopies(engine);
  const code = async (n: number): Promise<string> => {
    for await (const jar of jarsOfPack(season.reader(), pack, n, n)) return jar.code;
    throw new Error(`no jar ${n}`);
  };
  const ruleOf = (answer: object): string => {
    const { problem } = answer as Refusal;
    return problem.kind === 'refused' ? problem.rule : `not refused: ${problemOf(answer).text}`;
  };
  /** Of 48 jars, 9 to 16 too cold. */
  const partlyHeld = () =>
    recordOrThrow(
      season.book,
      'pack',
      { lot: pack, fillTemps: '188 F#T1 jars 1-8;176 F#T1 jars 9-16;186 F#T1 jars 17-48' },
      {},
      { why: 'read from the sheet' },
    );
  const sell = (but: Record<string, string>, why?: string) =>
    write(season.book, 'dispatch', but, {}, why === undefined ? {} : { why });

  test('one held jar by its code is refused, the one before and the one after it are not', async () => {
    await partlyHeld();
    for (const n of [9, 16]) expect(ruleOf(await sell({ jars: await code(n) }))).toBe('fill-temperature');
    for (const n of [8, 17]) await recordOrThrow(season.book, 'dispatch', { jars: await code(n) });
  });

  test('a recall of a partly held pack holds its free jars too', async () => {
    await partlyHeld();
    done(await recallLot(season.book, writeContext(), pack, 'a jar came back swollen'));
    expect(ruleOf(await sell({ jars: await code(17) }))).toBe('recalled');
    expect(ruleOf(await sell({ jars: '1' }))).toBe('recalled');
  });

  test('a hold by hand is reported as such', async () => {
    done(await holdLot(season.book, writeContext(), pack, 'a lid that did not sit'));
    expect(ruleOf(await sell({ jars: '1' }))).toBe('held');
  });

  test('all free jars of a partly held pack can be sent by count and not one more, those of a corrected dispatch among them', async () => {
    await partlyHeld();
    const { id } = await recordOrThrow(season.book, 'dispatch', { jars: '30' });
    expect(problemOf(await sell({ jars: '11' })).text).toContain('10 jars on hand may leave, 11 are too many');
    const corrected = (jars: string) => sell({ id, jars }, 'counted again');
    expect(problemOf(await corrected('41')).text).toContain('40 jars on hand may leave, 41 are too many');
    expect(problemOf(await corrected('39')).kind).toBe('none');
    expect(problemOf(await sell({ jars: '2' })).text).toContain('1 jar on hand may leave, 2 are too many');
    await recordOrThrow(season.book, 'dispatch', { jars: '1' });
  });

  test('jars that came back by count are not sold again by count before they are inspected', async () => {
    const { id } = await recordOrThrow(season.book, 'dispatch', { jars: '40' });
    await recordOrThrow(season.book, 'dispatch', { jars: '5', kind: 'returned', sentAt: '2026-04-20T09:00' });
    const later = { sentAt: '2026-04-22T09:00' };
    const over = await sell({ jars: '9', ...later });
    expect(ruleOf(over)).toBe('returned');
    expect(problemOf(over).text).toContain('has 8 jars on hand; returned and set apart: 5');
    expect(problemOf(await sell({ id, jars: '49' }, 'counted again')).kind).toBe('refused');
    expect(problemOf(await sell({ id, jars: '47' }, 'counted again')).kind).toBe('none');
    expect(problemOf(await sell({ jars: '2', ...later })).text).toContain(
      'has 1 jar on hand; returned and set apart: 5',
    );
    await recordOrThrow(season.book, 'dispatch', { jars: '1', ...later });
    // A jar that never came back can go by its code, though by the count none is left.
    await recordOrThrow(season.book, 'dispatch', { jars: await code(5), ...later });
  });

  test('more jars than the book has is a fact that is recorded, if none are held or returned', async () => {
    expect(problemOf(await sell({ jars: '60' })).kind).toBe('none');
  });
});
