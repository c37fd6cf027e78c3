import { describe, expect, test } from '@jest/globals';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { explainState } from '#libs/actions/lots/explain-state.js';
import { loadJudgingContext } from '#libs/actions/judging/judge-now.js';
import { findLot } from '#libs/store/queries/lots.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { engines } from '../support/engines.js';
import { done, problemOf, recordOrThrow, writeContext } from '../support/sugarhouse.js';
import { pack, seasonCopies } from '../support/season-copies.js';

const consultation = {
  authority: 'Vermont Agency of Agriculture',
  askedAt: '2026-04-22',
  answer: 'only that pack',
  byOwner: true,
};

describe.each(engines())('Harm from one pack of a boil, on $name', (engine) => {
  const season = seasonCopies(engine);
  const { write } = season;
  const other = async (more: Record<string, string> = {}) =>
    (
      await recordOrThrow(season.book, 'pack', {
        fromLots: '26077A:1 qt',
        packedAt: '2026-03-19T13:00',
        jars: '4',
        ...more,
      })
    ).id;
  const holds = async (code: string) =>
    ((await findLot(season.reader(), code))?.verdict?.findings ?? []).filter(({ stop }) => stop);
  const state = async (code: string) => (await findLot(season.reader(), code))?.state;
  const ill = async (lot: string) => {
    await write('complaint', { id: 'CO9', lot, said: 'we both got sick from it' });
    return write('answer', { lot, answer: 'yes' });
  };

  test('holds the packs of the same boil, filled before or after it was confirmed, and names the complaint', async () => {
    const second = await other();
    expect(await state(second)).toBe('open');
    await ill(pack);
    expect(await holds(second)).toMatchObject([
      {
        rule: 'harm-in-same-syrup',
        found: `complaint CO9 about ${pack}, filled from the same syrup, says “sick”, answered as harm`,
        wayOut: expect.stringContaining(`recall it with ${pack}`),
      },
    ]);
    const later = await other({ packedAt: '2026-03-20T13:00' });
    expect([await state(second), await state(later)]).toEqual(['held', 'held']);
    expect(await holds(pack)).toMatchObject([{ rule: 'harm-reported' }]);
    expect(await verifyBook(season.book)).toMatchObject({ ok: true });
  });

  test('is released with the answer of an authority only, and holds again for another complaint', async () => {
    const second = await other();
    await ill(pack);
    expect(problemOf(await releaseLot(season.book, writeContext(), second, 'not from these')).text).toContain(
      'authority',
    );
    expect(await state(second)).toBe('held');
    done(await releaseLot(season.book, writeContext(), second, 'asked about both', consultation));
    expect(await state(second)).toBe('released');
    await write('complaint', { id: 'CO10', lot: pack, said: 'my daughter was ill all night' });
    await write('answer', { lot: pack, answer: 'yes' });
    expect(await holds(second)).toMatchObject([{ rule: 'harm-in-same-syrup', about: 'complaint/CO10' }]);
  });

  test('holds packs of another boil into which the same bought syrup went, and not those of the same bought sap', async () => {
    const bought = { supplier: 'Coldwater Sugarbush', contact: 'their yard', receivedAt: '2026-03-18T09:00', by: 'OE' };
    await write('receipt', { id: 'R8', ...bought, volume: '4 gal', density: '66 Bx', allergens: 'none' });
    await write('receipt', { id: 'R9', ...bought, volume: '80 gal', density: '2.2 Bx' });
    const boilOf = async (receipt: string, portion: string) =>
      (
        await recordOrThrow(season.book, 'boil', {
          beganAt: '2026-03-20T07:00',
          finishedAt: '2026-03-20T11:00',
          gatherings: `${receipt}:${portion}`,
          syrupVolume: '1 gal',
        })
      ).id;
    const packOf = (boil: string) => other({ fromLots: `${boil}:1 qt`, packedAt: '2026-03-21T13:00' });
    const [harmed, same] = [await packOf(await boilOf('R8', '2 gal')), await packOf(await boilOf('R8', '2 gal'))];
    const [sapOne, sapTwo] = [await packOf(await boilOf('R9', '40 gal')), await packOf(await boilOf('R9', '40 gal'))];
    await ill(harmed);
    const rules = async (code: string) => (await holds(code)).map(({ rule }) => rule);
    expect(await rules(same)).toContain('harm-in-same-syrup');
    await write('complaint', { id: 'CO11', lot: sapOne, said: 'it made us sick' });
    await write('answer', { lot: sapOne, answer: 'yes' });
    expect(await rules(sapOne)).toContain('harm-reported');
    expect(await rules(sapTwo)).not.toContain('harm-in-same-syrup');
  });

  test('an answer corrected to “no” clears it, and packs of another boil are not concerned', async () => {
    const second = await other();
    const answer = await ill(pack);
    expect(await state(second)).toBe('held');
    await season.correct('answer', answer, { answer: 'no' });
    expect(await holds(second)).toEqual([]);
  });

  test('what is recorded of it is shown where a lot’s state is explained', async () => {
    const second = await other();
    const line = async () => {
      const explained = done(await explainState(await loadJudgingContext(season.book.read, writeContext()), second));
      return explained.rules.find(({ rule }) => rule === 'harm-in-same-syrup');
    };
    expect(await line()).toMatchObject({
      state: 'not-recorded',
      notRecorded: ['a complaint about another pack of its syrup'],
    });
    await ill(pack);
    expect(await line()).toMatchObject({ state: 'holds' });
  });
});
