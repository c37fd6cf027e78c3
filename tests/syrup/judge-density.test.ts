import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { placeRules } from '#libs/actions/places/places.js';
import type { DensityInstrument } from '#libs/syrup/science/density.js';
import { roundedBrix } from '#libs/syrup/rules/density-limits.js';
import type { PlaceRules } from '#libs/syrup/labelling/places.js';
import { printed66, printed669 } from '../published/printed-hydrometer-charts.js';
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
} from '../support/pack-facts.js';

const read = (...of: Parameters<typeof density>) => ({ density: density(...of) });

const stops = (changes: Parameters<typeof spoke>[0]) => spoke(changes).filter((name) => name.endsWith('!'));

describe('a density in °Bx', () => {
  test.each([
    ['66.0 Bx', []],
    ['65.9 Bx', ['density-measure-again!']],
    ['65.7 Bx', ['density-too-thin!']],
    ['65.95 Bx', []],
    ['65.94 Bx', ['density-measure-again!']],
    ['68.9 Bx', []],
    ['69.0 Bx', ['density-too-thick!']],
    ['68.94 Bx', []],
    ['68.95 Bx', ['density-too-thick!']],
  ])('%s at 60 °F', (reading, expected) => expect(stops(read(reading, '60 F'))).toEqual(expected));

  test('is corrected to 20 °C before it is judged, and both are given', () => {
    expect(judged(read('60 Bx', '190 F')).brix).toBeGreaterThan(66);
    expect(found('density-too-thin', read('58 Bx', '185 F'))).toMatchObject({
      limit: '66.0 °Bx or more, true at 20 °C',
      found: expect.stringMatching(/^58 °Bx at 185 °F by hydrometer, which is 64\.\d ± 0\.4 °Bx true$/),
      source: 'the standard (read in the source)',
    });
  });

  test('the same mark means thicker syrup on a hydrometer made for 68 °F than on one made for 60 °F', () => {
    expect(judged(read('66 Bx', '68 F', 'hydrometer', '68 F')).brix).toBe(66);
    expect(judged(read('66 Bx', '68 F')).brix).toBeGreaterThan(66.2);
  });

  test('an instrument that isn’t named is a hydrometer made for 60 °F', () => {
    const { reading } = density('60 Bx', '190 F');
    const named = judged(read('60 Bx', '190 F', 'hydrometer', '60 F'));
    expect(judged({ density: { reading, sampleAt: temperature('190 F') } }).brix).toBe(named.brix);
  });

  test('has no upper limit where the place has none', () => {
    expect(stops({ ...read('72 Bx', '60 F'), place: placeOf({ minimum: limitOf(66.9, 36) }) })).toEqual([]);
  });

  test('is rounded to 0.1 half up, as printed', () => {
    expect([66.85, 66.849, 65.95, 65.949999, 66.04].map(roundedBrix)).toEqual([66.9, 66.8, 66, 65.9, 66]);
  });
});

describe('a density in °Bé is judged in °Bé', () => {
  // Published pairs: 66.0 °Bx = 35.6 °Bé, 66.9 = 36, 68.9 = 37.
  test.each([
    ['35.6 Be', 66.0, 35.6, [], []],
    ['35.5 Be', 66.0, 35.6, ['density-measure-again!'], ['density-measure-again!']],
    ['35.4 Be', 66.0, 35.6, ['density-too-thin!'], ['density-too-thin!']],
    ['36 Be', 66.9, 36, [], []],
    ['35.9 Be', 66.9, 36, ['density-measure-again!'], ['density-too-thin!']],
    ['37 Be', 66.9, 36, [], []],
    ['37.1 Be', 66.9, 36, ['density-too-thick!'], ['density-too-thick!']],
  ])('%s where the least is %s °Bx', (reading, brix, baume, byFormula, withChartFor669) => {
    const place = placeOf({ minimum: limitOf(brix, baume), maximum: limitOf(68.9, 37) });
    expect(stops({ ...read(reading, '60 F'), place })).toEqual(byFormula);
    expect(stops({ ...read(reading, '60 F'), place: { ...place, chart: chartFor669 } })).toEqual(withChartFor669);
  });

  test('a hot one on the same hydrometer is corrected first', () => {
    expect(found('density-too-thin', read('31 Be', '211 F'))).toMatchObject({
      limit: '35.6 °Bé or more (66.0 °Bx), at the temperature the hydrometer was made for',
      found: expect.stringMatching(/^31 °Bé at 211 °F by hydrometer, which is 35\.1 °Bé there, 65\.1 ± 0\.5 °Bx true$/),
    });
    expect(stops(read('32 Be', '211 F'))).toEqual([]);
  });
});

