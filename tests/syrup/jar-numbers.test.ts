import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { type JarsActedOn, judgeAction, heldWithin, takesOffSale } from '#libs/syrup/jars/acted-jars.js';
import { type JarSpan, mergedSpans, spanOf, formatSpans, touches } from '#libs/syrup/jars/held-jars.js';
import { coverage, gapsOf, heldBy } from '#libs/syrup/jars/jar-coverage.js';
import { holdsAll, jarsIn, parseJarSpans, within, without } from '#libs/syrup/quantities/jar-spans.js';
import { jarStateOf } from '#libs/syrup/jars/jar-state.js';
import { jarsOnSale } from '#libs/syrup/jars/jars-on-sale.js';
import { judgeReadings, type JudgedReading } from '#libs/syrup/rules/judge-reading.js';
import type { Finding } from '#libs/syrup/rules/verdict.js';
import { fills } from '../support/pack-facts.js';

const most = 24;
const span = fc
  .tuple(fc.integer({ min: 1, max: most }), fc.integer({ min: 0, max: 8 }))
  .map(([from, more]): JarSpan => ({ from, to: Math.min(most, from + more) }));
const someSpans = fc.array(span, { maxLength: 5 });
/** Each jar counted out, which is what spans stand for. */
const jarsOf = (spans: readonly JarSpan[]): number[] =>
  Array.from({ length: most }, (_, n) => n + 1).filter((n) => spans.some(({ from, to }) => from <= n && n <= to));
const read = (text: string) => fills(text).map((fill) => ({ fill }));

describe('Spans of jars are the jars counted out one by one', () => {
  test('merged, they are the same jars, in order, apart by one jar or more', () => {
    fc.assert(
      fc.property(someSpans, (spans) => {
        const merged = mergedSpans(spans);
        expect(jarsOf(merged)).toEqual(jarsOf(spans));
        merged.slice(1).forEach(({ from }, n) => expect(from).toBeGreaterThan((merged[n]?.to ?? Infinity) + 1));
        expect(jarsIn(spans)).toBe(jarsOf(spans).length);
      }),
    );
  });
  test('taken away, laid over each other, and held against each other', () => {
    fc.assert(
      fc.property(someSpans, someSpans, span, (spans, others, jars) => {
        const [ours, theirs] = [jarsOf(spans), jarsOf(others)];
        expect(jarsOf(without(spans, others))).toEqual(ours.filter((n) => !theirs.includes(n)));
        expect(without(spans, others).every(({ from, to }) => to >= from)).toBe(true);
        expect(jarsOf(within(spans, others))).toEqual(ours.filter((n) => theirs.includes(n)));
        expect(holdsAll(spans, others)).toBe(theirs.every((n) => ours.includes(n)));
        expect(touches(spans, jars)).toBe(jarsOf([jars]).some((n) => ours.includes(n)));
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
  ])('%j are said as %s', (spans, formatted) => expect(formatSpans(spans)).toBe(formatted));
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
  ])('of a reading, %s', (typed, jars) => expect(spanOf(fills(typed)[0])).toEqual(jars));
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
  ])('of an action, %s', (typed, spans) => {
    expect(parseJarSpans(typed).value).toEqual({ typed, spans, all: typed === 'all' });
  });
  test('that can’t be read are shown as they arrived', () => {
    expect(parseJarSpans(' some ').mismatch?.got).toBe('"some"');
    expect(parseJarSpans(' ').mismatch?.got).toBe('nothing');
  });
  test.each(['0', '0-4', '9-8', 'some', '', '4,,7'])('%j are no jars', (typed) =>
    expect(parseJarSpans(typed).mismatch?.expected).toMatch(/^jars by number/),
  );
});

