import { beforeEach, describe, expect, test } from '@jest/globals';
import { engines } from '../support/engines.js';
import { recallSuite, hiddenFieldsIn } from '../support/recall-suite.js';
import { signedIn } from '../support/server.js';

/** What one boil leaves for the next, and records of the year before. */
describe.each(engines())('on $name', (engine) => {
  const here = recallSuite(engine);
  const first = '26077A';

  const correctBoil = async (fields: Record<string, string>) => {
    const url = `/records/boil/${first}/correct`;
    const hidden = hiddenFieldsIn((await here.open(url)).body);
    const answer = await here.send(url, { ...hidden, ...fields, why: 'read the bottle again' });
    expect(answer.statusCode).toBe(303);
  };
  const lines = async (year: number) =>
    (await here.open(`/api/seasons/${year}/summary.json`)).json<{ lots: { lot: string; allergens: string }[] }>().lots;
  const allergens = async (lot: string, year = 2026) => (await lines(year)).find((each) => each.lot === lot)?.allergens;
  const side = async (plural: string, fields: Record<string, string>) => {
    const url = `/supporting-records/${plural}/new`;
    const answer = await here.send(url, { ...hiddenFieldsIn((await here.open(url)).body), ...fields });
    expect(answer.statusCode).toBe(303);
  };
  const stops = async (lot: string): Promise<string[]> =>
    (await here.open(`/api/lots/${lot}`))
      .json<{ findings: { rule: string; stop: boolean }[] }>()
      .findings.filter(({ stop }) => stop)
      .map(({ rule }) => rule);

  test('butter recorded later for a boil is a finding on packs from later boils in the same pans', async () => {
    const later = await here.aPack(here.boil);
    await correctBoil({ defoamer: 'none', defoamerAllergens: 'none' });
    expect(await allergens(later)).not.toContain('milk');
    await correctBoil({ defoamer: 'butter', defoamerAllergens: 'milk' });
    expect(await allergens(later)).toContain('milk');
    await correctBoil({ defoamer: 'none', defoamerAllergens: 'none' });
    expect(await allergens(later)).not.toContain('milk');
  });

  test('butter answered “none” is a finding on them too, since butter implies milk', async () => {
    const later = await here.aPack(here.boil);
    await correctBoil({ defoamer: 'butter', defoamerAllergens: 'none' });
    expect(await allergens(later)).toContain('milk');
    await side('cleanings', { what: 'all pans', with: 'hot water', wasRinsed: 'yes', at: '2026-03-18T22:00' });
    expect(await allergens(later)).not.toContain('milk');
  });

  describe('around New Year', () => {
    let ours = 0;
    beforeEach(async () => {
      here.at.clock.now = new Date('2027-01-20T16:00:00Z');
      here.cookies['WE'] = await signedIn(here.at, 'WE', 'steam over the roof of WE');
    });
    /** A boil on the second of January and a pack of it. */
    const inJanuary = async (at = '2027-01-02T08:00'): Promise<{ boil: string; pack: string }> => {
      const sap = `G9${++ours}`;
      const gathered = { gatheredAt: at.replace(/T.*/, 'T06:00'), source: 'upper lines', volume: '60 gal', by: 'JP' };
      await here.write('gatherings', { ...gathered, id: sap });
      const boiled = { gatherings: [`${sap}:60 gal`], filterTemp: '190 F', filterMedium: 'wool', defoamer: 'none' };
      const boil = await here.write('boils', { ...boiled, beganAt: at, syrupVolume: '1.5 gal', by: 'WE' });
      return { boil, pack: await here.aPack(boil, { packedAt: '2027-01-03T10:00' }) };
    };

    test('a tank not rinsed in December holds the January boil, whichever is recorded first, until a rinse is recorded', async () => {
      const tank = { what: 'the head tank', with: 'vinegar' };
      const before = await inJanuary();
      expect(await stops(before.pack)).toEqual([]);
      await side('cleanings', { ...tank, wasRinsed: 'no', at: '2026-12-29T18:00' });
      expect([await stops(before.boil), await stops(before.pack)]).toEqual([
        ['equipment-question'],
        ['equipment-question'],
      ]);
      const after = await inJanuary();
      expect(await stops(after.pack)).toEqual(['equipment-question']);
      await side('cleanings', { ...tank, wasRinsed: 'yes', rinsed: 'hot water', at: '2026-12-31T18:00' });
      expect([await stops(before.pack), await stops(after.pack)]).toEqual([[], []]);
    });

    test('E. coli in December holds January’s boil until a good test; a January test holds nothing of December', async () => {
      const december = await inJanuary('2026-12-18T08:00');
      const { pack } = await inJanuary();
      await side('water-tests', {
        source: 'the spring',
        bacteria: 'e-coli',
        result: 'E. coli',
        at: '2026-12-20T09:00',
      });
      expect(await stops(pack)).toEqual(['equipment-question']);
      await side('water-tests', { source: 'the spring', bacteria: 'none', result: 'none', at: '2027-01-01T09:00' });
      expect(await stops(pack)).toEqual([]);
      await side('water-tests', { source: 'the spring', bacteria: 'e-coli', result: 'again', at: '2027-01-05T09:00' });
      expect([await stops(pack), await stops(december.pack)]).toEqual([[], []]);
    });

    test('milk left in the pans in December is in January’s syrup', async () => {
      await side('cleanings', { what: 'all pans', with: 'hot water', wasRinsed: 'yes', at: '2026-12-01T18:00' });
      const gathered = { gatheredAt: '2026-12-29T16:00', source: 'upper lines', volume: '60 gal', by: 'JP' };
      await here.write('gatherings', { ...gathered, id: 'G990' });
      const buttered = {
        gatherings: ['G990:60 gal'],
        defoamer: 'butter',
        defoamerAllergens: 'milk',
        syrupVolume: '1 gal',
      };
      await here.write('boils', { ...buttered, beganAt: '2026-12-30T08:00', filterTemp: '190 F', by: 'WE' });
      const { pack } = await inJanuary();
      expect(await allergens(pack, 2027)).toContain('milk');
      await side('cleanings', { what: 'all pans', with: 'hot water', wasRinsed: 'yes', at: '2026-12-31T18:00' });
      expect(await allergens(pack, 2027)).not.toContain('milk');
    });
  });
});
