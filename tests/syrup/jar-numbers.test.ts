import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { readingJarSpan } from '#libs/syrup/jars/uncovered-jars.js';
import {
  type JarSpan,
  mergeSpans,
  formatSpans,
  overlapsSpans,
  coversSpans,
  jarsInSpans,
  parseJarSpans,
  intersectSpans,
  subtractSpans,
} from '#libs/syrup/jars/jar-spans.js';
import { coveredJars, findGaps, jarsHeldBy } from '#libs/syrup/jars/jar-coverage.js';
import { jarStateOf } from '#libs/syrup/jars/jar-state.js';
import { fills } from '../support/pack-facts.js';

const most = 24;
const span = fc
  .tuple(fc.integer({ min: 1, max: most }), fc.integer({ min: 0, max: 8 }))
  .map(([from, more]): JarSpan => ({ from, to: Math.min(most, from + more) }));
const someSpans = fc.array(span, { maxLength: 5 });
const jarsOf = (spans: readonly JarSpan[]): number[] =>
  Array.from({ length: most }, (_, n) => n + 1).filter((n) => spans.some(({ from, to }) => from <= n && n <= to));
const read = (text: string) => fills(text).map((fill) => ({ fill }));

describe('Ranges of jars are equal to the jars one by one', () => {
  test('when merged: the same jars, in order, at least one jar apart', () => {
    fc.assert(
      fc.property(someSpans, (spans) => {
        const merged = mergeSpans(spans);
        expect(jarsOf(merged)).toEqual(jarsOf(spans));
        merged.slice(1).forEach(({ from }, n) => expect(from).toBeGreaterThan((merged[n]?.to ?? Infinity) + 1));
        expect(jarsInSpans(spans)).toBe(jarsOf(spans).length);
      }),
    );
  });
  test('when subtracted, intersected and compared', () => {
    fc.assert(
      fc.property(someSpans, someSpans, span, (spans, others, jars) => {
        const [ours, theirs] = [jarsOf(spans), jarsOf(others)];
        expect(jarsOf(subtractSpans(spans, others))).toEqual(ours.filter((n) => !theirs.includes(n)));
        expect(subtractSpans(spans, others).every(({ from, to }) => to >= from)).toBe(true);
        expect(jarsOf(intersectSpans(spans, others))).toEqual(ours.filter((n) => theirs.includes(n)));
        expect(coversSpans(spans, others)).toBe(theirs.every((n) => ours.includes(n)));
        expect(overlapsSpans(spans, jars)).toBe(jarsOf([jars]).some((n) => ours.includes(n)));
      }),
    );
  });
  test.each<[readonly JarSpan[], string]>([
    [[{ from: 9, to: 9 }], 'jar 9'],
    [[{ from: 9, to: 10 }], 'jars 9–10'],
    [
      [
        { from: 9, to: 9 },
        { from: 12, to: 12 },
      ],
      'jars 9 and 12',
    ],
    [
      [
        { from: 9, to: 24 },
        { from: 31, to: 31 },
      ],
      'jars 9–24 and 31',
    ],
  ])('%j are written as %s', (spans, formatted) => expect(formatSpans(spans)).toBe(formatted));
});

describe('Jars named in words', () => {
  test.each([
    ['186 F jars 9-16', { from: 9, to: 16 }],
    ['186 F jars 9 to 16', { from: 9, to: 16 }],
    ['186 F jar 1', { from: 1, to: 1 }],
    ['186 F jars 4-4', { from: 4, to: 4 }],
    ['186 F jars 16-9', undefined],
    ['186 F jar 0', undefined],
    ['186 F tray 2', undefined],
    ['186 F', undefined],
  ])('for a reading, %s', (typed, jars) => expect(readingJarSpan(fills(typed)[0])).toEqual(jars));
  test.each([
    ['13-18', [{ from: 13, to: 18 }]],
    [
      'jars 9–16 and 31',
      [
        { from: 9, to: 16 },
        { from: 31, to: 31 },
      ],
    ],
    [
      '4, 7',
      [
        { from: 4, to: 4 },
        { from: 7, to: 7 },
      ],
    ],
    ['1', [{ from: 1, to: 1 }]],
    ['#4', [{ from: 4, to: 4 }]],
    ['5-5', [{ from: 5, to: 5 }]],
    ['all', []],
  ])('for an action, %s', (typed, spans) => {
    expect(parseJarSpans(typed).value).toEqual({ typed, spans, all: typed === 'all' });
  });
  test('that can’t be parsed are shown as typed', () => {
    expect(parseJarSpans(' some ').mismatch?.got).toBe('"some"');
    expect(parseJarSpans(' ').mismatch?.got).toBe('nothing');
  });
  test.each(['0', '0-4', '9-8', 'some', '', '4,,7'])('%j are no jars', (typed) =>
    expect(parseJarSpans(typed).mismatch?.expected).toMatch(/^jars by number/),
  );
});

