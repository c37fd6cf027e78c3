import { describe, expect, test } from '@jest/globals';
import { formatUncovered, formatUncoveredJar } from '#libs/syrup/jars/uncovered-jars.js';
import { judgeReadings, formatReadingInFinding } from '#libs/syrup/rules/judge-reading.js';
import { boil, container, fills, found, judged, spoke, thermometer } from '../support/pack-facts.js';

/** The findings on one reading by a thermometer that should have read 32 °F in ice. */
const inText = (reading: string, readsInIce: number): string => {
  const [only] = judgeReadings(fills(reading), [thermometer('T1', [['ice', 32, readsInIce]])]);
  return only ? formatReadingInFinding(only, 1) : '';
};

describe('a reading is named as typed, and with its correction where that matters', () => {
  test.each([
    ['186 F@14:10#T1 jar 9', 32, '186 °F, the only reading, at 14:10, jar 9'],
    // Within 2 °F, and hot enough either way.
    ['186 F#T1', 33, '186 °F, the only reading'],
    // Beyond 2 °F it is a finding though it changes nothing.
    ['186 F#T1', 35, '183 °F after correction (T1 showed 186 °F and reads 3 °F high there), the only reading'],
    ['186 F#T1', 29, '189 °F after correction (T1 showed 186 °F and reads 3 °F low there), the only reading'],
    // It makes the reading too cold, or perhaps hot enough.
    ['180.5 F#T1', 33, '179.5 °F after correction (T1 showed 180.5 °F and reads 1 °F high there), the only reading'],
    ['179.5 F#T1', 31, '180.5 °F after correction (T1 showed 179.5 °F and reads 1 °F low there), the only reading'],
    // Too cold as typed, and still too cold.
    ['178 F#T1', 33, '178 °F, the only reading'],
    ['178 F', 32, '178 °F, the only reading'],
  ])('%s with a thermometer that reads %d °F in ice', (reading, readsInIce, text) => {
    expect(inText(reading, readsInIce)).toBe(text);
  });

  test('in °C the correction is in °C', () => {
    expect(inText('86 C#T1', 35.6)).toBe(
      '84 °C after correction (T1 showed 86 °C and reads 2 °C high there), the only reading',
    );
  });

  test('by its position among the others', () => {
    const [, second] = judgeReadings(fills('186 F;178 F;185 F'), []);
    expect(second && formatReadingInFinding(second, 3)).toBe('178 °F, the second of 3 readings');
  });
});

describe('a hold is described with what clears it', () => {
  const act = (jars: string, readings: string) => ({
    how: 'packed-again' as const,
    jars: [{ from: Number(jars.split('-')[0]), to: Number(jars.split('-')[1]) }],
    fills: fills(readings),
  });
  const cold = fills('186 F jar 8;178 F jar 12;186 F jar 16');

  test('a cold reading no longer holds anything once all its jars were packed again and read hot', () => {
    const jars = { jars: 16, drawnMl: 16 * 250, fills: cold };
    expect(spoke(jars)).toContain('fill-temperature!');
    expect(spoke({ ...jars, actions: [act('9-15', '188 F jar 12;188 F jar 15')] })).not.toContain('fill-temperature!');
    expect(spoke({ ...jars, actions: [act('9-15', '188 F jar 12')] })).toContain('fill-temperature!');
  });

  test.each([
    ['178 F jar 1;186 F jar 2', 'about 10 min'],
    ['178 F jar 4;186 F jar 5', 'about 15 min'],
    ['178 F jar 10;186 F jar 11', 'about 30 min'],
    ['178 F jar 11;186 F jar 12', 'about 35 min'],
  ])('%s takes %s to pour back', (readings, minutes) => {
    const finding = judged({ fills: fills(readings) }).findings.find(({ rule }) => rule === 'fill-temperature');
    expect(finding?.wayOut).toContain(minutes);
  });

  test.each([
    // Judged by elevation alone and corrected downwards: the day's pressure may show that the thermometer is right.
    ['elevation', '182 F', 209, 212, /^Check T1 again in boiling water with today’s pressure/],
    ['pressure', '182 F', 209, 212, /^Pour back/],
    // Corrected upwards it opens nothing, and a check with the pressure would not help.
    ['elevation', '178 F', 212, 209, /^A maker releases it with the reason; or pour back/],
  ] as const)(
    'by %s, %s at a boiling point of %d °F with a reading of %d',
    (shouldFrom, reading, should, reads, wayOut) => {
      const t1 = thermometer('T1', [['boiling-water', should, reads]]);
      const checks = t1.checks.map((check) => ({ ...check, shouldFrom }));
      const { findings } = judged({
        fills: fills(`${reading}#T1 jar 4;190 F jar 5`),
        thermometers: [{ ...t1, checks }],
      });
      expect(findings.find(({ stop }) => stop)?.wayOut).toMatch(wayOut);
    },
  );

  test('jars without a reading are listed if there are any', () => {
    expect(formatUncovered(undefined)).toBe('');
    expect(formatUncovered([])).toBe('');
    expect(formatUncovered([{ from: 25, to: 30 }])).toBe('No fill reading covers jars 25–30.');
    const all = [{ from: 1, to: 30 }];
    expect(formatUncovered(all, { made: 30 })).toBe('No fill reading covers jars 1–30.');
    expect(formatUncovered(all, { made: 30, wereRead: true })).toContain('without jar numbers');
    const some = [
      [{ from: 1, to: 29 }],
      [{ from: 2, to: 30 }],
      [
        { from: 1, to: 30 },
        { from: 32, to: 32 },
      ],
    ];
    for (const spans of some) expect(formatUncovered(spans, { made: 30, wereRead: true })).toContain('No fill reading');
  });

  test('of one jar only if no reading covers it', () => {
    const wereRead = { made: 30, wereRead: true };
    const spans = [{ from: 25, to: 30 }];
    expect([24, 25, 30].map((n) => formatUncoveredJar(n, spans, wereRead))).toEqual([
      '',
      'No fill reading covers this jar.',
      'No fill reading covers this jar.',
    ]);
    expect(formatUncoveredJar(3, [{ from: 1, to: 30 }], wereRead)).toContain('without jar numbers');
    expect(formatUncoveredJar(3, [{ from: 1, to: 30 }], { made: 30, wereRead: false })).toContain('No fill reading');
  });
});

