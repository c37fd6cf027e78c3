import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { parseHydrometerAnswer } from '#libs/syrup/instruments/hydrometer-temperature.js';
import { judgeDensity } from '#libs/syrup/rules/judge-density.js';
import { judgeCup } from '#libs/syrup/rules/judge-cup.js';
import { placeRules } from '#libs/actions/places/places.js';
import { isRefusal } from '#libs/actions/record/problem.js';
import { density, temperature } from '../support/pack-facts.js';

const rulesOf = (name: string) => {
  const place = placeRules(name);
  if (isRefusal(place)) throw new Error(name);
  return place;
};
/** A reading by a hydrometer, for which nobody recorded what is printed on it. */
const unknown = (reading: string, at: string) => ({ ...density(reading, at), hydrometersMadeFor: undefined });

describe('A hydrometer whose temperature is not recorded', () => {
  test.each(['New York', 'Quebec', ''])('passes only what passes by 60 °F and by 68 °F, in %s', (name) => {
    const place = rulesOf(name);
    const isHeld = (facts: Parameters<typeof judgeDensity>[0]): boolean =>
      judgeDensity(facts, place).findings.some(({ stop }) => stop);
    const scales = fc.constantFrom(
      { scale: 'Bx', least: 57, most: 70 },
      { scale: 'Be', least: 31, most: 38 },
      { scale: 'SG', least: 1.27, most: 1.36 },
    );
    fc.assert(
      fc.property(
        scales,
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.integer({ min: 40, max: 212 }),
        (of, part, at) => {
          const reading = (of.least + part * (of.most - of.least)).toFixed(of.scale === 'SG' ? 3 : 1);
          const facts = unknown(`${reading} ${of.scale}`, `${at} F`);
          const by = ['60 F', '68 F'].map((made) => isHeld({ ...facts, calibratedAt: temperature(made) }));
          expect(isHeld(facts)).toBe(by.includes(true));
          expect(isHeld({ ...facts, hydrometersMadeFor: temperature('68 F') })).toBe(by[1]);
        },
      ),
      { numRuns: 300 },
    );
  });

  test('passes what the printed chart of the place asks for, with an advisory; other scales have to pass by both', () => {
    const rule = (reading: string) =>
      judgeDensity(unknown(reading, '185 F'), rulesOf('Vermont')).findings.map(({ rule, stop }) => [rule, stop]);
    expect(rule('60.4 Bx')).toEqual([
      ['density-near-limit', false],
      ['hydrometer-not-recorded', false],
    ]);
    expect(rule('60.9 Bx')).toEqual([]);
    expect(rule('60.3 Bx')).toEqual([['density-too-thin', true]]);
    expect(
      judgeDensity({ ...unknown('60.4 Bx', '185 F'), by: undefined }, rulesOf('Vermont')).findings.map((f) => f.rule),
    ).toContain('density-not-read');
    expect(judgeDensity(unknown('66.2 Bx', '60 F'), rulesOf('New York')).findings.map((f) => f.rule)).toContain(
      'hydrometer-temperature',
    );
  });

  test('is unsure in the hot cup, and thin where it is thin by both', () => {
    const verdict = (reading: string) => judgeCup(unknown(reading, '211 F'), rulesOf('Vermont')).verdict;
    expect([verdict('59.2 Bx'), verdict('58 Bx')]).toEqual(['hydrometer-not-known', 'too-thin']);
  });
});

test.each([
  ['60 F', '60-F'],
  ['60°F', '60-F'],
  ['60-f', '60-F'],
  ['15.6 C', '60-F'],
  ['68F', '68-F'],
  ['20 °C', '68-F'],
  ['Not known', 'not-known'],
  ['70 F', undefined],
  ['60', undefined],
  ['not-known F', undefined],
])('%s is the answer %s', (typed, answer) => {
  expect(parseHydrometerAnswer(typed).value).toBe(answer);
});
