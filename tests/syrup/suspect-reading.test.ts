import { describe, expect, test } from '@jest/globals';
import type { InstrumentChecked } from '#libs/syrup/instruments/instrument-checks.js';
import {
  checkThatReadLow,
  formatCheckError,
  formatCheckName,
  whyUnreliable,
} from '#libs/syrup/instruments/suspect-reading.js';
import { judgeReadings } from '#libs/syrup/rules/judge-reading.js';
import { parseFillReadings } from '#libs/syrup/quantities/fill-readings.js';
import { temperature } from '../support/pack-facts.js';

const hour = 3_600_000;
/** A check in ice at an hour, which read so many °F too much; undefined where neither temperature was recorded. */
const ice = (
  id: string,
  at: number,
  high: number | undefined,
  more: Partial<InstrumentChecked> = {},
): InstrumentChecked => ({
  id,
  atMs: at * hour,
  day: `2026-03-${10 + at}`,
  how: 'ice',
  ...(high === undefined ? { fit: 'no' } : { should: temperature('32 F'), reads: temperature(`${32 + high} F`) }),
  ...more,
});
/** A reading by T1 at hour 5 of a jar, with these checks of T1. */
const reading = (checks: readonly InstrumentChecked[], typed = '186 F#T1', at = 5) => {
  const fills = parseFillReadings(typed).value!.map((fill) => ({ ...fill, atMs: at * hour }));
  return judgeReadings(fills, [{ id: 'T1', checks, checkedThisSeason: true }])[0]!;
};
const because = (...args: Parameters<typeof reading>) => whyUnreliable(reading(...args))?.evidence.because;

describe('a thermometer found wrong by an unknown amount', () => {
  test('is unreliable from the last good check of that kind to the next', () => {
    expect(because([ice('C1', 6, undefined)])).toBe('wrong-by-unknown-amount');
    expect(because([ice('C1', 4, undefined)])).toBe('wrong-by-unknown-amount');
    expect(because([ice('C1', 3, 0), ice('C2', 6, undefined)])).toBe('wrong-by-unknown-amount');
    expect(because([ice('C1', 3, undefined), ice('C2', 4, 0)])).toBeUndefined();
    expect(because([ice('C1', 6, 0), ice('C2', 7, undefined)])).toBeUndefined();
    // At the moment of a good check it was good.
    expect(because([ice('C1', 5, 0), ice('C2', 7, undefined)])).toBeUndefined();
    expect(because([ice('C1', 3, undefined), ice('C2', 5, 0)])).toBeUndefined();
  });

  test('is named with its check, and so is one that is only taken to be it', () => {
    const text = (typed: string) => whyUnreliable(reading([ice('C1', 6, undefined)], typed))?.text;
    expect(text('186 F#T1')).toBe('by T1, found wrong by an unknown amount (check C1, 2026-03-16)');
    expect(text('186 F')).toBe(
      'by a thermometer taken to be T1, found wrong by an unknown amount (check C1, 2026-03-16)',
    );
    expect(whyUnreliable(reading([ice('C1', 6, undefined)]))?.evidence.checks).toEqual([
      { check: 'C1', day: '2026-03-16', passed: false },
    ]);
  });
});

describe('checks of one point that disagree', () => {
  test('make it erratic from 4 °F on, on one day from 2 °F on, between and around them', () => {
    const oneDay = { day: '2026-03-11' };
    expect(because([ice('C1', 4, 0), ice('C2', 6, 4)])).toBeUndefined();
    expect(because([ice('C1', 4, -1), ice('C2', 6, 3.1)])).toBe('erratic');
    expect(because([ice('C1', 4, 0, oneDay), ice('C2', 6, 2, oneDay)])).toBeUndefined();
    expect(because([ice('C1', 4, 0, oneDay), ice('C2', 6, 2.1, oneDay)])).toBe('erratic');
    expect(because([ice('C1', 4, 0, { day: undefined }), ice('C2', 6, 2.1, { day: undefined })])).toBeUndefined();
    expect(because([ice('C1', 6, 0, oneDay), ice('C2', 7, 2.1, oneDay)])).toBeUndefined();
    expect(because([ice('C1', 3, 2.1, oneDay), ice('C2', 4, 0, oneDay)])).toBeUndefined();
  });

  test('are explained by an adjustment after the first, not by one after the second', () => {
    const adjusted = { done: 'adjusted' };
    expect(because([ice('C1', 4, -1, adjusted), ice('C2', 6, 3.1)])).toBeUndefined();
    expect(because([ice('C1', 4, -1), ice('C2', 6, 3.1, adjusted)])).toBe('erratic');
  });

  test('say what each of them read', () => {
    const found = whyUnreliable(reading([ice('C1', 4, 0), ice('C2', 6, 5)]));
    expect(found?.text).toBe(
      'by T1, whose checks disagree with no adjustment recorded between them (read right, check C1, 2026-03-14; read 5 °F high, check C2, 2026-03-16)',
    );
    expect(found?.evidence.checks).toEqual([
      { check: 'C1', day: '2026-03-14', passed: true, correction: 0, unit: 'F' },
      { check: 'C2', day: '2026-03-16', passed: false, correction: -5, unit: 'F' },
    ]);
  });
});

describe('a thermometer that a later check found to read high', () => {
  test('is unreliable where the corrected jar may have been below 180 °F', () => {
    expect(because([ice('C2', 6, 3)], '182.9 F#T1')).toBe('read-high');
    expect(because([ice('C2', 6, 3)], '183 F#T1')).toBeUndefined();
    expect(because([ice('C1', 6, 0), ice('C2', 7, 3)], '182 F#T1')).toBeUndefined();
  });
});

describe('a thermometer recorded as out of use', () => {
  const retired = { done: 'out of use from today' };
  test('is unreliable from that check on, until it is checked again', () => {
    expect(because([ice('C1', 4, 0, retired)])).toBe('out-of-use');
    expect(because([ice('C1', 5, 0, retired)])).toBe('out-of-use');
    expect(because([ice('C1', 6, 0, retired)])).toBeUndefined();
    expect(because([ice('C1', 3, 0, retired), ice('C2', 4, 0)])).toBeUndefined();
  });
});

test('a failed check by which it read low is named, for the jar was hotter than recorded', () => {
  const low = [ice('C1', 4, -3)];
  expect(checkThatReadLow(reading(low))?.id).toBe('C1');
  expect(checkThatReadLow(reading([ice('C1', 4, -1)]))).toBeUndefined();
  expect(checkThatReadLow(reading([ice('C1', 4, 3)]))).toBeUndefined();
  expect(checkThatReadLow(reading([ice('C0', 3, -3), ice('C1', 4, -1)]))).toBeUndefined();
});

test('checks are named by id and day, and by how wrong they were', () => {
  expect(formatCheckName(ice('C1', 4, 0, { day: undefined }))).toBe('check C1');
  expect(formatCheckError(ice('C1', 4, -2.5))).toBe('read 2.5 °F low');
  expect(formatCheckError(ice('C1', 4, undefined))).toBe('wrong');
  expect(formatCheckError(ice('C1', 4, undefined, { fit: 'yes' }))).toBe('right');
});
