import { describe, expect, test } from '@jest/globals';
import type { InstrumentChecked } from '#libs/syrup/instruments/instrument-checks.js';
import { correctionCelsiusAt } from '#libs/syrup/instruments/thermometer-correction.js';
import type { Thermometer } from '#libs/syrup/instruments/thermometers.js';
import { fills, found, judged, spoke, temperature, thermometer } from '../support/pack-facts.js';

type Check = Partial<Omit<InstrumentChecked, 'should' | 'reads'>> & { should?: string; reads?: string };
const checked = (id: string, ...checks: readonly Check[]): Thermometer => ({
  id,
  checkedThisSeason: true,
  checks: checks.map(({ should, reads, ...rest }, index) => ({
    id: `C${index + 1}`,
    atMs: 100 * (index + 1),
    how: 'ice',
    ...rest,
    ...(should ? { should: temperature(should) } : {}),
    ...(reads ? { reads: temperature(reads) } : {}),
  })),
});
/** Fill readings taken at a moment. */
const at = (text: string, atMs: number) => fills(text).map((fill) => ({ ...fill, atMs }));
const rules = (reading: string, of: readonly Thermometer[], atMs = 150): string[] =>
  spoke({ fills: at(reading, atMs), thermometers: of });

describe('a correction is calculated at the temperature of the reading', () => {
  const lowInIce = thermometer('T1', [
    ['boiling-water', 212, 212],
    ['ice', 32, 27],
  ]);
  test('between ice and boiling: 176 °F with a thermometer right at the boil and 5 °F low in ice is about 177 °F, and too cold', () => {
    expect(spoke({ fills: fills('176 F#T1'), thermometers: [lowInIce] })).toEqual([
      'fill-temperature!',
      'thermometer-read-low',
    ]);
    const celsius = (correctionCelsiusAt(lowInIce.checks, { atMs: 9, celsius: 80 }) ?? 0) * 1.8;
    expect(celsius).toBeCloseTo((5 * (212 - 176)) / (212 - 27), 3);
  });

  test.each([
    ['180 F', 'ice', 32, 33.9, 'fill-temperature!'],
    ['181.8 F', 'ice', 32, 33.9, 'fill-temperature!'],
    ['181.9 F', 'ice', 32, 33.9, ''],
    ['178 F', 'ice', 32, 29, 'fill-perhaps-hot-enough! thermometer-read-low'],
    ['176.9 F', 'ice', 32, 29, 'fill-temperature! thermometer-read-low'],
    ['179.9 F', 'ice', 32, 31, 'fill-perhaps-hot-enough!'],
    ['186 F', 'ice', 32, 29, 'thermometer-read-low'],
    ['180 F', 'ice', 32, 32, ''],
    ['82 C', 'boiling-water', 212, 213, 'fill-temperature!'],
  ])('%s with a thermometer that in %s should read %d and read %d °F: %s', (reading, how, should, reads, spoken) => {
    const of = [thermometer('T1', [[how, should, reads]])];
    expect(spoke({ fills: fills(`${reading}#T1`), thermometers: of })).toEqual(spoken.split(' ').filter(Boolean));
  });

  test('a reference near the fill temperature takes precedence over ice and boiling', () => {
    const of = thermometer('T1', [
      ['ice', 32, 37],
      ['reference', 180, 180],
      ['boiling-water', 212, 217],
    ]);
    expect(spoke({ fills: fills('180 F#T1'), thermometers: [of] })).toEqual([]);
  });

  test('of the last check before the reading and the first after it, the one that lowers it more counts', () => {
    const drifting = checked('T1', { should: '32 F', reads: '32 F' }, { should: '32 F', reads: '33.5 F' });
    expect([50, 150, 250].map((ms) => rules('181 F#T1', [drifting], ms))).toEqual([
      [],
      ['fill-temperature!'],
      ['fill-temperature!'],
    ]);
  });

  test('both values are given, but only if the correction matters', () => {
    const high = { thermometers: [thermometer('T1', [['ice', 32, 33.9]])] };
    expect(found('fill-temperature', { ...high, fills: fills('180.0 F@14:10#t1;190 F#T1') }).found).toBe(
      '178.1 °F after correction (T1 showed 180.0 °F and reads 1.9 °F high there), the first of 2 readings, at 14:10',
    );
    expect(judged({ ...high, fills: fills('185 F#T1') }).lowestFill?.typed).toBe('185 F');
  });
});

