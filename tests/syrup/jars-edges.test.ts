import { describe, expect, test } from '@jest/globals';
import { judgeAction } from '#libs/syrup/jars/judge-action.js';
import { findGaps } from '#libs/syrup/jars/jar-coverage.js';
import { judgeBrokenGlass } from '#libs/syrup/jars/judge-broken-glass.js';
import { type JarFacts, judgeJars, leastSealCoolingMs } from '#libs/syrup/jars/judge-jars.js';
import type { CheckInterval } from '#libs/syrup/quantities/check-interval.js';
import { container, fills, found, spoke, thermometer } from '../support/pack-facts.js';

const halfPint = container('glass jar 8 fl oz');
const facts: JarFacts = {
  container: halfPint,
  jars: 12,
  drawnMl: null,
  sealsFailed: 0,
  sealsOutcome: '',
  containerPrep: 'boiled',
  place: { canada: false },
};
const says = (changes: Partial<JarFacts>): string =>
  judgeJars({ ...facts, ...changes })
    .map((finding) => `${finding.rule}: ${finding.found}`)
    .join('; ');

describe('seals', () => {
  test.each([
    [{ sealsFailed: 1 }, '1 seal failed, no outcome recorded'],
    [{ sealsFailed: 2, sealsOutcome: ' sold ' }, '2 seals failed, “sold”'],
    [{ sealsFailed: 11 }, '11 seals failed'],
    [{ sealsFailed: 12 }, 'all 12 seals failed'],
    [{ sealsFailed: 13 }, 'all 12 seals failed'],
    [{ jars: 1, sealsFailed: 1 }, 'the only seal failed'],
    [{ jars: 0, sealsFailed: 1 }, '1 seal failed'],
    [{ jars: null, sealsFailed: 1 }, '1 seal failed'],
    [{ sealsFailed: 12, sealsOutcome: 'poured back' }, 'all 12 seals failed'],
  ] as const)('%j: %s', (changes, text) => expect(says(changes)).toContain(`seals-failed: ${text}`));

  test('give no finding if jars were taken off sale and none failed', () => {
    expect([says({}), says({ sealsFailed: 2, sealsOutcome: 'poured back' })]).toEqual(['', '']);
  });

  test('that are not counted are asked for once the pack is finished', () => {
    expect([says({ sealsFailed: null }), says({ sealsFailed: null, jars: null })]).toEqual([
      'seals-not-checked: seals not checked yet',
      '',
    ]);
  });

  test.each([
    [leastSealCoolingMs - 60_000, '11 h 59 min'],
    [0, '0 min'],
    [3_600_000, '1 h'],
  ])('counted %i ms after filling are too early', (sealsAfterMs, text) => {
    expect(says({ sealsAfterMs, sealsFailed: 0 })).toContain(
      `0 failed by a count made or entered ${text} after filling`,
    );
  });

  test('counted before jars that were filled later: not “0 min after”', () => {
    expect(says({ sealsAfterMs: -60_000, sealsFailed: 0 })).toContain(
      '0 failed by a count made or entered before the last jars were filled',
    );
  });

  test('counted 12 h after filling are late enough; there are none to count if all failed, in bulk, or unfinished', () => {
    expect(leastSealCoolingMs).toBe(43_200_000);
    expect(says({ sealsAfterMs: leastSealCoolingMs })).toBe('');
    expect(says({ sealsAfterMs: 0, sealsFailed: 11 })).toContain('seals-not-checked');
    expect(says({ sealsAfterMs: 0, sealsFailed: 12 })).not.toContain('seals-not-checked');
    expect(says({ sealsAfterMs: 0, jars: null })).toBe('');
    expect(says({ sealsAfterMs: 0, sealsFailed: null })).toBe('seals-not-checked: seals not checked yet');
    expect(says({ sealsAfterMs: 0, container: container('plastic drum 40 gal'), jars: 1 })).toBe('');
  });
});

