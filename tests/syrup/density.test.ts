import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { baume, brixFromBaume } from '#libs/syrup/science/corrected.js';
import { correctDensity, hydrometerReading } from '#libs/syrup/science/density.js';
import type { DensityReading, Temperature } from '#libs/syrup/quantities/quantities.js';
import { brixFromDensity, sucroseDensity } from '#libs/syrup/science/sucrose.js';

const brix = fc.double({ min: 0, max: 85, noNaN: true });
const celsius = fc.double({ min: 0, max: 100, noNaN: true });
const celsiusReading = (degrees: number): Temperature => ({
  typed: `${degrees} C`,
  unit: 'C',
  degrees,
  celsius: degrees,
});
const scale = fc.constantFrom<DensityReading['scale']>('Bx', 'Be', 'SG');

describe('density', () => {
  test('converted from °Bx and back gives the same °Bx', () => {
    fc.assert(
      fc.property(brix, celsius, (b, t) => {
        expect(brixFromDensity(sucroseDensity(b, t), t)).toBeCloseTo(b, 8);
      }),
    );
  });
  test('rises with sugar at every temperature, and falls with heat from 5 °C up', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 84, noNaN: true }), fc.double({ min: 5, max: 99, noNaN: true }), (b, t) => {
        expect(sucroseDensity(b + 1, t)).toBeGreaterThan(sucroseDensity(b, t));
        expect(sucroseDensity(b, t + 1)).toBeLessThan(sucroseDensity(b, t));
      }),
    );
  });
  test('converted to °Bé and back gives the same °Bx', () => {
    fc.assert(fc.property(brix, (b) => expect(brixFromBaume(baume(b))).toBeCloseTo(b, 8)));
  });
});

describe('a hydrometer reading', () => {
  test('in any scale, hot or cold, made for any temperature, gives the density of the syrup', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 80, noNaN: true }),
        celsius,
        fc.double({ min: 10, max: 30, noNaN: true }),
        scale,
        (b, t, made, s) => {
          const reading = hydrometerReading(b, t, s, made);
          const answer = correctDensity({
            reading: { typed: '', scale: s, reading },
            at: celsiusReading(t),
            by: 'hydrometer',
            calibratedAt: celsiusReading(made),
          });
          if (answer.because !== undefined) throw new Error(answer.because);
          expect(answer.brix).toBeCloseTo(b, 7);
          expect(answer.baume).toBeCloseTo(baume(b), 7);
          expect(answer.densityKgPerM3).toBeCloseTo(sucroseDensity(b, 20), 6);
          expect(answer.brixUncertainty).toBeGreaterThan(0.2);
        },
      ),
    );
  });
  test('that is higher means thicker syrup, and at the same reading hotter syrup is thicker', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 50, max: 70, noNaN: true }),
        fc.double({ min: 5, max: 95, noNaN: true }),
        (reading, t) => {
          const at = (r: number, c: number) =>
            correctDensity({
              reading: { typed: '', scale: 'Bx', reading: r },
              at: celsiusReading(c),
              by: 'hydrometer',
            });
          const [one, more, hotter] = [at(reading, t), at(reading + 0.5, t), at(reading, t + 2)];
          if (one.because !== undefined || more.because !== undefined || hotter.because !== undefined)
            throw new Error('refused');
          expect(more.brix).toBeGreaterThan(one.brix);
          expect(hotter.brix).toBeGreaterThan(one.brix);
        },
      ),
    );
  });
  test('gives a number or a sentence for any input, never NaN', () => {
    const anything = fc.double({ min: -60, max: 400, noNaN: true });
    const readings = fc.record({
      typed: fc.constant('x'),
      scale,
      reading: fc.double({ min: 0, max: 95, noNaN: true }),
    });
    fc.assert(
      fc.property(
        readings,
        anything,
        fc.constantFrom('hydrometer', 'refractometer', 'refractometer-atc'),
        (reading, t, by) => {
          const answer = correctDensity({ reading, at: celsiusReading(t), by });
          if (answer.because === undefined) {
            expect(Number.isFinite(answer.brix + answer.baume + answer.densityKgPerM3 + answer.brixUncertainty)).toBe(
              true,
            );
            expect(answer.brix).toBeGreaterThanOrEqual(0);
            expect(answer.brix).toBeLessThanOrEqual(85.0001);
          } else expect(answer.because.length).toBeGreaterThan(20);
        },
      ),
      { numRuns: 500 },
    );
  });
});
