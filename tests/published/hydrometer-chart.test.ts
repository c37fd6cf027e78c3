import { describe, expect, test } from '@jest/globals';
import { placeRules } from '#libs/actions/places.js';
import { correctDensity, floatReading, type DensityInstrument } from '#libs/syrup/density.js';
import { chartReadingAt, type PlaceRules } from '#libs/syrup/places.js';
import { celsiusOf, parseDensity, parseTemperature } from '#libs/syrup/quantities.js';

/** What a hydrometer made for 60 °F reads, by the temperature of the sample (second hand; the practice of Vermont). */
const chart = [
  { fahrenheit: 209, when669: 59.0, when66: 58.0 },
  { fahrenheit: 193, when669: 60.0, when66: 59.0 },
  { fahrenheit: 185, when669: 60.4, when66: 59.5 },
  { fahrenheit: 167, when669: 61.4, when66: 60.5 },
  { fahrenheit: 149, when669: 62.3, when66: 61.5 },
  { fahrenheit: 140, when669: 62.8, when66: null },
  { fahrenheit: 120, when669: 63.8, when66: null },
  { fahrenheit: 100, when669: 64.8, when66: null },
  { fahrenheit: 80, when669: 65.9, when66: null },
  { fahrenheit: 60, when669: 66.9, when66: null },
];

const read = (reading: string, at: string | undefined, by: DensityInstrument = 'hydrometer', made?: string) =>
  correctDensity({
    reading: parseDensity(reading).value!,
    at: at === undefined ? undefined : parseTemperature(at).value!,
    by,
    calibratedAt: made === undefined ? undefined : parseTemperature(made).value!,
  });
const brixOf = (...told: Parameters<typeof read>): number => {
  const answer = read(...told);
  if (answer.because !== undefined) throw new Error(answer.because);
  return answer.brix;
};

describe('the formula beside the chart', () => {
  test.each(chart)('agrees within 0.35 °Bx at $fahrenheit °F', ({ fahrenheit, when669, when66 }) => {
    const true669 = brixOf(`${when669} Bx`, `${fahrenheit} F`);
    expect(Math.abs(true669 - 66.9)).toBeLessThan(0.35);
    if (when66 !== null) expect(Math.abs(brixOf(`${when66} Bx`, `${fahrenheit} F`) - 66.0)).toBeLessThan(0.35);
  });
  test.each(chart)('its uncertainty covers the chart at $fahrenheit °F', ({ fahrenheit, when669 }) => {
    const answer = read(`${when669} Bx`, `${fahrenheit} F`);
    expect(answer.because).toBeUndefined();
    if (answer.because === undefined) expect(Math.abs(answer.brix - 66.9)).toBeLessThanOrEqual(answer.brixUncertainty);
  });
  test('stands on one side from 80 to 209 °F: 66.57 to 66.84', () => {
    const hot = chart
      .filter((row) => row.fahrenheit >= 80)
      .map((row) => brixOf(`${row.when669} Bx`, `${row.fahrenheit} F`));
    expect(Math.min(...hot)).toBeGreaterThan(66.56);
    expect(Math.max(...hot)).toBeLessThan(66.84);
  });
  test('the hot mark of the float, 211 °F at 59.1, is within its uncertainty', () => {
    expect(Math.abs(brixOf('59.1 Bx', '211 F') - 66.9)).toBeLessThan(0.4);
  });
});

describe('the chart of Vermont', () => {
  const vermont = placeRules('Vermont') as PlaceRules;
  const asked = (fahrenheit: number) => chartReadingAt(vermont.chart!, celsiusOf(fahrenheit));
  test.each(chart)('asks $when669 at $fahrenheit °F', ({ fahrenheit, when669 }) => {
    expect(asked(fahrenheit)).toBe(when669);
  });
  test('is straight between its rows and silent outside them', () => {
    expect(asked(201)).toBeCloseTo(59.5, 9);
    expect(asked(176)).toBeCloseTo(60.9, 9);
    expect(asked(209.1)).toBeUndefined();
    expect(asked(211)).toBeUndefined();
    expect(asked(59.9)).toBeUndefined();
  });
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
  test('shows what floatReading says it shows', () => {
    for (const celsius of [0, 20, 60, 85, 100, 103]) {
      const reading = floatReading(66.9, celsius);
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
