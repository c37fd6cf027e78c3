import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { blend, boilDown, gramsOf, thinWith } from '#libs/syrup/science/blending.js';
import { hotFill } from '#libs/syrup/science/hot-fill.js';
import { jarPlan } from '#libs/syrup/science/jar-plan.js';
import { shrink, syrupWeight, weighedJars } from '#libs/syrup/science/net-contents.js';
import { sucroseDensity } from '#libs/syrup/science/sucrose.js';
import { syrupYield } from '#libs/syrup/science/syrup-yield.js';

const portion = fc.record({
  millilitres: fc.double({ min: 1, max: 1e6, noNaN: true }),
  brix: fc.double({ min: 0, max: 80, noNaN: true }),
});
const sugarOf = (p: { millilitres: number; brix: number }): number => (gramsOf(p) * p.brix) / 100;

describe('a blend', () => {
  test('keeps the mass and sugar of its parts, and its density is between theirs', () => {
    fc.assert(
      fc.property(fc.array(portion, { minLength: 1, maxLength: 5 }), (portions) => {
        const mixed = blend(portions);
        const sum = (of: (p: (typeof portions)[number]) => number) => portions.reduce((total, p) => total + of(p), 0);
        expect(gramsOf(mixed) / sum(gramsOf)).toBeCloseTo(1, 9);
        expect(Math.abs(sugarOf(mixed) - sum(sugarOf))).toBeLessThan(1e-6 * (1 + sum(sugarOf)));
        expect(mixed.brix).toBeGreaterThanOrEqual(Math.min(...portions.map((p) => p.brix)) - 1e-9);
        expect(mixed.brix).toBeLessThanOrEqual(Math.max(...portions.map((p) => p.brix)) + 1e-9);
      }),
    );
  });
  test('of heavy syrup with the calculated amount reaches the target, with water or thin syrup', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 67, max: 75, noNaN: true }),
        fc.double({ min: 0, max: 60, noNaN: true }),
        (heavy, thin) => {
          const syrup = { millilitres: 5000, brix: heavy };
          expect(blend([syrup, thinWith(syrup, 66.9, thin)]).brix).toBeCloseTo(66.9, 8);
        },
      ),
    );
  });
  test('of nothing: thin syrup boiled down keeps its sugar and loses the calculated water', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 66, noNaN: true }), (thin) => {
        const syrup = { millilitres: 5000, brix: thin };
        const { waterGrams, left } = boilDown(syrup, 66.9);
        expect(sugarOf(left)).toBeCloseTo(sugarOf(syrup), 6);
        expect(gramsOf(left) + waterGrams).toBeCloseTo(gramsOf(syrup), 6);
      }),
    );
  });
});

describe('yield', () => {
  test('keeps the sugar, and the sap is syrup plus water', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 6, noNaN: true }),
        fc.double({ min: 60, max: 70, noNaN: true }),
        (sap, syrup) => {
          const made = syrupYield(100_000, sap, syrup);
          expect(sugarOf({ millilitres: made.syrupMillilitres, brix: syrup })).toBeCloseTo(
            sugarOf({ millilitres: 100_000, brix: sap }),
            5,
          );
          const syrupKg = (made.syrupMillilitres * sucroseDensity(syrup, 20)) / 1e6;
          expect(made.waterKilograms + syrupKg).toBeCloseTo((100_000 * sucroseDensity(sap, 20)) / 1e6, 8);
        },
      ),
    );
  });
});

describe('a hot fill', () => {
  const fill = fc.record({
    brix: fc.double({ min: 60, max: 70, noNaN: true }),
    syrupCelsius: fc.double({ min: 60, max: 100, noNaN: true }),
    syrupMillilitres: fc.double({ min: 30, max: 4000, noNaN: true }),
    jarGrams: fc.double({ min: 10, max: 1500, noNaN: true }),
    jarCelsius: fc.double({ min: 0, max: 90, noNaN: true }),
    material: fc.constantFrom('glass', 'metal', 'plastic') as fc.Arbitrary<'glass'>,
    leastCelsius: fc.constant(82),
  });
  test('ends between jar and syrup temperature, and passes exactly when the syrup has the required temperature', () => {
    fc.assert(
      fc.property(fill, (result) => {
        const answer = hotFill(result);
        expect(answer.mixedCelsius).toBeGreaterThanOrEqual(Math.min(result.jarCelsius, result.syrupCelsius) - 1e-9);
        expect(answer.mixedCelsius).toBeLessThanOrEqual(Math.max(result.jarCelsius, result.syrupCelsius) + 1e-9);
        fc.pre(answer.syrupNeededCelsius < 104 && Math.abs(answer.syrupNeededCelsius - result.syrupCelsius) > 1e-6);
        expect(answer.passes).toBe(result.syrupCelsius >= answer.syrupNeededCelsius);
      }),
    );
  });
  test('passes with the coldest allowed jar and not with a colder one', () => {
    fc.assert(
      fc.property(fill, (result) => {
        const coldest = hotFill(result).coldestJarCelsius;
        fc.pre(coldest !== undefined);
        expect(hotFill({ ...result, jarCelsius: coldest + 0.001 }).passes).toBe(true);
        expect(hotFill({ ...result, jarCelsius: coldest - 0.01 }).passes).toBe(false);
      }),
    );
  });
});

describe('net contents', () => {
  test('have the cold volume after shrinking, and the same mass', () => {
    const { percent, hotVolumePerCold } = shrink(66.9, 85, 20);
    expect(hotVolumePerCold * (1 - percent / 100)).toBeCloseTo(1, 12);
    expect(hotVolumePerCold * sucroseDensity(66.9, 85)).toBeCloseTo(sucroseDensity(66.9, 20), 9);
  });
  test('of a tray of jars have an average, a spread, and a number below the label', () => {
    const label = syrupWeight(236.588, 66.9).gramsInAir;
    const result = weighedJars([label + 1, label - 1, label + 3], 236.588, 66.9, 0.5);
    expect(result).toMatchObject({ jars: 3, averageReachesLabel: true, jarsUnderLabel: 1, jarsUnderAllowance: 1 });
    expect(result.averageGrams).toBeCloseTo(label + 1, 9);
    expect(result.spreadGrams).toBeCloseTo(2, 9);
    expect(weighedJars([label - 1], 236.588, 66.9)).toMatchObject({
      averageReachesLabel: false,
      spreadGrams: null,
      jarsUnderAllowance: null,
    });
  });
});

describe('a jar plan', () => {
  test('puts all the syrup into jars or reports the rest', () => {
    const size = fc.record({
      millilitres: fc.integer({ min: 30, max: 4000 }),
      wanted: fc.option(fc.integer({ min: 0, max: 50 }), { nil: undefined }),
    });
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 100_000 }),
        fc.array(size, { minLength: 1, maxLength: 4 }),
        (syrup, sizes) => {
          const plan = jarPlan(syrup, sizes);
          const inJars = plan.sizes.reduce((sum, each) => sum + each.jars * each.millilitres, 0);
          expect(inJars + plan.leftOverMillilitres).toBeCloseTo(syrup, 6);
          plan.sizes.forEach((each, i) => expect(each.jars).toBeLessThanOrEqual(sizes[i]?.wanted ?? Infinity));
          plan.sizes.forEach((each) => expect(each.toBoil).toBeGreaterThanOrEqual(each.jars));
        },
      ),
    );
  });
  test('makes twenty quarts of five gallons', () => {
    expect(jarPlan(5 * 3785.411784, [{ millilitres: 946.352946 }]).sizes[0]).toMatchObject({ jars: 20, toBoil: 22 });
  });
});
