import { expect, test } from '@jest/globals';
import fc from 'fast-check';
import { countLabelsIn, labelledJars, leftOutSentences } from '#libs/actions/labels/label-run.js';
import type { DispatchClearance } from '#libs/actions/jars/dispatch-clearance.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { type JarSpan, mergeSpans } from '#libs/syrup/jars/jar-spans.js';

const lot = { code: '26077A-1', state: 'held' } as Lot;
const partly = (held: readonly JarSpan[]): DispatchClearance => ({ lot, which: 'some', held });
const counted = (spans: readonly JarSpan[]): number[] =>
  spans.flatMap(({ from, to }) => Array.from({ length: to - from + 1 }, (_, n) => from + n));

const span = fc
  .tuple(fc.integer({ min: 1, max: 30 }), fc.integer({ min: 0, max: 9 }))
  .map(([from, more]): JarSpan => ({ from, to: from + more }));

test('of the requested jars, each one that no rule holds gets one label, in order, and no held one does', () => {
  fc.assert(
    fc.property(fc.array(span, { maxLength: 4 }), span, (spans, request) => {
      const held = mergeSpans(spans);
      const free = counted([request]).filter((n) => !counted(held).includes(n));
      const run = labelledJars(partly(held), request);
      if ('problem' in run) {
        expect(free).toEqual([]);
        return;
      }
      expect(counted(run.spans)).toEqual(free);
      expect(counted(run.leftOut)).toEqual(counted([request]).filter((n) => counted(held).includes(n)));
      expect(countLabelsIn(run)).toBe(free.length);
    }),
  );
});

test('if all of them are held none is printed, and the omitted ones are listed', () => {
  const held = partly([{ from: 9, to: 16 }]);
  expect(labelledJars(held, { from: 9, to: 16 })).toMatchObject({
    problem: { sentence: expect.stringMatching(/^26077A-1 is held: no labels for jars 9–16\./) },
  });
  const run = labelledJars(held, { from: 8, to: 17 });
  expect('problem' in run ? [] : leftOutSentences(run)).toEqual(['Held, and left out: jars 9–16.']);
  const others = labelledJars(held, { from: 1, to: 8 });
  expect('problem' in others ? ['refused'] : leftOutSentences(others)).toEqual([]);
});