describe('a density in SG is judged as °Bx', () => {
  test('thin and right', () => {
    expect(stops(read('1.330 SG', '60 F'))).toEqual([]);
    // To two decimals it may be 1.325, which is too thin.
    expect(stops(read('1.33 SG', '60 F'))).toEqual(['density-measure-again!']);
    expect(stops(read('1.3 SG', '60 F'))).toEqual(['density-too-thin!']);
    expect(stops(read('1.320 SG', '60 F'))).toEqual(['density-too-thin!']);
  });
});

describe('where the place has a chart, the chart is the rule', () => {
  test.each(printed669)('at %d °F, %d °Bé and %d °Bx pass and a tenth less does not', (fahrenheit, baume, brix) => {
    const at = (reading: string) => stops({ ...read(reading, `${fahrenheit} F`), place: chartedPlace });
    expect(at(`${brix} Bx`)).toEqual([]);
    expect(at(`${(brix - 0.1).toFixed(1)} Bx`)).toEqual(['density-too-thin!']);
    expect(at(`${baume} Be`)).toEqual([]);
    expect(at(`${(baume - 0.1).toFixed(2)} Be`)).toEqual(['density-too-thin!']);
  });

  test('in °Bé both are given too', () => {
    expect(found('density-too-thin', { ...read('32.5 Be', '185 F'), place: chartedPlace })).toMatchObject({
      limit: '32.75 °Bé or more on the hydrometer at 185 °F, by the chart for 36.0 °Bé',
      found: expect.stringMatching(
        /^32\.5 °Bé at 185 °F by hydrometer; the chart requires 32\.75; by formula 66\.4 ± /,
      ),
    });
  });

  test('both the chart and the formula are given', () => {
    expect(found('density-too-thin', { ...read('60.3 Bx', '185 F'), place: chartedPlace })).toMatchObject({
      limit: '60.4 °Bx or more on the hydrometer at 185 °F, by the chart for 66.9 °Bx',
      found: expect.stringMatching(
        /^60\.3 °Bx at 185 °F by hydrometer; the chart requires 60\.4; by formula 66\.\d ± 0\.4 °Bx true$/,
      ),
      source: 'hydrometer chart, practice in its state (secondary source)',
    });
  });

  test('between its rows the limit is linear, and requires no more than it would print', () => {
    const at = (reading: string, fahrenheit: string) =>
      stops({ ...read(reading, fahrenheit), place: chartedPlace }).join();
    expect([at('60.65 Bx', '180.5 F'), at('60.6 Bx', '180.5 F')]).toEqual(['', 'density-too-thin!']);
    // 59.74 at 199 °F: the chart would print 59.7, so 59.7 passes.
    expect([at('59.7 Bx', '199 F'), at('59.6 Bx', '199 F')]).toEqual(['', 'density-too-thin!']);
    // Above the hottest row: 58.83 at 211 °F. The hot-test line of the same manual, 59.1, is not used.
    expect([at('58.8 Bx', '211 F'), at('58.7 Bx', '211 F')]).toEqual(['', 'density-too-thin!']);
  });

  test('below its coldest row the formula judges, and requires no less than that row', () => {
    const at = (reading: string, fahrenheit: string) => stops({ ...read(reading, fahrenheit), place: chartedPlace });
    // By formula 67.3 would do at 49 °F; the chart requires 67.4 a degree warmer.
    expect(at('67.4 Bx', '49 F')).toEqual([]);
    expect(at('67.35 Bx', '49 F')).toEqual(['density-measure-again!']);
    expect(at('67.0 Bx', '40 F')).toEqual(['density-too-thin!']);
    expect(found('density-measure-again', { ...read('67.35 Bx', '49 F'), place: chartedPlace }).limit).toContain(
      '67.4 °Bx or more on the hydrometer at 49 °F, by the chart for 66.9 °Bx, whose coldest row that is',
    );
  });

  test('it applies to hydrometers made for 60 °F, not below its rows; everything else is judged by formula', () => {
    const limit = (...of: Parameters<typeof density>) =>
      found('density-too-thin', { ...read(...of), place: chartedPlace }).limit;
    expect(limit('66 Bx', '49 F')).toBe('66.9 °Bx or more, true at 20 °C');
    expect(limit('1.28 SG', '185 F')).toBe('66.9 °Bx or more, true at 20 °C');
    expect(limit('58 Bx', '185 F', 'hydrometer', '68 F')).toBe('66.9 °Bx or more, true at 20 °C');
    expect(limit('65 Bx', undefined, 'refractometer-atc')).toBe('66.9 °Bx or more, true at 20 °C');
    expect(limit('66 Bx', '20 C', 'refractometer')).toBe('66.9 °Bx or more, true at 20 °C');
    expect(limit('58 Bx', '85 C', 'hydrometer', '15.6 C')).toMatch(
      /^60\.4 °Bx or more on the hydrometer at 85 °C, by the chart/,
    );
  });

  test('a density above the greatest is held all the same', () => {
    expect(stops({ ...read('69 Bx', '60 F'), place: chartedPlace })).toEqual(['density-too-thick!']);
  });
});