describe('more in the jars than was drawn', () => {
  const inJars = 12 * halfPint.volume.millilitres;
  const over = (share: number): string => says({ drawnMl: inJars / share });
  test.each([
    [1.0604, '6 % more'],
    [1.05043, '5.04 % more'],
    [1.050043, '5.004 % more'],
    [1.0500043, '5.0004 % more'],
    [1.050000043, '5.000004 % more'],
  ])('%d times what was drawn is reported as %s', (share, text) => expect(over(share)).toContain(text));

  test('five percent is allowed for pails and gauges, to the last drop, and no more', () => {
    expect([over(1.04), over(1.05)]).toEqual(['', '']);
    // The allowance, in one jar of exactly that size.
    const drawnMl = 1000;
    const most = drawnMl * (1 + 0.05) * (1 + 1e-9);
    const jarOf = (millilitres: number) => ({ ...halfPint, volume: { ...halfPint.volume, millilitres } });
    expect(says({ jars: 1, drawnMl, container: jarOf(most) })).toBe('');
    expect(says({ jars: 1, drawnMl, container: jarOf(most + 0.001) })).toContain('more-in-jars-than-drawn');
  });

  test('with no amount drawn on record, the finding says so', () => {
    expect(says({ drawnMl: 0 })).toContain('; how much syrup was drawn for them is not recorded');
    expect(judgeJars({ ...facts, drawnMl: 1 })[0]?.limit).toBe('no more than 5 % more in the jars than was drawn');
    expect(says({ drawnMl: 1 })).toContain('% more than the');
    expect(says({ drawnMl: 1, jars: null })).toBe('');
  });
});

test('warming is asked for glass and metal jars, once a value is recorded or the pack is finished', () => {
  const plastic = container('plastic jug 1 qt');
  expect(says({ containerPrep: '' })).toBe('not-preheated: glass jar: whether they were warmed is not recorded');
  expect(says({ containerPrep: ' washed ' })).toBe('not-preheated: glass jar: “washed”');
  expect(says({ containerPrep: '', jars: null })).toBe('');
  expect(says({ containerPrep: 'washed', jars: null })).toContain('not-preheated');
  expect(says({ containerPrep: '', container: plastic })).toBe('');
});

describe('broken glass', () => {
  const held = (from: number, to: number, jars: number | null, ...actions: Parameters<typeof judgeBrokenGlass>[1]) => {
    const [finding] = judgeBrokenGlass([{ from, to }], actions, jars);
    return finding ? (finding.jars?.map((span) => `${span.from}-${span.to}`).join() ?? 'all') : 'none';
  };
  test('holds two jars on each side, none before the first or after the last', () => {
    expect([held(7, 7, 32), held(7, 9, 32), held(2, 2, 32), held(1, 1, 32), held(31, 32, 32)]).toEqual([
      '5-9',
      '5-11',
      '1-4',
      '1-3',
      '29-32',
    ]);
    expect([held(3, 3, 5), held(3, 3, 6), held(3, 3, null)]).toEqual(['all', '1-5', 'all']);
    expect(judgeBrokenGlass([], [], 32)).toEqual([]);
  });
  test('at a jar that the pack doesn’t have holds all of it; with uncounted jars there is no such jar', () => {
    expect([held(33, 33, 32), held(32, 33, 32), held(32, 32, 32)]).toEqual(['all', 'all', '30-32']);
    const [uncounted] = judgeBrokenGlass([{ from: 7, to: 7 }], [], null);
    expect(uncounted?.found).toBe('glass broke at jar 7: jars 5–9 may hold splinters');
  });
  test('is cleared for jars that were inspected or destroyed, and by nothing else', () => {
    const action = { jars: [{ from: 5, to: 8 }], fills: [] };
    expect(held(7, 7, 32, { ...action, how: 'inspected' })).toBe('9-9');
    expect(held(7, 7, 32, { ...action, how: 'destroyed' })).toBe('9-9');
    expect(held(7, 7, 32, { ...action, how: 'poured-back' })).toBe('5-9');
    expect(held(7, 7, 32, { ...action, how: 'packed-again' })).toBe('5-9');
    expect(held(7, 7, 32, { ...action, how: 'inspected', clearsNothing: true })).toBe('5-9');
    expect(held(7, 7, 32, { ...action, jars: [{ from: 1, to: 9 }], how: 'inspected' })).toBe('none');
  });
});

