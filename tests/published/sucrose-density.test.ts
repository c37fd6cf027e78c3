import { describe, expect, test } from '@jest/globals';
import { baume, brixFromBaume, trueBrix } from '#libs/syrup/science/corrected.js';
import { syrupWeight } from '#libs/syrup/science/net-contents.js';
import { celsiusOf } from '#libs/syrup/quantities/quantities.js';
import { sucroseDensity, waterDensity } from '#libs/syrup/science/sucrose.js';

/** CRC Handbook of Chemistry and Physics, sucrose, concentrative properties at 20 °C, kg/m³. */
const crcHandbook = [
  { brix: 0, kgPerM3: 998.2 },
  { brix: 10, kgPerM3: 1038.1 },
  { brix: 20, kgPerM3: 1081.0 },
  { brix: 40, kgPerM3: 1176.5 },
  { brix: 60, kgPerM3: 1286.4 },
  { brix: 66, kgPerM3: 1322.4 },
  { brix: 70, kgPerM3: 1347.2 },
];

/** NBS Circular C440 (1942): pounds per US gallon in air at 20 °C. */
const nbsCircular440 = [
  { brix: 0, poundsPerGallon: 8.322 },
  { brix: 2, poundsPerGallon: 8.387 },
  { brix: 5, poundsPerGallon: 8.486 },
];

/** Calculated from the formula of the Sugar Technologists Manual (Bartens 1995, p. 164), hot, kg/m³. */
const hotSyrup = [
  { brix: 66.0, celsius: 82.2, kgPerM3: 1286.1 },
  { brix: 66.0, celsius: 85, kgPerM3: 1284.3 },
  { brix: 66.0, celsius: 100, kgPerM3: 1274.3 },
  { brix: 66.9, celsius: 15.56, kgPerM3: 1330.4 },
  { brix: 66.9, celsius: 60, kgPerM3: 1305.7 },
  { brix: 66.9, celsius: 85, kgPerM3: 1289.7 },
];

/** Published fixed equivalents of the trade, modulus 145 (second hand). */
const baumePairs = [
  { brix: 66.0, baume: 35.6 },
  { brix: 66.9, baume: 36.0 },
  { brix: 68.9, baume: 37.0 },
];

describe('sucrose density', () => {
  test.each(crcHandbook)('agrees with the CRC Handbook within 0.4 at $brix °Bx', ({ brix, kgPerM3 }) => {
    expect(Math.abs(sucroseDensity(brix, 20) - kgPerM3)).toBeLessThan(0.4);
  });
  test.each(nbsCircular440)('weighs what NBS Circular C440 says at $brix °Bx', ({ brix, poundsPerGallon }) => {
    expect(syrupWeight(3785.411784, brix).poundsInAir).toBeCloseTo(poundsPerGallon, 2);
  });
  test.each(hotSyrup)('is right hot: $brix °Bx at $celsius °C', ({ brix, celsius, kgPerM3 }) => {
    expect(sucroseDensity(brix, celsius)).toBeCloseTo(kgPerM3, 1);
  });
  test('is water at 0 °Bx: 999.97 at 4 °C, 958.4 at 100 °C (CRC Handbook, from memory)', () => {
    expect(waterDensity(4)).toBeCloseTo(999.97, 1);
    expect(Math.abs(sucroseDensity(0, 100) - 958.4)).toBeLessThan(0.1);
  });
});

describe('Baumé', () => {
  test.each(baumePairs)('$brix °Bx is $baume °Bé as published', (pair) => {
    expect(Math.round(baume(pair.brix) * 10) / 10).toBe(pair.baume);
    expect(Math.abs(brixFromBaume(pair.baume) - pair.brix)).toBeLessThan(0.1);
  });
  test('the other choice of water, 60/60 °F, misses the published pairs and is not used', () => {
    const sixty = celsiusOf(60);
    const other = 145 - (145 * waterDensity(sixty)) / sucroseDensity(66.9, sixty);
    expect(Math.round(other * 10) / 10).toBe(36.1);
  });
  test('a specific gravity is 20/20 °C', () => {
    const sg = sucroseDensity(66, 20) / waterDensity(20);
    expect(trueBrix({ typed: `${sg} SG`, scale: 'SG', reading: sg })).toBeCloseTo(66, 9);
  });
});