describe('near a limit', () => {
  test('an advisory to measure again, only when it passes', () => {
    expect(spoke(read('66.1 Bx', '60 F'))).toEqual(['density-near-limit']);
    expect(spoke(read('66.3 Bx', '60 F'))).toEqual([]);
    expect(spoke(read('68.8 Bx', '60 F'))).toEqual(['density-near-limit']);
    expect(spoke(read('65.9 Bx', '60 F'))).toEqual(['density-measure-again!']);
    expect(spoke(read('35.6 Be', '60 F'))).toEqual(['density-near-limit']);
    expect(spoke({ ...read('60.5 Bx', '185 F'), place: chartedPlace })).toEqual(['density-near-limit']);
    expect(spoke({ ...read('61 Bx', '185 F'), place: chartedPlace })).toEqual([]);
  });

  test('a reading never both holds and is near', () => {
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

describe('a reading that is too low by no more than the uncertainty of its method', () => {
  test.each<[reading: string, at: string | undefined, by: DensityInstrument, says: RegExp]>([
    [
      '65.8 Bx',
      '60 F',
      'hydrometer',
      /0\.2 °Bx short, within the uncertainty of the method \(±0\.2 °Bx\): measure again$/,
    ],
    ['59.2 Bx', '185 F', 'hydrometer', /0\.4 °Bx short, within the uncertainty of the method \(±0\.4 °Bx\)/],
    ['35.5 Be', '60 F', 'hydrometer', /0\.1 °Bé short, within the uncertainty of the method \(±0\.1 °Bé\)/],
    ['65.8 Bx', undefined, 'refractometer-atc', /0\.2 °Bx short/],
    ['65.8 Bx', '20 C', 'refractometer', /0\.2 °Bx short/],
  ])('%s at %s by %s is measured again, and says so', (reading, at, by, says) => {
    const changes = { ...read(reading, at, by), place: placeOf({ minimum: limitOf(66, 35.6) }) };
    expect(spoke(changes)).toEqual(['density-measure-again!']);
    expect(found('density-measure-again', changes).found).toMatch(says);
    expect(judged(changes).findings[0]?.wayOut).toMatch(/^Measure again, about 5 min: a fresh sample/);
  });

  test('a reading that meets the chart for 66.0 °Bx passes though the formula finds it too low, and is near the limit', () => {
    const { chart } = placeRules('us') as PlaceRules;
    const place = placeOf({ minimum: limitOf(66, 35.6), ...(chart ? { chart } : {}) });
    expect(stops({ ...read('59.5 Bx', '185 F'), place: placeOf({ minimum: limitOf(66, 35.6) }) })).toEqual([
      'density-measure-again!',
    ]);
    for (const [fahrenheit, brix] of printed66) {
      expect(spoke({ ...read(`${brix} Bx`, `${fahrenheit} F`), place })).toEqual(['density-near-limit']);
      expect(stops({ ...read(`${(brix - 0.1).toFixed(1)} Bx`, `${fahrenheit} F`), place })).toEqual([
        'density-measure-again!',
      ]);
    }
    expect(stops({ ...read('58.9 Bx', '185 F'), place })).toEqual(['density-too-thin!']);
  });
});
