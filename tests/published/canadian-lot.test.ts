import { describe, expect, test } from '@jest/globals';
import {
  canadianLot,
  correction,
  failingCount,
  leastSample,
  toleranceMl,
  calculatedCorrection,
} from '#libs/syrup/science/canadian-lot.js';

/** Safe Food for Canadians Regulations, Schedules 4 and 5, as amended 2025-09-19 (read). */
describe('the Canadian schedules', () => {
  test.each([
    [50, 4.5],
    [100, 4.5],
    [125, 5.625],
    [200, 9],
    [250, 9],
    [375, 11.25],
    [500, 15],
    [540, 15],
    [750, 15],
    [1000, 15],
    [2000, 30],
    [4000, 60],
    [12_000, 150],
    [20_000, 200],
  ])('a jar of %p mL may be %p mL short', (label, short) => {
    expect(toleranceMl(label)).toBeCloseTo(short, 9);
  });

  test.each([
    [2, 2],
    [10, 10],
    [11, 10],
    [40, 10],
    [41, 11],
    [100, 25],
    [128, 32],
    [129, 32],
    [4000, 32],
    [4001, 64],
    [12_001, 125],
  ])('of %p jars, at least %p are weighed', (lot, jars) => {
    expect(leastSample(lot)).toBe(jars);
  });

  test('the correction matches the printed column', () => {
    const printed = [
      ...[2, 45.01, 3, 5.73, 4, 2.92, 5, 2.06, 6, 1.65, 7, 1.4, 8, 1.24, 9, 1.12, 10, 1.03, 11, 0.955, 12, 0.897],
      ...[13, 0.847, 14, 0.805, 15, 0.769, 16, 0.737, 20, 0.64, 24, 0.573, 25, 0.559, 30, 0.503, 32, 0.485],
      ...[64, 0.332, 96, 0.269, 125, 0.234],
    ];
    for (let i = 0; i < printed.length; i += 2) {
      const [n, factor] = [printed[i]!, printed[i + 1]!];
      expect(correction(n)).toBe(factor);
      expect({ n, near: Math.abs(calculatedCorrection(n) - factor) <= (n <= 10 ? 0.005 : 0.001) }).toEqual({
        n,
        near: true,
      });
    }
    // Between the printed sizes it decreases from one to the next.
    for (let n = 17; n < 125; n++) expect(calculatedCorrection(n)).toBeLessThan(calculatedCorrection(n - 1));
  });

  test.each([
    [8, 1],
    [9, 2],
    [20, 2],
    [21, 3],
    [32, 3],
    [50, 4],
    [65, 5],
    [80, 6],
    [102, 7],
    [125, 8],
    [126, undefined],
  ])('of a sample of %p, %p short jars fail it', (sample, jars) => {
    expect(failingCount(sample)).toBe(jars);
  });

  test('a lot fails by its average, by its short jars, or by two that are very short, and otherwise meets its label', () => {
    const ten = (...changed: number[]) => [...changed, ...Array.from({ length: 10 - changed.length }, () => 502)];
    expect(canadianLot(ten(), 500).failures).toEqual([]);
    expect(
      canadianLot(
        Array.from({ length: 10 }, (_, i) => 498 + (i % 2) * 0.1),
        500,
      ).failures,
    ).toEqual(['average']);
    expect(canadianLot(ten(484), 500)).toMatchObject({ shortByMore: 1, failsAt: 2, failures: [] });
    expect(canadianLot(ten(484, 484.9), 500).failures).toEqual(['tolerance']);
    expect(canadianLot(ten(469, 469), 500).failures).toEqual(['tolerance', 'twice']);
    // Exactly at the tolerance is not short by more than it.
    expect(canadianLot(ten(485, 485), 500).shortByMore).toBe(0);
    // The spread of the sample lifts its average: s·t/√n.
    expect(canadianLot([499, 500.5, 499.5, 500], 500).failures).toEqual([]);
  });
});
