import { parseTemperature } from '../quantities/quantities.js';
import type { Parsed, Temperature } from '../quantities/quantities.js';

/** The temperature printed on a sugarhouse’s hydrometers, answered once for all readings that don’t record it. */
export const hydrometerAnswers = ['60-F', '68-F', 'not-known'] as const;
export type HydrometerAnswer = (typeof hydrometerAnswers)[number];

/** The two temperatures that hydrometers for syrup are made for: common practice, no source. */
const madeFor60: Temperature = { typed: '60 F', degrees: 60, unit: 'F', celsius: (60 - 32) / 1.8 };
export const madeFor68: Temperature = { typed: '68 F', degrees: 68, unit: 'F', celsius: 20 };

/** The calibration temperature by an answer; undefined where nobody answered, or nobody knows. */
export const hydrometerTemperature = (answer: HydrometerAnswer | undefined): Temperature | undefined =>
  answer === '60-F' ? madeFor60 : answer === '68-F' ? madeFor68 : undefined;

/** Parses an answer: `60 F`, `15.6 C`, `68F`, `20 °C`, `not known`. */
export function parseHydrometerAnswer(typed: string): Parsed<HydrometerAnswer> {
  const known = hydrometerAnswers.find(
    (each) =>
      each ===
      typed
        .toLowerCase()
        .replace(/[\s_-]+/g, '-')
        .replace(/f$/, 'F'),
  );
  if (known) return { value: known };
  const { value } = parseTemperature(typed);
  // 15.6 °C is 60 °F, as printed on a hydrometer with both units.
  const is = (made: Temperature): boolean => value !== undefined && Math.abs(value.celsius - made.celsius) < 0.1;
  if (is(madeFor60)) return { value: '60-F' };
  if (is(madeFor68)) return { value: '68-F' };
  return { mismatch: { expected: '60 F, 68 F or not-known', got: `"${typed}"` } };
}
