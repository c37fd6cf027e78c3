import { describe, expect, test } from '@jest/globals';
import { boil, found, judged, limitOf, placeOf, spoke, temperature } from '../support/pack-facts.js';

describe('the boils upstream', () => {
  test('a defoamer needs an answer about allergens; the finding names the boil', () => {
    const stop = { boils: [boil(), boil({ lot: '26078B', defoamer: 'butter' })] };
    expect(found('defoamer-allergens', stop).found).toBe('boil 26078B: defoamer butter, allergens not recorded');
    expect(spoke({ boils: [boil({ defoamer: 'safflower oil', defoamerAllergens: 'none' })] })).toEqual([]);
    expect(spoke({ boils: [boil({ defoamer: 'oil', defoamerAllergens: 'unknown' })] })).toEqual([
      'defoamer-allergens!',
    ]);
    expect(spoke({ boils: [boil({ defoamer: '' })] })).toEqual(['defoamer-not-recorded']);
    expect(spoke({ boils: [boil({ defoamer: 'none' })] })).toEqual([]);
    const answered = [
      boil({ defoamer: 'butter', defoamerAllergens: 'milk' }),
      boil({ defoamer: 'mix', defoamerAllergens: 'Milk; nuts' }),
      boil({ defoamer: 'oil', defoamerAllergens: 'no' }),
    ];
    expect(judged({ boils: answered })).toMatchObject({ findings: [], allergens: ['Milk', 'nuts'] });
  });

  test('filtering needs 180 °F or 82 °C, judged in the reading’s unit, by the coldest reading', () => {
    const filtered = (...readings: string[]) => ({
      boils: [boil({ filters: readings.map((reading) => ({ temperature: temperature(reading), medium: 'felt' })) })],
    });
    expect(spoke(filtered('180 F'))).toEqual([]);
    expect(spoke(filtered('82 C'))).toEqual([]);
    expect(spoke(filtered('81.9 C'))).toEqual(['filter-temperature']);
    expect(found('filter-temperature', filtered('190 F', '179.5 F', '178 F'))).toMatchObject({
      limit: 'filtered at 180 °F or more',
      found: 'boil 26077A: filtered at 178 °F',
    });
    expect(found('filter-temperature', { boils: [boil({ filters: [{ medium: 'felt' }] })] }).found).toBe(
      'boil 26077A: filter temperature not read',
    );
  });

  test('a rest under 12 h is an advisory, only if both times are known', () => {
    const until = (hours: number) => ({
      boils: [boil({ restedUntilMs: Date.UTC(2026, 2, 19, 0) + hours * 3_600_000 })],
    });
    expect(spoke(until(12))).toEqual([]);
    expect(found('short-rest', until(11)).found).toBe('boil 26077A: rested 11 h');
    expect(found('short-rest', until(11.99)).found).toBe('boil 26077A: rested 11 h 59 min');
    expect(spoke({ boils: [boil({ restedUntilMs: undefined })] })).toEqual([]);
  });

  test('more drawn than there was is an advisory that says how much', () => {
    const drawn = (gallons: number) => ({ boils: [boil({ drawnInAllMl: gallons * 3785.411784 })] });
    expect(spoke(drawn(5))).toEqual([]);
    expect(found('drawn-more-than-there', drawn(5.2)).found).toBe(
      '5.2 gal drawn from 26077A, 0.2 gal more than was there',
    );
    const canada = placeOf({ minimum: limitOf(66, 35.6), canada: true });
    expect(found('drawn-more-than-there', { ...drawn(6), place: canada }).found).toBe(
      '22.71 L drawn from 26077A, 3.79 L more than was there',
    );
    expect(spoke({ boils: [boil({ syrupMl: undefined, drawnInAllMl: 1e6 })] })).toEqual([]);
  });
});
