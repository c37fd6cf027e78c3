import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { placeList, placeRules } from '#libs/actions/places/places.js';
import { judgeDensity } from '#libs/syrup/rules/judge-density.js';
import type { PlaceRules } from '#libs/syrup/labelling/places.js';
import { celsiusOf } from '#libs/syrup/quantities/quantities.js';
import { chartedPlace, density, found, judged, limitOf, placeOf, spoke } from '../support/pack-facts.js';

const read = (...of: Parameters<typeof density>) => ({ density: density(...of) });

const stops = (changes: Parameters<typeof spoke>[0]) => spoke(changes).filter((name) => name.endsWith('!'));

describe('a hotter sample of the same reading is thicker syrup', () => {
  const places = placeList().map(({ id }) => placeRules(id) as PlaceRules);
  const thin = ['density-too-thin', 'density-measure-again'];
  const held = (place: PlaceRules, reading: string, at: string): number => {
    const { brix, findings } = judgeDensity(density(reading, at), place);
    expect(brix).not.toBeNull();
    return findings.some(({ rule }) => thin.includes(rule)) ? 1 : 0;
  };
  const hundredths = (least: number, most: number) =>
    fc.integer({ min: least * 100, max: most * 100 }).map((number) => number / 100);

  test('so a reading that passes is not held at a hotter temperature, in any place and scale', () => {
    const readings = fc.oneof(
      hundredths(57, 69).map((brix) => `${brix} Bx`),
      hundredths(31, 37).map((baume) => `${baume} Be`),
      fc.integer({ min: 12600, max: 13450 }).map((gravity) => `${gravity / 10000} SG`),
    );
    fc.assert(
      fc.property(
        fc.constantFrom(chartedPlace, ...places),
        readings,
        hundredths(32, 219),
        hundredths(0, 60),
        fc.constantFrom('F', 'C'),
        (place, reading, colder, by, unit) => {
          const hotter = Math.min(219, colder + by);
          const at = (fahrenheit: number) => (unit === 'F' ? `${fahrenheit} F` : `${celsiusOf(fahrenheit)} C`);
          expect(held(place, reading, at(hotter))).toBeLessThanOrEqual(held(place, reading, at(colder)));
        },
      ),
      { numRuns: 3000 },
    );
  });

  test('also degree by degree at the limit between chart and formula', () => {
    for (const place of [chartedPlace, ...places])
      for (const [edge, least, most] of [
        [50, 665, 680],
        [149, 610, 630],
        [209, 575, 595],
      ] as const)
        for (let tenths = least; tenths <= most; tenths += 1) {
          const warming = [-2, -1, -0.1, 0, 0.1, 1, 2].map((away) =>
            held(place, `${tenths / 10} Bx`, `${(edge + away).toFixed(1)} F`),
          );
          expect(warming).toEqual([...warming].sort((a, b) => b - a));
        }
  });
});

describe('without a usable reading there is no density', () => {
  test.each([
    ['none at all', { density: undefined }, /^no density reading$/],
    ['one from before the last boil-up', { densityBeforeLastBoilUp: true }, /^67\.4 °Bx, read before the last boil-up/],
    ['a hydrometer without the temperature of the sample', read('66.9 Bx'), /^66\.9 °Bx by hydrometer can’t be used: /],
    [
      'a hydrometer hotter than any correction',
      read('58 Bx', '230 F'),
      /^58 °Bx at 230 °F by hydrometer can’t be used: /,
    ],
    [
      'hot syrup in a refractometer',
      read('66.9 Bx', '185 F', 'refractometer'),
      /^66\.9 °Bx at 185 °F by refractometer can’t be used: /,
    ],
    ['hot syrup in a compensating one', read('66.9 Bx', '40 C', 'refractometer-atc'), /can’t be used: /],
    ['a plain refractometer without a temperature', read('66.9 Bx', undefined, 'refractometer'), /can’t be used: /],
  ])('%s', (_, changes, says) => {
    expect(spoke(changes)).toEqual(['density-not-read!']);
    expect(found('density-not-read', changes).found).toMatch(says);
    expect(judged(changes)).toMatchObject({ brix: null, brixUncertainty: null });
  });

  test('a compensating refractometer needs none, and a sample of 10 to 30 °C is accepted', () => {
    expect(judged(read('67.4 Bx', undefined, 'refractometer-atc'))).toMatchObject({ brix: 67.4 });
    expect(judged(read('67.4 Bx', '25 C', 'refractometer-atc'))).toMatchObject({ brix: 67.4 });
    expect(judged(read('66 Bx', '15 C', 'refractometer')).brix).toBe(65.6);
  });
});

describe('a limit that needs the maker’s confirmation', () => {
  const unconfirmed = limitOf(66.9, 36, { gates: false, mark: 'second hand' });
  test('is only an advisory; the standard behind it still holds', () => {
    const place = placeOf({ minimum: unconfirmed, standIn: limitOf(66, 35.6) });
    expect(spoke({ ...read('66.5 Bx', '60 F'), place })).toEqual(['density-unconfirmed-limit']);
    expect(found('density-unconfirmed-limit', { ...read('66.5 Bx', '60 F'), place }).limit).toMatch(
      /^66\.9 °Bx or more.*from a secondary source: confirm it with the authority$/,
    );
    expect(spoke({ ...read('65.9 Bx', '60 F'), place })).toEqual(['density-measure-again!']);
    expect(spoke({ ...read('65.6 Bx', '60 F'), place })).toEqual(['density-too-thin!']);
    expect(spoke({ ...read('67.2 Bx', '60 F'), place })).toEqual([]);
  });
  test('never holds by itself', () => {
    expect(stops({ ...read('60 Bx', '60 F'), place: placeOf({ minimum: unconfirmed }) })).toEqual([]);
    const maximum = limitOf(68.9, 37, { gates: false, mark: 'memory' });
    expect(spoke({ ...read('70 Bx', '60 F'), place: placeOf({ minimum: limitOf(66, 35.6), maximum }) })).toEqual([
      'density-unconfirmed-limit',
    ]);
  });
});