describe('more in the jars than was drawn', () => {
  const litre = container('glass jar 1 L');
  const over = (drawnMl: number) => ({ container: litre, jars: 1, drawnMl });
  test('is a finding past 5 %, with enough decimals to show that it is more', () => {
    expect(spoke(over(1000 / 1.05))).not.toContain('more-in-jars-than-drawn!');
    expect(found('more-in-jars-than-drawn', over(1000 / 1.06)).found).toMatch(/, 6 % more than the/);
    expect(found('more-in-jars-than-drawn', over(1000 / 1.0504)).found).toMatch(/, 5\.04 % more than the/);
    expect(found('more-in-jars-than-drawn', over(1000 / 1.05004)).found).toMatch(/, 5\.004 % more than the/);
    expect(found('more-in-jars-than-drawn', over(1000 / 1.050004)).found).toMatch(/, 5\.0004 % more than the/);
    expect(found('more-in-jars-than-drawn', over(0)).found).toMatch(/ is not recorded$/);
    expect(found('more-in-jars-than-drawn', over(500)).limit).toMatch(/no more than 5 % more/);
  });
});

describe('seals that failed', () => {
  test('are described as all, one or some of them', () => {
    const sealed = (jars: number, sealsFailed: number) => found('seals-failed', { jars, sealsFailed }).found;
    expect(sealed(1, 1)).toBe('the only seal failed');
    expect(sealed(12, 12)).toBe('all 12 seals failed');
    expect(sealed(12, 1)).toBe('1 seal failed, no outcome recorded');
    expect(sealed(12, 2)).toBe('2 seals failed, no outcome recorded');
    expect(spoke({ sealsFailed: 0 })).toEqual([]);
  });
});

describe('jars that a corrective action took off sale', () => {
  const destroyed = { how: 'destroyed' as const, jars: [{ from: 1, to: 4 }], fills: [] };
  test.each([undefined, 'maple cream'])(
    'are stored in the verdict of %s, and nothing is if there were none',
    (product) => {
      const of = product === undefined ? {} : { product };
      expect(judged({ ...of, actions: [destroyed] }).gone).toEqual([{ from: 1, to: 4 }]);
      expect(judged(of)).not.toHaveProperty('gone');
    },
  );

  test('of another product the boils are checked for a filter once it is finished, and not before', () => {
    const boils = [boil({ filters: [] })];
    const answers = (jars: number | null) => spoke({ product: 'maple cream', jars, boils });
    expect(answers(64)).not.toEqual(answers(null));
    expect(answers(64).some((rule) => rule.startsWith('filter'))).toBe(true);
    expect(answers(null).some((rule) => rule.startsWith('filter'))).toBe(false);
  });
});