describe('a bad check holds readings it may have affected', () => {
  const good = { should: '32 F', reads: '32 F' };
  test('by an unknown amount: since the last good check, and until the next one', () => {
    const t1 = checked('T1', good, { fit: 'no' }, good);
    expect([50, 150, 200, 250, 350].map((ms) => rules('190 F#T1', [t1], ms))).toEqual([
      [],
      ['thermometer-unreliable!'],
      ['thermometer-unreliable!'],
      ['thermometer-unreliable!'],
      [],
    ]);
  });
  test('erratic: more than 4 °F between two checks, or more than 2 °F on one day, unless it was adjusted', () => {
    const apart = (first: Check, second: Check) => rules('190 F#T1', [checked('T1', first, second)]);
    const drift = { should: '32 F', reads: '27.5 F' };
    expect(apart(good, drift)).toEqual(['thermometer-unreliable!']);
    expect(apart(good, { should: '32 F', reads: '29 F' })).toEqual([]);
    expect(apart({ ...good, day: '2026-03-20' }, { should: '32 F', reads: '29 F', day: '2026-03-20' })).toEqual([
      'thermometer-unreliable!',
    ]);
    expect(apart({ ...drift, done: 'adjusted by its nut' }, good)).toEqual([]);
    for (const done of ['nut under the dial turned until it read 32', 'turned the little screw', 'écrou tourné'])
      expect(apart({ ...drift, done }, good)).toEqual([]);
    for (const done of ['the nut could not be turned', 'turned it off', 'the needle moved by itself', ''])
      expect(apart({ ...drift, done }, good)).toEqual(['thermometer-unreliable!']);
  });
  test('two checks that disagree: says what they read, and asks whether it was adjusted rather than calling it erratic', () => {
    const high = checked('T1', { should: '32 F', reads: '37 F' }, { should: '32 F', reads: '32.3 F' });
    const [finding] = judged({ fills: at('190 F#T1', 150), thermometers: [high] }).findings;
    expect(finding?.found).toMatch(
      /by T1, whose checks disagree with no adjustment recorded between them \(read 5 °F high, check .*; read 0\.3 °F high, check /,
    );
    expect(finding?.wayOut).toMatch(
      /^If T1 was adjusted after check \S+, correct that check to say so\. A maker releases/,
    );
    expect(finding?.about).toBe(`check/${high.checks[0]?.id}`);
  });
  test('set right between the two while it was looked at in boiling water, which moves its whole scale', () => {
    const boiling = { how: 'boiling-water', should: '210.4 F', reads: '206 F' };
    const between = (done: string) => [
      checked('T1', good, { ...boiling, done }, { ...boiling, reads: '210.4 F' }, { should: '32 F', reads: '36.4 F' }),
    ];
    expect(rules('190 F#T1', between('adjusted by its nut'), 350)).toEqual([]);
    expect(rules('190 F#T1', between(''), 350)).toEqual(['thermometer-unreliable!']);
  });
  test('that read high, by a worse check after the first that follows the reading', () => {
    const worse = checked('T1', good, { should: '32 F', reads: '34.5 F' }, { should: '32 F', reads: '36 F' });
    expect(rules('183 F#T1', [worse])).toEqual(['thermometer-unreliable!']);
    expect(rules('187 F#T1', [worse])).toEqual([]);
  });
  test('a result of yes doesn’t outweigh two temperatures that disagree', () => {
    expect(rules('181 F#T1', [checked('T1', { should: '32 F', reads: '37 F', fit: 'yes' })])).toEqual([
      'fill-temperature!',
    ]);
  });
  test('each hold says what to do', () => {
    for (const checks of [[{ fit: 'no' as const }], [{ should: '32 F', reads: '29 F' }]])
      expect(
        judged({ fills: at('178 F#T1;190 F#T1', 150), thermometers: [checked('T1', ...checks)] }).findings.filter(
          ({ stop, wayOut }) => stop && !wayOut,
        ),
      ).toEqual([]);
  });
});

describe('the thermometer of a reading', () => {
  const high = thermometer('T2', [['ice', 32, 35]]);
  const right = thermometer('T1', [['ice', 32, 32]]);
  test('is the house’s only one if not named, and of several the one that lowers the reading most', () => {
    expect(rules('182 F', [right])).toEqual([]);
    expect(rules('182 F', [high])).toEqual(['fill-temperature!']);
    expect(rules('182 F', [right, high])).toEqual(['fill-temperature!']);
    expect(rules('182 F#T1', [right, high])).toEqual([]);
  });
  test('is never one that was taken out of use before', () => {
    const retired = checked('T2', { should: '32 F', reads: '35 F', done: 'taken off the wall, not used again' });
    expect(rules('182 F', [right, retired], 150)).toEqual([]);
    expect(rules('182 F', [right, retired], 50)).toEqual(['fill-temperature!']);
  });
  test('opens nothing if it raises the reading, named or not', () => {
    const low = thermometer('T1', [['ice', 32, 29]]);
    expect(rules('178 F', [low])[0]).toBe('fill-perhaps-hot-enough!');
    expect(rules('178 F', [low, right])).toEqual(['fill-temperature!']);
  });
  test('must be checked itself this season: a check of another clears nothing', () => {
    expect(found('thermometer-not-checked', { fills: fills('190 F#T9'), thermometers: [right] }).found).toBe(
      'no check of thermometer T9 this season',
    );
    expect(rules('190 F#T1', [right])).toEqual([]);
  });
  test('is a finding if it is unchecked and reads within 2 °F above the limit, with what to do', () => {
    const unchecked = { ...thermometer('T1'), checkedThisSeason: false };
    expect(rules('181.9 F#T1', [unchecked])).toEqual(['thermometer-near-limit', 'thermometer-not-checked']);
    expect(rules('182 F#T1', [unchecked])).toEqual(['thermometer-not-checked']);
    expect(found('thermometer-near-limit', { fills: fills('83 C#T1'), thermometers: [unchecked] }).found).toMatch(
      /check it in ice and in boiling water before any of the lot is sent out$/,
    );
  });
});

test('a hold based on elevation alone asks for the day’s pressure, and a check with it clears the hold', () => {
  const byElevation = { how: 'boiling-water', should: '210 F', reads: '212.5 F', shouldFrom: 'elevation' as const };
  const byPressure = { how: 'boiling-water', should: '212.3 F', reads: '212.5 F', shouldFrom: 'pressure' as const };
  const reading = { fills: at('181 F#T1', 150) };
  const held = judged({ ...reading, thermometers: [checked('T1', byElevation)] });
  expect(held.findings[0]?.wayOut).toMatch(/^Check T1 again in boiling water with today’s pressure/);
  expect(spoke({ ...reading, thermometers: [checked('T1', byElevation, byPressure)] })).toEqual([]);
  const adjusted = [checked('T1', { ...byElevation, done: 'adjusted' }, byPressure)];
  expect(spoke({ fills: at('181 F#T1', 50), thermometers: adjusted })).toEqual(['fill-temperature!']);
  // A reading after the adjustment is judged by the check that shows how the thermometer reads since.
  expect(spoke({ ...reading, thermometers: adjusted })).toEqual([]);
});
