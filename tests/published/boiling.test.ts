import { describe, expect, test } from '@jest/globals';
import { boilingRiseCelsius, brixFromBoiling } from '#libs/syrup/science/boiling.js';
import { fahrenheitOf } from '#libs/syrup/quantities/quantities.js';
import {
  saturationKelvin,
  saturationMegapascals,
  standardKilopascals,
  waterBoilsCelsius,
} from '#libs/syrup/science/steam.js';

/** IAPWS-IF97 (2007 release), tables 35 and 36: region 4 check values. */
const saturationTemperatures = [
  { megapascals: 0.1, kelvin: 372.755919 },
  { megapascals: 1, kelvin: 453.035632 },
  { megapascals: 10, kelvin: 584.149488 },
];
const saturationPressures = [
  { kelvin: 300, megapascals: 0.353658941e-2 },
  { kelvin: 500, megapascals: 0.263889776e1 },
  { kelvin: 600, megapascals: 0.123443146e2 },
];
/** Published pairs (read). */
const barometer = [
  { inHg: 28, fahrenheit: 208.75 },
  { inHg: 29, fahrenheit: 210.47 },
];
const elevations = [
  { feet: 1000, fahrenheit: 210.2 },
  { feet: 2000, fahrenheit: 208.4 },
  { feet: 4000, fahrenheit: 204.8 },
];
/** Calculated from the water-activity model of Starzak and Peacock at 1 atm. */
const rises = [
  { brix: 60, fahrenheit: 5.29 },
  { brix: 66.0, fahrenheit: 7.2 },
  { brix: 66.9, fahrenheit: 7.56 },
  { brix: 68.9, fahrenheit: 8.44 },
];

describe('boiling water', () => {
  test.each(saturationTemperatures)('boils at $kelvin K under $megapascals MPa', ({ megapascals, kelvin }) => {
    expect(saturationKelvin(megapascals)).toBeCloseTo(kelvin, 6);
  });
  test.each(saturationPressures)('has $megapascals MPa at $kelvin K', ({ kelvin, megapascals }) => {
    expect(Math.abs(saturationMegapascals(kelvin) / megapascals - 1)).toBeLessThan(5e-9);
  });
  test('the two directions are inverses', () => {
    for (let kelvin = 340; kelvin < 380; kelvin += 0.7)
      expect(saturationKelvin(saturationMegapascals(kelvin))).toBeCloseTo(kelvin, 5);
  });
  test.each(barometer)('at $inHg inHg is within 0.15 °F of the published pair', ({ inHg, fahrenheit }) => {
    expect(Math.abs(fahrenheitOf(waterBoilsCelsius(inHg * 3.386389)) - fahrenheit)).toBeLessThan(0.15);
  });
  test.each(elevations)('at $feet ft is within 0.15 °F of the published pair', ({ feet, fahrenheit }) => {
    expect(Math.abs(fahrenheitOf(waterBoilsCelsius(standardKilopascals(feet * 0.3048))) - fahrenheit)).toBeLessThan(
      0.15,
    );
  });
  test('half an inch of mercury is about 0.85 °F', () => {
    const step = waterBoilsCelsius(29.5 * 3.386389) - waterBoilsCelsius(29 * 3.386389);
    expect(step * 1.8).toBeCloseTo(0.87, 1);
  });
});

describe('boiling syrup', () => {
  test.each(rises)('of $brix °Bx boils $fahrenheit °F above water', ({ brix, fahrenheit }) => {
    expect(boilingRiseCelsius(brix, waterBoilsCelsius(101.325)) * 1.8).toBeCloseTo(fahrenheit, 2);
  });
  test('stays within 0.5 °F of the trade’s figures: 7.1 for 66, about 7.5 for 66.9', () => {
    expect(Math.abs(boilingRiseCelsius(66, 100) * 1.8 - 7.1)).toBeLessThan(0.15);
    expect(Math.abs(boilingRiseCelsius(66.9, 100) * 1.8 - 7.5)).toBeLessThan(0.15);
  });
  test('near the end 1 °F is about 2.4 to 2.6 °Bx', () => {
    const perF = (brixFromBoiling(100 + 7.56 / 1.8, 100)! - brixFromBoiling(100 + 6.56 / 1.8, 100)!) / 1;
    expect(perF).toBeGreaterThan(2.3);
    expect(perF).toBeLessThan(2.7);
  });
  test('the rise and the density are inverses at any air pressure', () => {
    for (const water of [92, 96.3, 99.9, 101])
      for (const brix of [1, 20, 45, 66.9, 80])
        expect(brixFromBoiling(water + boilingRiseCelsius(brix, water), water)).toBeCloseTo(brix, 6);
  });
  test('a temperature below boiling water gives no density', () => {
    expect(brixFromBoiling(99, 100)).toBeUndefined();
    expect(brixFromBoiling(140, 100)).toBeUndefined();
  });
});
