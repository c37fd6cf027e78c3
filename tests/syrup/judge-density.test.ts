import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { roundedBrix } from '#libs/syrup/judge-density.js';
import {
  chartedPlace,
  chartFor669,
  density,
  found,
  judged,
  limitOf,
  placeOf,
  spoke,
  temperature,
} from './pack-facts.js';

const read = (...of: Parameters<typeof density>) => ({ density: density(...of) });
const stops = (changes: Parameters<typeof spoke>[0]) => spoke(changes).filter((name) => name.endsWith('!'));

describe('a density in °Bx', () => {
  test.each([
    ['66.0 Bx', []],
    ['65.9 Bx', ['density-too-thin!']],
    ['65.95 Bx', []],
    ['65.94 Bx', ['density-too-thin!']],
    ['68.9 Bx', []],
    ['69.0 Bx', ['density-too-thick!']],
    ['68.94 Bx', []],
    ['68.95 Bx', ['density-too-thick!']],
  ])('%s at 60 °F', (reading, expected) => expect(stops(read(reading, '60 F'))).toEqual(expected));

  test('is corrected to 20 °C before it is judged, and both are said', () => {
    expect(judged(read('60 Bx', '190 F')).brix).toBeGreaterThan(66);
    expect(found('density-too-thin', read('58 Bx', '185 F'))).toMatchObject({
      limit: '66.0 °Bx or more, true at 20 °C',
      found: expect.stringMatching(/^58 °Bx at 185 °F by hydrometer, which is 64\.\d ± 0\.4 °Bx true$/),
      source: 'the standard (read)',
    });
  });

  test('a float made for 68 °F reads higher syrup than the same mark on one made for 60 °F', () => {
    expect(judged(read('66 Bx', '68 F', 'hydrometer', '68 F')).brix).toBe(66);
    expect(judged(read('66 Bx', '68 F')).brix).toBeGreaterThan(66.2);
  });

  test('an instrument that isn’t named is a hydrometer made for 60 °F', () => {
    const { reading } = density('60 Bx', '190 F');
    const named = judged(read('60 Bx', '190 F', 'hydrometer', '60 F'));
    expect(judged({ density: { reading, sampleAt: temperature('190 F') } }).brix).toBe(named.brix);
  });

  test('no greatest density where the place has none', () => {
    expect(stops({ ...read('72 Bx', '60 F'), place: placeOf({ minimum: limitOf(66.9, 36) }) })).toEqual([]);
  });

  test('is rounded to 0.1 half up, as printed', () => {
    expect([66.85, 66.849, 65.95, 65.949999, 66.04].map(roundedBrix)).toEqual([66.9, 66.8, 66, 65.9, 66]);
  });
});

describe('a density in °Bé is judged in °Bé', () => {
  // Published pairs: 66.0 °Bx = 35.6 °Bé, 66.9 = 36, 68.9 = 37.
  test.each([
    ['35.6 Be', 66.0, 35.6, []],
    ['35.5 Be', 66.0, 35.6, ['density-too-thin!']],
    ['36 Be', 66.9, 36, []],
    ['35.9 Be', 66.9, 36, ['density-too-thin!']],
    ['37 Be', 66.9, 36, []],
    ['37.1 Be', 66.9, 36, ['density-too-thick!']],
  ])('%s where the least is %s °Bx', (reading, brix, baume, expected) => {
    const place = placeOf({ minimum: limitOf(brix, baume), maximum: limitOf(68.9, 37) });
    expect(stops({ ...read(reading, '60 F'), place })).toEqual(expected);
    expect(stops({ ...read(reading, '60 F'), place: { ...place, chart: chartFor669 } })).toEqual(expected);
  });

  test('hot, on the same float, it is corrected first', () => {
    expect(found('density-too-thin', read('31 Be', '211 F'))).toMatchObject({
      limit: '35.6 °Bé or more (66.0 °Bx), at the temperature the float was made for',
      found: expect.stringMatching(/^31 °Bé at 211 °F by hydrometer, which is 35\.1 °Bé there, 65\.1 ± 0\.5 °Bx true$/),
    });
    expect(stops(read('32 Be', '211 F'))).toEqual([]);
  });
});

describe('a density in SG is judged as °Bx', () => {
  test('thin and right', () => {
    expect(stops(read('1.330 SG', '60 F'))).toEqual([]);
    expect(stops(read('1.320 SG', '60 F'))).toEqual(['density-too-thin!']);
  });
});

