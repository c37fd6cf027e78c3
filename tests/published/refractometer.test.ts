import { describe, expect, test } from '@jest/globals';
import { correctDensity } from '#libs/syrup/science/density.js';
import { parseDensity, parseTemperature } from '#libs/syrup/quantities/quantities.js';
import { refractometerCorrection, refractometerRows } from '#libs/syrup/science/refractometer.js';

/** OIV-MA-AS2-02 Table I, °Bx to add, for readings of 10, 20 … 70 % (read). */
const oivTable = [
  { celsius: 10, add: [-0.59, -0.65, -0.69, -0.72, -0.74, -0.75, -0.75] },
  { celsius: 12, add: [-0.49, -0.53, -0.56, -0.58, -0.6, -0.61, -0.6] },
  { celsius: 15, add: [-0.32, -0.34, -0.36, -0.37, -0.38, -0.38, -0.38] },
  { celsius: 16, add: [-0.26, -0.28, -0.29, -0.3, -0.31, -0.31, -0.31] },
];
/** The span of that table and a second published one at 60–70 % (read). */
const spans = [
  { celsius: 10, from: -0.79, to: -0.75 },
  { celsius: 12, from: -0.63, to: -0.6 },
  { celsius: 15, from: -0.4, to: -0.38 },
  { celsius: 17, from: -0.24, to: -0.23 },
  { celsius: 21, from: 0.08, to: 0.08 },
];

const measure = (reading: string, at: string | undefined, by: 'refractometer' | 'refractometer-atc') =>
  correctDensity({
    reading: parseDensity(reading).value!,
    at: at === undefined ? undefined : parseTemperature(at).value!,
    by,
  });

describe('a refractometer', () => {
  test.each(oivTable)('is corrected as in the OIV table at $celsius °C', ({ celsius, add }) => {
    add.forEach((each, i) => expect(refractometerCorrection(10 * (i + 1), celsius)).toBeCloseTo(each, 9));
  });
  test.each(spans)('lies within the published span for syrup at $celsius °C', ({ celsius, from, to }) => {
    for (const brix of [60, 63.3, 66.9, 70]) {
      expect(refractometerCorrection(brix, celsius)).toBeGreaterThanOrEqual(from - 0.005);
      expect(refractometerCorrection(brix, celsius)).toBeLessThanOrEqual(to + 0.005);
    }
  });
  test('about 25 °C and 30 °C it adds 0.40 and 0.8 (from memory)', () => {
    expect(refractometerCorrection(66, 25)).toBeCloseTo(0.4, 2);
    expect(refractometerCorrection(66, 30)).toBeCloseTo(0.8, 1);
  });
  test('has a correction that is linear between rows, zero at 20 °C, and rises with temperature throughout', () => {
    expect(refractometerCorrection(66, 20)).toBe(0);
    expect(refractometerCorrection(66, 15.5)).toBeCloseTo((-0.38 - 0.31) / 2, 9);
    for (const brix of [0, 2, 33, 66, 84])
      for (let celsius = 10; celsius < 30; celsius += 0.25)
        expect(refractometerCorrection(brix, celsius + 0.25)).toBeGreaterThan(refractometerCorrection(brix, celsius));
  });
  test('has a table of 21 rows by 15, each with its provenance', () => {
    expect(refractometerRows.map((row) => row.celsius)).toEqual(Array.from({ length: 21 }, (_, i) => 10 + i));
    expect(refractometerRows.every((row) => row.hundredths.length === 15)).toBe(true);
    expect(refractometerRows.filter((row) => row.mark === 'memory').length).toBe(11);
  });
  test('with its own compensation is not corrected', () => {
    expect(measure('66.9 Bx', undefined, 'refractometer-atc')).toMatchObject({ brix: 66.9 });
    expect(measure('66.9 Bx', '28 C', 'refractometer-atc')).toMatchObject({ brix: 66.9 });
  });
  test('refuses a hot sample, a missing temperature and another scale, with the reason', () => {
    expect(measure('60 Bx', '180 F', 'refractometer').because).toContain('outside 10–30 °C');
    expect(measure('60 Bx', '180 F', 'refractometer-atc').because).toContain('Hot syrup in a hand refractometer');
    expect(measure('60 Bx', '9.9 C', 'refractometer').because).toContain('outside 10–30 °C');
    expect(measure('60 Bx', undefined, 'refractometer').because).toContain('without the temperature');
    expect(measure('36 Be', '20 C', 'refractometer').because).toContain('read in °Bx');
  });
});
