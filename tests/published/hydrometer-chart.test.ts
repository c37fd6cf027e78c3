import { describe, expect, test } from '@jest/globals';
import { placeRules } from '#libs/actions/places/places.js';
import { correctDensity, hydrometerReading, type DensityInstrument } from '#libs/syrup/science/density.js';
import { chartMinimum, chartReadingAt, type PlaceRules } from '#libs/syrup/labelling/places.js';
import { celsiusOf, parseDensity, parseTemperature } from '#libs/syrup/quantities/quantities.js';
import { printed66, printed669 } from './printed-hydrometer-charts.js';

const read = (reading: string, at: string | undefined, by: DensityInstrument = 'hydrometer', made?: string) =>
  correctDensity({
    reading: parseDensity(reading).value!,
    at: at === undefined ? undefined : parseTemperature(at).value!,
    by,
    calibratedAt: made === undefined ? undefined : parseTemperature(made).value!,
  });
const brixOf = (...result: Parameters<typeof read>): number => {
  const answer = read(...result);
  if (answer.because !== undefined) throw new Error(answer.because);
  return answer.brix;
};

describe('the formula beside the chart', () => {
  test.each(printed669)('agrees within 0.35 °Bx at %d °F, read as %d °Bé or %d °Bx', (fahrenheit, baume, brix) => {
    expect(Math.abs(brixOf(`${brix} Bx`, `${fahrenheit} F`) - 66.9)).toBeLessThan(0.35);
    expect(Math.abs(brixOf(`${baume} Be`, `${fahrenheit} F`) - 66.9)).toBeLessThan(0.35);
  });
  test.each(printed66)('agrees within 0.25 °Bx at %d °F, where 66.0 °Bx reads %d', (fahrenheit, brix) => {
    expect(Math.abs(brixOf(`${brix} Bx`, `${fahrenheit} F`) - 66)).toBeLessThan(0.25);
  });
  test.each(printed669)('its uncertainty covers the chart at %d °F', (fahrenheit, _, brix) => {
    const answer = read(`${brix} Bx`, `${fahrenheit} F`);
    expect(answer.because).toBeUndefined();
    if (answer.because === undefined) expect(Math.abs(answer.brix - 66.9)).toBeLessThanOrEqual(answer.brixUncertainty);
  });
  test('is between 66.57 and 66.96 at 70 to 209 °F: thinner than the chart at all rows but one', () => {
    const hot = printed669
      .filter(([fahrenheit]) => fahrenheit >= 70)
      .map(([fahrenheit, , brix]) => brixOf(`${brix} Bx`, `${fahrenheit} F`));
    expect(Math.min(...hot)).toBeGreaterThan(66.56);
    expect(Math.max(...hot)).toBeLessThan(66.97);
  });
  test('the hot-test line of the hydrometer, 211 °F at 59.1, is within its uncertainty', () => {
    expect(Math.abs(brixOf('59.1 Bx', '211 F') - 66.9)).toBeLessThan(0.4);
  });
});

describe('the chart of Vermont', () => {
  const { chart } = placeRules('Vermont') as PlaceRules;
  const reads = (fahrenheit: number, scale?: 'Bx' | 'Be') => chartReadingAt(chart!, celsiusOf(fahrenheit), scale);
  const asks = (fahrenheit: number, scale?: 'Bx' | 'Be') => chartMinimum(chart!, celsiusOf(fahrenheit), scale);
  test.each(printed669)('at %d °F requires %d °Bé and %d °Bx', (fahrenheit, baume, brix) => {
    expect([reads(fahrenheit, 'Be'), reads(fahrenheit, 'Bx')]).toEqual([baume, brix]);
    expect([asks(fahrenheit, 'Be'), asks(fahrenheit, 'Bx')]).toEqual([baume, brix]);
  });
  test('has these rows and no other: the hot-test line at 211 °F is not included', () => {
    expect(chart?.rows.map(({ fahrenheit, baume, brix }) => [fahrenheit, baume, brix])).toEqual(printed669);
  });
  test('is linear between its rows, continues its last slope above them and gives nothing below', () => {
    expect(reads(205.5)).toBeCloseTo(59.3, 9);
    expect(reads(180.5, 'Be')).toBeCloseTo(32.875, 9);
    expect(reads(216)).toBeCloseTo(58.4, 9);
    expect(reads(216, 'Be')).toBeCloseTo(31.75, 9);
    expect(reads(49.9)).toBeUndefined();
    expect(asks(49.9, 'Be')).toBeUndefined();
  });
  test('between its rows requires no more than it would print', () => {
    expect(reads(211)).toBeCloseTo(58.829, 3);
    expect(asks(211)).toBe(58.8);
    expect(asks(197)).toBe(59.8);
    expect(asks(66)).toBe(66.6);
    expect(asks(65)).toBeCloseTo(66.65, 9);
  });
});