describe('Which jars a reading speaks for', () => {
  const spokenFor = (text: string): string[] => coverage(read(text)).map(({ jars }) => `${jars.from}-${jars.to}`);
  test('is all since the reading before it, whatever the order they were written in', () => {
    expect(spokenFor('186 F jar 8;185 F jar 12')).toEqual(['1-8', '9-12']);
    expect(spokenFor('186 F jar 4;185 F jar 8;184 F jar 12')).toEqual(['1-4', '5-8', '9-12']);
    expect(spokenFor('185 F jar 12;186 F jar 8')).toEqual(['1-8', '9-12']);
    expect(spokenFor('186 F jars 3-8;185 F jars 6-12')).toEqual(['1-8', '6-12']);
    expect(spokenFor('186 F jar 8;185 F jar 8;184 F jar 9')).toEqual(['1-8', '1-8', '9-9']);
    expect(spokenFor('186 F jars 5-8;185 F jars 2-8')).toEqual(['1-8', '1-8']);
    expect(spokenFor('186 F;185 F tray 1')).toEqual([]);
  });
  test('is held back to the last passing one and on to the next, where it fails', () => {
    const heldBetween = (failing: string, passing: string, jars = 40): string => {
      const held = heldBy(read(failing)[0]!, read(passing), jars);
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
  test('and no reading frees a jar that a failing one holds: its own stays held, whatever else was read', () => {
    const jar = fc.integer({ min: 1, max: most });
    fc.assert(
      fc.property(jar, fc.array(span, { maxLength: 6 }), (own, passing) => {
        const texts = passing.map(({ from, to }) => `186 F jars ${from}-${to}`).join(';');
        const held = heldBy(read(`178 F jar ${own}`)[0]!, texts === '' ? [] : read(texts), most);
        const below = passing.filter(({ to }) => to < own).map(({ to }) => to);
        const above = passing.filter(({ to }) => to > own);
        expect(held!.from).toBe(Math.min(own, Math.max(0, ...below) + 1));
        expect(held!.to).toBeGreaterThanOrEqual(own);
        // What is not held on either side lies at or beyond a reading that passed.
        if (held!.to < most)
          expect(above.some(({ from, to }) => from === held!.to + 1 || to === held!.to + 1)).toBe(true);
      }),
    );
  });
});

describe('Jars that no reading speaks for', () => {
  const gaps = (text: string, jars: number, prepared: readonly JarSpan[] = [], interval = { jars: 12 }) =>
    gapsOf(read(text), jars, interval as never, prepared);
  test('end where the readings end, and are beyond the interval from one jar more than it', () => {
    expect(gaps('186 F jar 12', 24)).toEqual({ uncovered: [{ from: 13, to: 24 }], beyond: [], jars: [] });
    expect(gaps('186 F jar 12', 25)).toMatchObject({
      beyond: ['no reading for jars 13–25'],
      jars: [{ from: 13, to: 25 }],
    });
    expect(gaps('186 F jar 13', 13)).toMatchObject({ uncovered: [], beyond: ['one reading for jars 1–13'] });
    expect(gaps('186 F jar 12', 12)).toEqual({ uncovered: [], beyond: [], jars: [] });
  });
  test('are fewer by those settled', () => {
    expect(gaps('186 F jar 12', 30, [{ from: 13, to: 30 }])).toEqual({ uncovered: [], beyond: [], jars: [] });
    expect(gaps('186 F jar 12', 30, [{ from: 13, to: 18 }]).uncovered).toEqual([{ from: 19, to: 30 }]);
  });
  test('without numbers are told by how few readings there are', () => {
    expect(gaps('186 F;185 F', 24).beyond).toEqual([]);
    expect(gaps('186 F;185 F', 25).beyond).toEqual(['2 readings for 25 jars, and no jar numbers']);
    expect(gaps('186 F', 13).beyond).toEqual(['one reading for 13 jars, and no jar numbers']);
    expect(gapsOf([], 25, { jars: 12 } as never).beyond).toEqual([]);
    expect(gaps('186 F@10:00;185 F@10:05', 100).beyond).toEqual([]);
    expect(gaps('186 F@10:00;185 F', 100).beyond).toHaveLength(1);
  });
  test('or by the clock, beyond the minutes of the interval', () => {
    const apart = (minutes: number) =>
      gapsOf(
        read('186 F@10:00;185 F@10:20').map(({ fill }, n) => ({ fill: { ...fill, atMs: n * minutes * 60_000 } })),
        48,
        { minutes: 15 } as never,
      ).beyond;
    expect(apart(15)).toEqual([]);
    expect(apart(16)).toEqual(['no reading for 16 min, from 10:00 to 10:20']);
    expect(apart(-16)).toEqual(['no reading for 16 min, from 10:20 to 10:00']);
    const untimed = [
      ...fills('186 F@10:00;185 F@10:20').map((fill, n) => ({ fill: { ...fill, atMs: n * 1_200_000 } })),
    ];
    expect(gapsOf([...untimed, ...read('184 F')], 12, { jars: 12, minutes: 15 } as never).beyond).toEqual([
      'no reading for 20 min, from 10:00 to 10:20',
    ]);
  });
});

describe('Jars of a corrective action', () => {
  const passes = ({ outcome }: JudgedReading): boolean => outcome === 'hot enough';
  const cleared = (jars: string, readings: string, more: Partial<JarsActedOn> = {}, reach?: number): string => {
    const action: JarsActedOn = {
      how: 'packed-again',
      jars: parseJarSpans(jars).value!.spans,
      fills: fills(readings),
      ...more,
    };
    const spans = mergedSpans(judgeAction(action, [], passes, reach).cleared);
    return spans.length === 0 ? 'none' : formatSpans(spans);
  };
  test('are cleared by readings back to the one before, twelve jars at most or as many as the house says', () => {
    expect(cleared('9-31', '188 F jar 20;188 F jar 31')).toBe('jars 9–31');
    expect(cleared('9-31', '188 F jar 31')).toBe('jars 20–31');
    expect(cleared('9-31', '188 F jar 31', {}, 5)).toBe('jars 27–31');
    expect(cleared('9-31', '188 F jar 31;188 F jar 20')).toBe('jars 9–31');
    expect(cleared('9-12', '188 F jar 9')).toBe('jar 9');
    expect(cleared('9-12', '188 F jar 12')).toBe('jars 9–12');
    expect(cleared('9-12 and 20-22', '188 F jar 12;188 F jar 22')).toBe('jars 9–12 and 20–22');
  });
  test('not by readings of other jars, or that reach over their edge', () => {
    expect(cleared('9-12', '188 F jar 13')).toBe('none');
    expect(cleared('9-12', '188 F jar 8')).toBe('none');
    expect(cleared('9-12', '188 F jars 8-12')).toBe('none');
    expect(cleared('9-12', '188 F jars 12-13')).toBe('none');
    expect(cleared('9-12', '188 F jars 9-12')).toBe('jars 9–12');
  });
  test('but for those that a cold one among them holds', () => {
    expect(cleared('9-31', '188 F jar 12;178 F jar 20;187 F jar 31')).toBe('jars 9–12 and 31');
    expect(cleared('9-12', '178 F jar 12')).toBe('none');
    expect(cleared('9-12', '188 F jar 12;178 F')).toBe('none');
  });
  test('without numbers, only where there is one passing reading for each', () => {
    expect(cleared('9-11', '188 F;187 F;186 F')).toBe('jars 9–11');
    expect(cleared('9-11', '188 F;187 F')).toBe('none');
    expect(cleared('9-11', '188 F;187 F;186 F;185 F')).toBe('none');
    expect(cleared('9-11', '188 F;187 F;178 F')).toBe('none');
    expect(cleared('9', '188 F')).toBe('jar 9');
    expect(cleared('9-11', '188 F;187 F jar 10;186 F')).toBe('jars 9–10');
    expect(judgeAction({ how: 'packed-again', jars: [], fills: [] }, [], passes).cleared).toEqual([]);
  });
  test('are cleared by nothing that doesn’t pack them again, or that left its jars or cause out', () => {
    for (const how of ['poured-back', 'destroyed', 'inspected'] as const)
      expect(cleared('9-12', '188 F jar 12', { how })).toBe('none');
    expect(cleared('9-12', '188 F jar 12', { clearsNothing: true })).toBe('none');
    expect(cleared('9-12', '188 F jar 12;188 F jar 12 poured back')).toBe('none');
  });
  test('are off sale once poured back or destroyed, and only then', () => {
    const off = (how: JarsActedOn['how'], clearsNothing = false) =>
      takesOffSale({ how, jars: [], fills: [], clearsNothing });
    expect([off('poured-back'), off('destroyed'), off('inspected'), off('packed-again')]).toEqual([
      true,
      true,
      false,
      false,
    ]);
    expect([off('poured-back', true), off('destroyed', true)]).toEqual([false, false]);
  });
  test('held by one of its readings are those beside it, and all where it names none', () => {
    const jars = [{ from: 9, to: 31 }];
    const [cold, none, hot] = judgeReadings(fills('178 F jar 20;178 F;188 F jar 12'));
    expect(heldWithin(cold!, [hot!], jars)).toEqual([{ from: 13, to: 31 }]);
    expect(heldWithin(none!, [hot!], jars)).toEqual(jars);
  });
});

describe('What holds jars after some are off sale', () => {
  const finding = (more: Partial<Finding>): Finding => ({
    rule: 'fill-temperature',
    stop: true,
    limit: '',
    found: '',
    source: '',
    ...more,
  });
  const poured: JarsActedOn = { how: 'poured-back', jars: [], fills: [], by: 'JP', at: '2026-03-20T14:00:00-04:00' };
  const left = (findings: readonly Finding[], gone: readonly JarSpan[], jars: number | null = 32) =>
    jarsOnSale(findings, {
      gone,
      jars,
      actions: [{ ...poured, by: 'OE' }, poured, { ...poured, how: 'inspected', by: 'WE' }],
    });
  test('are the jars that are left, and nothing where none is', () => {
    const some = finding({ jars: [{ from: 9, to: 16 }] });
    expect(left([some], [{ from: 9, to: 12 }])).toEqual([{ ...some, jars: [{ from: 13, to: 16 }] }]);
    expect(left([some], [{ from: 9, to: 15 }])).toEqual([{ ...some, jars: [{ from: 16, to: 16 }] }]);
    expect(left([some], [{ from: 9, to: 16 }])).toEqual([]);
    expect(left([some], [])).toEqual([some]);
    expect(left([some], [{ from: 9, to: 16 }], null)).toEqual([some]);
  });
  test('a hold of the whole pack stays whole until its last jar is off sale, then it says who took it off', () => {
    const whole = finding({ rule: 'density-not-read' });
    expect(left([whole], [{ from: 1, to: 31 }])).toEqual([whole]);
    expect(left([whole], [{ from: 1, to: 32 }])).toMatchObject([
      { stop: false, accepted: { by: 'JP', at: '2026-03-20T14:00:00-04:00' } },
    ]);
  });
  test('mould and glass go on in the syrup; advice is left as it is', () => {
    for (const rule of ['mould', 'mould-looked-at', 'spoilage-question', 'held-upstream', 'broken-glass']) {
      const goesOn = finding({ rule, jars: [{ from: 1, to: 2 }] });
      expect(left([goesOn], [{ from: 1, to: 32 }])).toEqual([goesOn]);
    }
    const advice = finding({ stop: false, jars: [{ from: 1, to: 2 }] });
    expect(left([advice], [{ from: 1, to: 32 }])).toEqual([advice]);
  });
});

test('of all that may be said of one jar, the worst for whoever eats it is said', () => {
  const state = (recalled: boolean, held: boolean, destroyed: boolean, apart: boolean) =>
    jarStateOf({ recalled, held, destroyed, apart });
  expect(state(true, true, true, true)).toBe('recalled');
  expect(state(false, true, true, true)).toBe('held');
  expect(state(false, false, true, true)).toBe('destroyed');
  expect(state(false, false, false, true)).toBe('returned');
  expect(state(false, false, false, false)).toBe('free');
});