test('a cold jar that an action doesn’t name prevents it from clearing those it names', () => {
  const action = { how: 'packed-again', jars: [{ from: 1, to: 3 }], fills: fills('188 F jar 3;178 F jar 9') } as const;
  expect(judgeAction(action, [], ({ outcome }) => outcome === 'hot enough').cleared).toEqual([]);
});

describe('readings by the clock', () => {
  const beyond = (...minutes: (number | undefined)[]) =>
    findGaps(
      minutes.map((after, n) => {
        const [fill] = fills(`186 F@10:0${n}`);
        return { fill: { ...fill!, ...(after === undefined ? {} : { atMs: after * 60_000 }) } };
      }),
      48,
      { minutes: 15 } as CheckInterval,
    ).gapTexts;
  test('half a minute beyond the interval is rounded up to a minute', () => {
    expect([beyond(0, 15.4), beyond(0, 15.5)]).toEqual([[], ['no reading for 16 min, from 10:00 to 10:01']]);
  });
  test('one of an unknown day doesn’t count between two of known days', () => {
    expect(beyond(0, undefined, 20)).toEqual(['no reading for 20 min, from 10:00 to 10:02']);
  });
});

describe('the sentences about a cold fill', () => {
  const pack = { drawnMl: null, jars: 40 };
  const cold = (readings: string) =>
    found('fill-temperature', { ...pack, fills: fills(readings) }) as unknown as { found: string; wayOut: string };

  test('name the five coldest readings, and how many more there are', () => {
    const readings = [179, 178, 177, 176, 175, 174].map((degrees, n) => `${degrees} F jar ${(n + 1) * 4}`);
    expect(cold(readings.slice(0, 5).join(';')).found).not.toContain('more');
    const six = cold(readings.join(';')).found;
    expect(six).toMatch(/^174 °F.*; and 1 more$/);
    expect(six).not.toContain('179 °F');
  });

  test('say how long opening and filling again takes, ten minutes at least', () => {
    expect(cold('186 F jar 4;179 F jar 5;186 F jar 40').wayOut).toContain('(about 105 min)');
    const short = (to: number) => cold(`186 F jar 4;179 F jar ${to};186 F jar ${to + 1};186 F jar 40`).wayOut;
    expect([short(5), short(7), short(8)]).toEqual([
      expect.stringContaining('(about 10 min)'),
      expect.stringContaining('(about 10 min)'),
      expect.stringContaining('(about 15 min)'),
    ]);
  });

  test('don’t ask for the day’s pressure where elevation found the thermometer right', () => {
    const exact = thermometer('T1', [['boiling-water', 210, 210]]);
    const byElevation = {
      ...exact,
      checks: exact.checks.map((each) => ({ ...each, shouldFrom: 'elevation' as const })),
    };
    const finding = found('fill-temperature', {
      ...{ ...pack, fills: fills('179 F#T1 jar 8;186 F#T1 jar 40') },
      thermometers: [byElevation],
    }) as unknown as { wayOut: string };
    expect(finding.wayOut).toMatch(/^Pour back/);
  });

  test('give the requirement for a reading that only a correction makes hot enough, and for a bad thermometer', () => {
    const corrected = {
      ...pack,
      fills: fills('179 F#T1 jar 40'),
      thermometers: [thermometer('T1', [['ice', 32, 30]])],
    };
    const bad = thermometer('T1', [['ice', 32, 32]]);
    const checks = bad.checks.map(({ should: _should, reads: _reads, ...check }) => ({ ...check, fit: 'no' as const }));
    const wrong = { ...pack, fills: fills('186 F#T1 jar 40'), thermometers: [{ ...bad, checks }] };
    const limit = '180 °F or more in the jar when capped';
    expect(spoke(corrected)).toContain('fill-perhaps-hot-enough!');
    expect(found('fill-perhaps-hot-enough', corrected).limit).toBe(`${limit} as read, without a correction upwards`);
    expect(spoke(wrong)).toContain('thermometer-unreliable!');
    expect(found('thermometer-unreliable', wrong).limit).toBe(`${limit}, by a thermometer that passed its checks`);
  });
});

test('readings in both units are compared with the limit in their own unit', () => {
  const both = { drawnMl: null, jars: 40, fills: fills('179 F jar 8;81 C jar 16') };
  expect(found('fill-temperature', both).limit).toContain('180 °F or 82 °C or more');
});
