import type { Temperature } from './quantities.js';

/** The same number in the other unit, as it would be if the unit was mistyped: `88 °F` → `88 °C`. */
export const inOtherUnit = (temperature: Temperature): Temperature => {
  const { unit, degrees } = temperature;
  return unit === 'F'
    ? { ...temperature, unit: 'C', celsius: degrees }
    : { ...temperature, unit: 'F', celsius: ((degrees - 32) * 5) / 9 };
};