describe('Which jars a reading covers', () => {
  const coveredBy = (text: string): string[] => coveredJars(read(text)).map(({ jars }) => `${jars.from}-${jars.to}`);
  test('are all since the reading before it, in whatever order they were written', () => {
    expect(coveredBy('186 F jar 8;185 F jar 12')).toEqual(['1-8', '9-12']);
    expect(coveredBy('186 F jar 4;185 F jar 8;184 F jar 12')).toEqual(['1-4', '5-8', '9-12']);
    expect(coveredBy('185 F jar 12;186 F jar 8')).toEqual(['1-8', '9-12']);
    expect(coveredBy('186 F jars 3-8;185 F jars 6-12')).toEqual(['1-8', '6-12']);
    expect(coveredBy('186 F jar 8;185 F jar 8;184 F jar 9')).toEqual(['1-8', '1-8', '9-9']);
    expect(coveredBy('186 F jars 5-8;185 F jars 2-8')).toEqual(['1-8', '1-8']);
    expect(coveredBy('186 F;185 F tray 1')).toEqual([]);
  });
  test('are held, if it fails, back to the last passing one and on to the next', () => {
    const heldBetween = (failing: string, passing: string, jars = 40): string => {
      const held = jarsHeldBy(read(failing)[0]!, read(passing), jars);
      return held ? `${held.from}-${held.to}` : 'all';
    };
    expect(heldBetween('178 F jar 16', '186 F jar 8;185 F jar 24')).toBe('9-23');
    expect(heldBetween('178 F jar 16', '186 F jar 15;185 F jar 17')).toBe('16-16');
    expect(heldBetween('178 F jar 16', '185 F jars 17-24')).toBe('1-16');
    expect(heldBetween('178 F jar 16', '185 F jars 16-24')).toBe('1-23');
    expect(heldBetween('178 F jar 16', '185 F jar 16')).toBe('1-40');
    expect(heldBetween('178 F jars 3-16', '186 F jar 8')).toBe('3-40');
    expect(heldBetween('178 F jars 9-16', '186 F jar 4;185 F jar 6;184 F jar 30;184 F jar 20')).toBe('7-19');
    expect(heldBetween('178 F jar 16', '186 F jar 20;185 F jars 17-20')).toBe('1-16');
    expect(heldBetween('178 F', '186 F jar 8')).toBe('all');
  });
  test('never free a jar that a failing one holds: its own stays held, whatever else was read', () => {
    const jar = fc.integer({ min: 1, max: most });
    fc.assert(
      fc.property(jar, fc.array(span, { maxLength: 6 }), (own, passing) => {
        const texts = passing.map(({ from, to }) => `186 F jars ${from}-${to}`).join(';');
        const held = jarsHeldBy(read(`178 F jar ${own}`)[0]!, texts === '' ? [] : read(texts), most);
        const below = passing.filter(({ to }) => to < own).map(({ to }) => to);
        const above = passing.filter(({ to }) => to > own);
        expect(held!.from).toBe(Math.min(own, Math.max(0, ...below) + 1));
        expect(held!.to).toBeGreaterThanOrEqual(own);
        // Jars not held, on either side, are at or beyond a reading that passed.
        if (held!.to < most)
          expect(above.some(({ from, to }) => from === held!.to + 1 || to === held!.to + 1)).toBe(true);
      }),
    );
  });
});

