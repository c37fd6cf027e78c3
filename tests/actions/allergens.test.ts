import { describe, expect, test } from '@jest/globals';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { correctEntry } from '#libs/actions/record/correct-entry.js';
import { record } from '#libs/actions/record/record.js';
import { engines } from '../support/engines.js';
import { writeContext, done, problemOf, recordOrThrow } from '../support/sugarhouse.js';
import { pack, seasonCopies } from '../support/season-copies.js';

describe.each(engines())('Allergens of defoamers on $name', (engine) => {
  const season = seasonCopies(engine);
  const { lot, stops, write, correct } = season;
  const allergens = async (code: string) => (await lot(code)).verdict?.allergens;
  /** A boil two days later, and a pack from it. */
  const next = async (but: Record<string, string> = {}): Promise<string> => {
    await write('gathering', {
      id: 'G002',
      gatheredAt: '2026-03-19T16:00',
      source: 'north',
      volume: '90 gal',
      by: 'OE',
    });
    const boil = {
      beganAt: '2026-03-20T07:00',
      finishedAt: '2026-03-20T17:00',
      gatherings: 'G002:90 gal',
      filterTemp: '190 F',
    };
    const { id } = await recordOrThrow(season.book, 'boil', { ...boil, syrupVolume: '2 gal', ...but });
    return (
      await recordOrThrow(season.book, 'pack', { fromLots: `${id}:2 qt`, jars: '8', packedAt: '2026-03-21T10:00' })
    ).id;
  };

  test('butter answered “none” holds; no reason releases it, only the answer milk does', async () => {
    await correct('boil', '26077A', { defoamer: 'butter', defoamerAllergens: 'none' });
    expect([(await lot()).state, await stops()]).toEqual(['held', ['allergen-contradiction']]);
    expect(problemOf(await releaseLot(season.book, writeContext(), pack, 'only a little')).kind).toBe('refused');
    done(
      await record(season.book, writeContext(), kindByName.get('action')!, {
        lot: pack,
        found: 'butter',
        done: 'read it',
        defoamerAllergens: 'milk',
      }),
    );
    expect([await stops(), await allergens(pack)]).toEqual([[], ['milk']]);
    done(await releaseLot(season.book, writeContext(), pack, 'new labels printed'));
    expect((await lot()).state).toBe('released');
  });

  test('peanut oil with “N/A” holds, sunflower oil with “N/A” does not', async () => {
    expect(await stops(await next({ defoamer: 'sunflower oil', defoamerAllergens: 'N/A' }))).toEqual([]);
    await correct('boil', '26077A', { defoamer: 'peanut oil', defoamerAllergens: 'N/A' });
    expect(await stops()).toEqual(['allergen-contradiction']);
  });

  test('butter named only in the log of the boil raises the same question', async () => {
    await write('line', { lot: '26077A', at: '2026-03-18T12:00', what: 'defoamer', note: 'butter, out of oil' });
    await correct('boil', '26077A', { note: 'looked at again' });
    expect(await stops()).toEqual(['defoamer-allergens']);
  });

  test('an earlier answer for the same bottle is offered for the next boil, and opens nothing until it is confirmed', async () => {
    await write('supply', { what: 'Foamaway', supplier: 'Dunmore Hardware', allergens: 'soy' });
    const id = await next({ defoamer: 'foamaway' });
    expect(await stops(id)).toEqual(['defoamer-allergens']);
    expect((await lot(id)).verdict?.findings[0]?.wayOut).toContain('the answer was “soy”');
    await write('boil', { defoamerAllergens: 'soy' }, { of: '26079A', add: true });
    expect([(await lot(id)).state, await allergens(id)]).toEqual(['open', ['soy']]);
  });

  test('unwashed pans carry milk into the next boil; washed ones don’t', async () => {
    await correct('boil', '26077A', { defoamer: 'butter', defoamerAllergens: 'milk' });
    const id = await next();
    expect([await stops(id), await allergens(id)]).toEqual([[], ['milk']]);
    await write('cleaning', { at: '2026-03-19T20:00', what: 'filter tank', with: 'hot water' });
    await correct('pack', id, { note: 'again' });
    expect(await allergens(id)).toEqual(['milk']);
    await write('cleaning', { at: '2026-03-19T21:00', what: 'both pans', with: 'hot water', rinsed: 'three times' });
    await correct('pack', id, { note: 'and again' });
    expect(await allergens(id)).toEqual([]);
  });

  test('syrup left in the pans carries its answer into the next boil, washed pans or not', async () => {
    await correct('boil', '26077A', { defoamer: 'butter', defoamerAllergens: 'milk' });
    await write('cleaning', { at: '2026-03-19T21:00', what: 'both pans', with: 'hot water', rinsed: 'three times' });
    const id = await next({ carriedFrom: '26077A:1 qt' });
    expect(await allergens(id)).toEqual(['milk']);
  });

  test('bought syrup needs an answer, bought sap does not; after a corrected answer the lot waits for a release', async () => {
    await recordOrThrow(season.book, 'receipt', { id: 'R003', allergens: '' });
    const blank = await recordOrThrow(season.book, 'pack', {
      fromLots: 'R003:2 qt',
      jars: '8',
      packedAt: '2026-03-21T09:00',
    });
    expect([await stops(blank.id), (await lot(blank.id)).state]).toEqual([['bought-syrup-allergens'], 'held']);
    await write('receipt', { allergens: 'none' }, { of: 'R003', add: true });
    expect([await stops(blank.id), (await lot(blank.id)).state]).toEqual([[], 'open']);
    await recordOrThrow(season.book, 'receipt', { allergens: 'not sure' });
    const { id } = await recordOrThrow(season.book, 'pack', {
      fromLots: 'R001:2 qt',
      jars: '8',
      packedAt: '2026-03-21T10:00',
    });
    expect(await stops(id)).toEqual(['defoamer-allergens']);
    done(await correctEntry(season.book, writeContext(), 'R001', 'asked them', { allergens: 'none' }));
    expect([await stops(id), (await lot(id)).state]).toEqual([[], 'held']);
    await recordOrThrow(season.book, 'receipt', { id: 'R002', density: '2 Bx', volume: '160 gal', allergens: '' });
    expect(await stops(await next({ gatherings: 'R002:160 gal' }))).toEqual([]);
  });
});
