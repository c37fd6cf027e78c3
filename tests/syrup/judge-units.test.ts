import { describe, expect, test } from '@jest/globals';
import { judgeUnits, type TemperaturesOfPack } from '#libs/syrup/rules/judge-units.js';
import { density, limitOf, placeOf, temperature } from '../support/pack-facts.js';

const place = placeOf({ minimum: limitOf(66, 35.6) });
const judgedUnits = (changes: Partial<TemperaturesOfPack>) =>
  judgeUnits({ fills: [], answers: [], ...changes }, place).map(({ rule, found }) => ({ rule, found }));
const sampleAt = (at: string, reading = '65 Bx') => ({ density: density(reading, at), fills: [temperature('186 F')] });
const rulesOf = (changes: Partial<TemperaturesOfPack>) => judgedUnits(changes).map(({ rule }) => rule);

describe('the temperature of a kettle', () => {
  test('holds the lot below 60 °C, not at it', () => {
    expect(rulesOf({ hotPackTemp: temperature('59.9 C') })).toEqual(['kettle-too-cold']);
    expect(rulesOf({ hotPackTemp: temperature('60 C') })).toEqual([]);
    expect(rulesOf({ hotPackTemp: temperature('60.5 C') })).toEqual([]);
  });

  test('is suggested in the other unit only where that is hot syrup', () => {
    const foundAt = (kettle: string) => judgedUnits({ hotPackTemp: temperature(kettle) })[0]?.found;
    expect(foundAt('88 F')).toContain('did you mean 88 °C?');
    expect(foundAt('60 F')).toContain('did you mean 60 °C?');
    expect(foundAt('59 F')).not.toContain('did you mean');
    expect(foundAt('107.2 F')).toContain('did you mean 107.2 °C?');
    expect(foundAt('108 F')).not.toContain('did you mean');
  });
});

describe('a sample in another unit than the rest', () => {
  test('is questioned from 50 to 79 °C, where the density fails in °F', () => {
    for (const at of ['50 C', '68 C', '79 C']) expect(rulesOf(sampleAt(at))).toEqual(['unit-question']);
    for (const at of ['49 C', '80 C']) expect(rulesOf(sampleAt(at))).toEqual([]);
  });

  test('is cleared by “no”, and corrected after “yes”', () => {
    const asked = { fills: [temperature('186 F')], density: density('65 Bx', '68 C'), answers: [] };
    const [question] = judgeUnits(asked, place);
    const after = (answer: string) =>
      judgeUnits({ ...asked, answers: [{ question: question!.found, answer, seq: 1 }] }, place).map(
        ({ wayOut }) => wayOut,
      );
    expect(question?.wayOut).toMatch(/^Answer “no” if the unit is right/);
    expect(after('no')).toEqual([]);
    expect(after('yes')).toEqual([expect.stringMatching(/^Correct the sample’s temperature/)]);
  });

  test('is not questioned where the density passes or fails in both units, or nothing else was read', () => {
    expect(rulesOf(sampleAt('68 C', '67.4 Bx'))).toEqual([]);
    expect(rulesOf(sampleAt('68 C', '55 Bx'))).toEqual([]);
    expect(rulesOf(sampleAt('68 F'))).toEqual([]);
    expect(rulesOf({ ...sampleAt('68 C'), fills: [] })).toEqual([]);
    expect(rulesOf({ ...sampleAt('68 C'), fills: [temperature('86 C')] })).toEqual([]);
    expect(rulesOf({ fills: [temperature('186 F')] })).toEqual([]);
  });
});