describe('the chart for 66.0 °Bx', () => {
  test.each(['us', 'NY', 'Maine', 'Ohio', 'Canada', 'Ontario', 'Quebec', 'New Hampshire', 'Wisconsin'])(
    'is used in %s beside the formula, and never contradicts it',
    (name) => {
      const { chart } = placeRules(name) as PlaceRules;
      expect(chart?.decides).toBe(false);
      expect(chart?.mark).toBe('second hand');
      expect(chart?.rows.map(({ fahrenheit, brix }) => [fahrenheit, brix])).toEqual(printed66);
      expect(chartReadingAt(chart!, celsiusOf(185), 'Be')).toBeUndefined();
    },
  );
});

describe('a hydrometer', () => {
  test('reads true at the temperature it was made for, 60 °F, 68 °F or any', () => {
    expect(brixOf('66.9 Bx', '60 F')).toBeCloseTo(66.9, 9);
    expect(brixOf('66.9 Bx', '68 F', 'hydrometer', '68 F')).toBeCloseTo(66.9, 9);
    expect(brixOf('66.9 Bx', '25 C', 'hydrometer', '25 C')).toBeCloseTo(66.9, 9);
  });
  test('made for 60 °F shows the syrup a little thinner at 68 °F than one made for 68 °F', () => {
    expect(brixOf('66 Bx', '68 F') - brixOf('66 Bx', '68 F', 'hydrometer', '68 F')).toBeCloseTo(0.34, 1);
  });
  test('in °Bé: 36 at 60 °F is the published 66.9 °Bx', () => {
    expect(Math.round(brixOf('36 Be', '60 F') * 10) / 10).toBeCloseTo(66.9, 9);
    const answer = read('36 Be', '60 F');
    expect(answer.because === undefined && answer.ownScale).toEqual({ scale: 'Be', reading: expect.closeTo(36, 9) });
  });
  test('shows what hydrometerReading gives', () => {
    for (const celsius of [0, 20, 60, 85, 100, 103]) {
      const reading = hydrometerReading(66.9, celsius);
      expect(brixOf(`${reading.toFixed(6)} Bx`, `${celsius} C`)).toBeCloseTo(66.9, 5);
    }
  });
  test('is corrected from 32 to 219 °F, wider past 100 °C, and refused outside', () => {
    const [at32, at219, hot] = [read('67 Bx', '32 F'), read('58 Bx', '219 F'), read('58 Bx', '212 F')];
    expect(at32.because).toBeUndefined();
    expect(
      at219.because === undefined && hot.because === undefined && at219.brixUncertainty > hot.brixUncertainty,
    ).toBe(true);
    expect(read('58 Bx', '219.2 F').because).toContain('outside 32–219 °F');
    expect(read('67 Bx', '31.8 F').because).toContain('outside');
    expect(read('67 Bx', undefined).because).toContain('without the temperature');
    expect(read('85 Bx', '212 F').because).toContain('past the end of the published tables');
    expect(read('0 Bx', '0 C').because).toBeUndefined();
  });
});