describe('Jars that no reading covers', () => {
  const gaps = (text: string, jars: number, prepared: readonly JarSpan[] = [], interval = { jars: 12 }) =>
    findGaps(read(text), jars, interval as never, prepared);
  test('end where the readings end, and are beyond the interval from one jar more than it', () => {
    expect(gaps('186 F jar 12', 24)).toEqual({ uncovered: [{ from: 13, to: 24 }], gaps: [], gapTexts: [], jars: [] });
    expect(gaps('186 F jar 12', 25)).toMatchObject({
      gapTexts: ['no reading for jars 13–25'],
      jars: [{ from: 13, to: 25 }],
    });
    expect(gaps('186 F jar 13', 13)).toMatchObject({ uncovered: [], gapTexts: ['one reading for jars 1–13'] });
    expect(gaps('186 F jar 12', 12)).toEqual({ uncovered: [], gaps: [], gapTexts: [], jars: [] });
  });
  test('lie before a range that a reading names, and not before its only jar; the interval is counted the same', () => {
    expect(gaps('186 F jars 25-40', 40)).toEqual({
      uncovered: [{ from: 1, to: 24 }],
      gaps: [{ by: 'jars', from: 1, to: 40, readings: 1 }],
      gapTexts: ['no reading for jars 1–24 and one reading for jars 25–40'],
      jars: [{ from: 1, to: 40 }],
    });
    expect(gaps('186 F jar 40', 40)).toMatchObject({ uncovered: [], gapTexts: ['one reading for jars 1–40'] });
    expect(gaps('186 F jars 1-4;185 F jars 9-12', 12)).toMatchObject({ uncovered: [{ from: 5, to: 8 }], gapTexts: [] });
    expect(gaps('186 F jars 25-40', 40, [{ from: 1, to: 24 }]).gapTexts).toEqual(['one reading for jars 25–40']);
  });
  test('are fewer by those poured back or destroyed', () => {
    expect(gaps('186 F jar 12', 30, [{ from: 13, to: 30 }])).toEqual({
      uncovered: [],
      gaps: [],
      gapTexts: [],
      jars: [],
    });
    expect(gaps('186 F jar 12', 30, [{ from: 13, to: 18 }]).uncovered).toEqual([{ from: 19, to: 30 }]);
  });
  test('without numbers are judged by how few readings there are', () => {
    expect(gaps('186 F;185 F', 24).gapTexts).toEqual([]);
    expect(gaps('186 F;185 F', 25).gapTexts).toEqual(['2 readings for 25 jars, and no jar numbers']);
    expect(gaps('186 F', 13).gapTexts).toEqual(['one reading for 13 jars, and no jar numbers']);
    expect(findGaps([], 25, { jars: 12 } as never).gapTexts).toEqual([]);
    expect(gaps('186 F@10:00;185 F@10:05', 100).gapTexts).toEqual([]);
    expect(gaps('186 F@10:00;185 F', 100).gapTexts).toHaveLength(1);
  });
  test('or by the clock, beyond the minutes of the interval', () => {
    const apart = (minutes: number) =>
      findGaps(
        read('186 F@10:00;185 F@10:20').map(({ fill }, n) => ({ fill: { ...fill, atMs: n * minutes * 60_000 } })),
        48,
        { minutes: 15 } as never,
      ).gapTexts;
    expect(apart(15)).toEqual([]);
    expect(apart(16)).toEqual(['no reading for 16 min, from 10:00 to 10:20']);
    expect(apart(-16)).toEqual(['no reading for 16 min, from 10:20 to 10:00']);
    const untimed = [
      ...fills('186 F@10:00;185 F@10:20').map((fill, n) => ({ fill: { ...fill, atMs: n * 1_200_000 } })),
    ];
    expect(findGaps([...untimed, ...read('184 F')], 12, { jars: 12, minutes: 15 } as never).gapTexts).toEqual([
      'no reading for 20 min, from 10:00 to 10:20',
    ]);
  });
});

test('of several states of a jar the most dangerous one is shown', () => {
  const none = { recalled: false, held: false, destroyed: false, unsealed: false, setApart: false };
  const all = { recalled: true, held: true, destroyed: true, unsealed: true, setApart: true };
  expect(jarStateOf(all)).toBe('recalled');
  expect(jarStateOf({ ...all, recalled: false })).toBe('held');
  expect(jarStateOf({ ...all, recalled: false, held: false })).toBe('destroyed');
  expect(jarStateOf({ ...none, unsealed: true, setApart: true })).toBe('unsealed');
  expect(jarStateOf({ ...none, setApart: true })).toBe('returned');
  expect(jarStateOf(none)).toBe('free');
});
