import { describe, expect, test } from '@jest/globals';
import { hotFill, syrupHeatCapacity } from '#libs/syrup/science/hot-fill.js';
import { shrink, syrupWeight } from '#libs/syrup/science/net-contents.js';
import { celsiusOf, fahrenheitOf } from '#libs/syrup/quantities/quantities.js';
import { millilitresIn } from '#libs/syrup/quantities/units.js';
import { revisedJonesRule, ruleOf86, syrupYield } from '#libs/syrup/science/syrup-yield.js';

/** Calculated: percent of the hot volume lost from the fill temperature to 68 °F; each value to its last digit. */
const shrinks = [
  { fahrenheit: 180, percent: 2.77 },
  { fahrenheit: 185, percent: 2.9 },
  { fahrenheit: 190, percent: 3.04 },
  { fahrenheit: 200, percent: 3.32 },
];
/** Calculated: mass, and what a scale in air shows. */
const weights = [
  { label: '8 fl oz', millilitres: 8 * millilitresIn['fl oz'], brix: 66.0, grams: 312.9, gramsInAir: 312.7 },
  { label: '500 mL', millilitres: 500, brix: 66.9, grams: 664.1, gramsInAir: 663.6 },
  { label: '32 fl oz', millilitres: 32 * millilitresIn['fl oz'], brix: 66.9, grams: 1256.9, gramsInAir: 1256.0 },
];
/** Calculated: volumes of sap of this sugar content for one of syrup. */
const yields = [
  { sap: 1, syrup: 66, ratio: 87.12 },
  { sap: 2, syrup: 66, ratio: 43.39 },
  { sap: 3, syrup: 66, ratio: 28.81 },
  { sap: 4, syrup: 66, ratio: 21.53 },
  { sap: 2, syrup: 66.9, ratio: 44.16 },
];

describe('net contents', () => {
  test.each(shrinks)('hot syrup of $fahrenheit °F shrinks by $percent %', ({ fahrenheit, percent }) => {
    expect(Math.abs(shrink(66.0, celsiusOf(fahrenheit), 20).percent - percent)).toBeLessThan(0.006);
  });
  test('at 180 °F 1.0284 volumes of hot syrup are one cold', () => {
    expect(shrink(66.9, celsiusOf(180), 20).hotVolumePerCold).toBeCloseTo(1.0284, 4);
  });
  test.each(weights)(
    '$label of $brix °Bx weighs $grams g, $gramsInAir g in air',
    ({ millilitres, brix, grams, gramsInAir }) => {
      const weight = syrupWeight(millilitres, brix);
      expect(weight.grams).toBeCloseTo(grams, 1);
      expect(weight.gramsInAir).toBeCloseTo(gramsInAir, 1);
    },
  );
  test('a US gallon in air is 11.030 lb at 66.0 °Bx and 11.076 lb at 66.9', () => {
    expect(syrupWeight(millilitresIn.gal, 66).poundsInAir).toBeCloseTo(11.03, 3);
    expect(syrupWeight(millilitresIn.gal, 66.9).poundsInAir).toBeCloseTo(11.076, 3);
  });
});

describe('the half-pint jar', () => {
  const jar = (grams: number, syrupF: number, jarF: number) =>
    hotFill({
      brix: 66.9,
      syrupCelsius: celsiusOf(syrupF),
      syrupMillilitres: 8 * millilitresIn['fl oz'],
      jarGrams: grams,
      jarCelsius: celsiusOf(jarF),
      material: 'glass',
      leastCelsius: celsiusOf(180),
    });
  test.each([180, 190, 200])('of %i g at 68 °F cools 185 °F syrup to 165–167 °F', (grams) => {
    const fahrenheit = fahrenheitOf(jar(grams, 185, 68).mixedCelsius);
    expect(Math.round(fahrenheit)).toBeGreaterThanOrEqual(165);
    expect(Math.round(fahrenheit)).toBeLessThanOrEqual(167);
    expect(jar(grams, 185, 68).passes).toBe(false);
  });
  test('needs syrup of 201–203 °F if cold, or a jar of about 130 °F with syrup of 190 °F', () => {
    const needed = fahrenheitOf(jar(190, 185, 68).syrupNeededCelsius);
    expect(needed).toBeGreaterThan(201);
    expect(needed).toBeLessThan(203);
    expect(fahrenheitOf(jar(190, 190, 68).coldestJarCelsius!)).toBeCloseTo(130, 0);
  });
  test('with the syrup temperature it requires ends exactly at 180 °F', () => {
    const needed = fahrenheitOf(jar(190, 185, 68).syrupNeededCelsius);
    const there = jar(190, needed, 68);
    expect(fahrenheitOf(there.mixedCelsius)).toBeCloseTo(180, 6);
    expect(there.passes).toBe(true);
  });
  test('is calculated with a heat capacity on the safe side, 2.63 kJ/(kg·K), and gives the highest temperature too', () => {
    expect(syrupHeatCapacity(66.9, 25)).toBeCloseTo(2629.5, 0);
    const { mixedCelsius, mixedAtMostCelsius } = jar(190, 185, 68);
    expect((mixedAtMostCelsius - mixedCelsius) * 1.8).toBeGreaterThan(1);
    expect((mixedAtMostCelsius - mixedCelsius) * 1.8).toBeLessThan(2.5);
  });
});

describe('yield', () => {
  test.each(yields)('sap of $sap °Bx: $ratio to one of $syrup °Bx', ({ sap, syrup, ratio }) => {
    expect(Math.abs(syrupYield(1000, sap, syrup).sapPerSyrup - ratio)).toBeLessThan(0.006);
  });
  test('the rules of thumb agree with it', () => {
    expect(ruleOf86(2)).toBe(43);
    expect(revisedJonesRule(2)).toBeCloseTo(43.23, 2);
    for (const sap of [1, 2, 3, 4])
      expect(Math.abs(revisedJonesRule(sap) / syrupYield(1, sap, 66).sapPerSyrup - 1)).toBeLessThan(0.01);
  });
});