describe('where the place has a chart, the chart is the rule', () => {
  test.each(chartFor669.rows.map(({ fahrenheit, brix }) => [fahrenheit, brix] as const))(
    'at %s °F, %s °Bx passes and a tenth less does not',
    (fahrenheit, brix) => {
      expect(stops({ ...read(`${brix} Bx`, `${fahrenheit} F`), place: chartedPlace })).toEqual([]);
      expect(stops({ ...read(`${(brix - 0.1).toFixed(1)} Bx`, `${fahrenheit} F`), place: chartedPlace })).toEqual([
        'density-too-thin!',
      ]);
    },
  );

  test('both the chart and the formula are said', () => {
    expect(found('density-too-thin', { ...read('60.3 Bx', '185 F'), place: chartedPlace })).toMatchObject({
      limit: '60.4 °Bx or more on the float at 185 °F, by the chart for 66.9 °Bx',
      found: expect.stringMatching(
        /^60\.3 °Bx at 185 °F by hydrometer, where the chart asks 60\.4; by formula 66\.\d ± 0\.4 °Bx true$/,
      ),
      source: 'hydrometer chart, practice in its state (second hand)',
    });
  });

  test('between its rows the limit runs in a straight line: 60.9 at 176 °F', () => {
    expect(stops({ ...read('60.9 Bx', '176 F'), place: chartedPlace })).toEqual([]);
    expect(stops({ ...read('60.89 Bx', '176 F'), place: chartedPlace })).toEqual(['density-too-thin!']);
  });

  test('it is of Brix floats made for 60 °F within its rows; all else is judged by formula', () => {
    const limit = (...of: Parameters<typeof density>) =>
      found('density-too-thin', { ...read(...of), place: chartedPlace }).limit;
    expect(limit('57 Bx', '211 F')).toBe('66.9 °Bx or more, true at 20 °C');
    expect(limit('66 Bx', '50 F')).toBe('66.9 °Bx or more, true at 20 °C');
    expect(limit('58 Bx', '185 F', 'hydrometer', '68 F')).toBe('66.9 °Bx or more, true at 20 °C');
    expect(limit('66 Bx', undefined, 'refractometer-atc')).toBe('66.9 °Bx or more, true at 20 °C');
    expect(limit('66.5 Bx', '20 C', 'refractometer')).toBe('66.9 °Bx or more, true at 20 °C');
    expect(limit('58 Bx', '85 C', 'hydrometer', '15.6 C')).toMatch(
      /^60\.4 °Bx or more on the float at 85 °C, by the chart/,
    );
  });

  test('above the greatest it stops all the same', () => {
    expect(stops({ ...read('69 Bx', '60 F'), place: chartedPlace })).toEqual(['density-too-thick!']);
  });
});

describe('near a limit', () => {
  test('advice to measure again, only when it passes', () => {
    expect(spoke(read('66.1 Bx', '60 F'))).toEqual(['density-near-limit']);
    expect(spoke(read('66.3 Bx', '60 F'))).toEqual([]);
    expect(spoke(read('68.8 Bx', '60 F'))).toEqual(['density-near-limit']);
    expect(spoke(read('65.9 Bx', '60 F'))).toEqual(['density-too-thin!']);
    expect(spoke(read('35.6 Be', '60 F'))).toEqual(['density-near-limit']);
    expect(spoke({ ...read('60.5 Bx', '185 F'), place: chartedPlace })).toEqual(['density-near-limit']);
    expect(spoke({ ...read('61 Bx', '185 F'), place: chartedPlace })).toEqual([]);
  });

  test('a reading never both stops and is near', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 6400, max: 7000 }),
        fc.constantFrom('60 F', '68 F', '20 C', '185 F'),
        (hundredths, at) => {
          const names = spoke({ ...read(`${hundredths / 100} Bx`, at), place: chartedPlace });
          expect(names.length).toBeLessThanOrEqual(1);
        },
      ),
    );
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

  test('a compensating refractometer needs no temperature, and a sample of 10 to 30 °C is fine', () => {
    expect(judged(read('67.4 Bx', undefined, 'refractometer-atc'))).toMatchObject({ brix: 67.4 });
    expect(judged(read('67.4 Bx', '25 C', 'refractometer-atc'))).toMatchObject({ brix: 67.4 });
    expect(judged(read('66 Bx', '15 C', 'refractometer')).brix).toBe(65.6);
  });
});

describe('a limit that waits for the maker’s confirmation', () => {
  const unconfirmed = limitOf(66.9, 36, { gates: false, mark: 'second hand' });
  test('only advises; the standard behind it still stops', () => {
    const place = placeOf({ minimum: unconfirmed, standIn: limitOf(66, 35.6) });
    expect(spoke({ ...read('66.5 Bx', '60 F'), place })).toEqual(['density-unconfirmed-limit']);
    expect(found('density-unconfirmed-limit', { ...read('66.5 Bx', '60 F'), place }).limit).toMatch(
      /^66\.9 °Bx or more.*second hand: confirm it with the authority$/,
    );
    expect(spoke({ ...read('65.9 Bx', '60 F'), place })).toEqual(['density-too-thin!']);
    expect(spoke({ ...read('67.2 Bx', '60 F'), place })).toEqual([]);
  });
  test('alone, it never stops', () => {
    expect(stops({ ...read('60 Bx', '60 F'), place: placeOf({ minimum: unconfirmed }) })).toEqual([]);
    const maximum = limitOf(68.9, 37, { gates: false, mark: 'memory' });
    expect(spoke({ ...read('70 Bx', '60 F'), place: placeOf({ minimum: limitOf(66, 35.6), maximum }) })).toEqual([
      'density-unconfirmed-limit',
    ]);
  });
});
