import { describe, expect, test } from '@jest/globals';
import { boilingRiseCelsius } from '#libs/syrup/science/boiling.js';
import { thermometerCorrection, thermometerVerdict } from '#libs/syrup/instruments/thermometer-check.js';
import { thickening, type PanReading } from '#libs/syrup/science/thickening.js';

/**
 * A finishing pan that loses the same amount of water every minute: from `startBrix` it reaches 66.9 after exactly
 * `minutes`.
 */
function steadyPan(startBrix: number, minutes: number, upTo: number, every: number): PanReading[] {
  const [start, end] = [100 / startBrix - 1, 100 / 66.9 - 1];
  const readings: PanReading[] = [];
  for (let m = 0; m <= upTo; m += every) {
    const brix = 100 / (1 + start + ((end - start) * m) / minutes);
    readings.push({ minutes: m, celsius: 99 + boilingRiseCelsius(brix, 99) });
  }
  return readings;
}

describe('a boil in progress', () => {
  test('gives the minute of draw-off of a steady pan', () => {
    const result = thickening(steadyPan(45, 60, 40, 10), 99, 66.9);
    if ('problem' in result) throw new Error(result.problem);
    expect(result.minutesToDraw).toBeCloseTo(20, 6);
    expect(result.earliestMinutes).toBeLessThan(20);
    expect(result.latestMinutes === null || result.latestMinutes > 20).toBe(true);
    expect(result.brixNowLow).toBeLessThan(result.brixNow);
    expect(result.brixNowHigh).toBeGreaterThan(result.brixNow);
    expect(result.brixPerMinute).toBeGreaterThan(0);
  });
  test('warns when draw-off may be ten minutes away, and not when it is far off', () => {
    const near = thickening(steadyPan(45, 60, 50, 10), 99, 66.9);
    const far = thickening(steadyPan(35, 300, 60, 20), 99, 66.9);
    expect(near).toMatchObject({ near: true });
    expect(far).toMatchObject({ near: false });
  });
  test('says now once the finish is reached, whatever the fitted line says', () => {
    const there = thickening(steadyPan(45, 60, 60, 10), 99, 66.9);
    expect(there).toMatchObject({ near: true, minutesToDraw: expect.closeTo(0, 6) });
    const past = thickening(
      [
        { minutes: 0, celsius: 103 },
        { minutes: 5, celsius: 104 },
      ],
      99,
      66.9,
    );
    expect(past).toMatchObject({ near: true, minutesToDraw: 0, earliestMinutes: 0, latestMinutes: 0 });
  });
  test('has bounds that hold when each reading is off by half a degree Fahrenheit', () => {
    const errors = [0.5, -0.5, 0.5, -0.5, 0.5].map((f) => f / 1.8);
    for (const sign of [1, -1]) {
      const wrong = steadyPan(45, 60, 40, 10).map((r, i) => ({ ...r, celsius: r.celsius + sign * (errors[i] ?? 0) }));
      const result = thickening(wrong, 99, 66.9);
      if ('problem' in result) throw new Error(result.problem);
      expect(result.earliestMinutes).toBeLessThanOrEqual(20);
      expect(result.latestMinutes ?? Infinity).toBeGreaterThanOrEqual(20);
    }
  });
  test('gives no time if the pan doesn’t thicken, and refuses readings it cannot fit', () => {
    expect(
      thickening(
        [
          { minutes: 0, celsius: 101 },
          { minutes: 9, celsius: 101 },
        ],
        99,
        66.9,
      ),
    ).toMatchObject({ minutesToDraw: null });
    expect(thickening([{ minutes: 0, celsius: 101 }], 99, 66.9)).toHaveProperty('problem');
    expect(
      thickening(
        [
          { minutes: 5, celsius: 101 },
          { minutes: 5, celsius: 102 },
        ],
        99,
        66.9,
      ),
    ).toHaveProperty('problem');
    expect(
      thickening(
        [
          { minutes: 0, celsius: 98 },
          { minutes: 5, celsius: 102 },
        ],
        99,
        66.9,
      ),
    ).toHaveProperty('problem');
    expect(
      thickening(
        [
          { minutes: 0, celsius: 99.6 },
          { minutes: 5, celsius: 99.7 },
        ],
        99,
        66.9,
      ),
    ).toHaveProperty('problem');
  });
});

describe('a thermometer', () => {
  test('is within at ±2 °F and out beyond it, at either point', () => {
    expect(thermometerVerdict({ iceReadCelsius: 2 / 1.8, waterBoilsCelsius: 99 }).within).toBe(true);
    expect(thermometerVerdict({ iceReadCelsius: 2.1 / 1.8, waterBoilsCelsius: 99 }).within).toBe(false);
    expect(thermometerVerdict({ iceReadCelsius: 0, boilingReadCelsius: 96, waterBoilsCelsius: 99 })).toEqual({
      atIceCelsius: expect.closeTo(0, 12),
      atBoilingCelsius: 3,
      within: false,
    });
  });
  test('is corrected along the line through both points', () => {
    const check = { iceReadCelsius: 1, boilingReadCelsius: 97, waterBoilsCelsius: 99 };
    expect(thermometerCorrection(check, 1).offsetCelsius).toBeCloseTo(-1, 9);
    expect(thermometerCorrection(check, 97).offsetCelsius).toBeCloseTo(2, 9);
    expect(thermometerCorrection(check, 49).offsetCelsius).toBeCloseTo(0.5, 9);
    expect(thermometerCorrection({ iceReadCelsius: 1, waterBoilsCelsius: 99 }, 80)).toEqual({
      offsetCelsius: -1,
      out: false,
    });
    expect(thermometerCorrection({ waterBoilsCelsius: 99 }, 80)).toEqual({ offsetCelsius: 0, out: false });
  });
});
