import type { LabelProblem } from '../content/label.js';

/** Which jars of a pack to print labels for: numbers as typed, both ends included; by default all that were made. */
export function jarRange(
  made: number,
  from: number = 1,
  to: number = made,
): { range: { from: number; to: number } } | { problem: LabelProblem } {
  if (made < 1) return { problem: { kind: 'no-jars' } };
  const within = (jar: number): boolean => Number.isInteger(jar) && jar >= 1 && jar <= made;
  const expected = `the number of a jar of this lot, 1 to ${made}`;
  if (!within(from)) return { problem: { kind: 'bad-setting', field: 'From', expected, got: String(from) } };
  if (!within(to)) return { problem: { kind: 'bad-setting', field: 'To', expected, got: String(to) } };
  if (to < from) return { problem: { kind: 'bad-setting', field: 'To', expected: `${from} or more`, got: String(to) } };
  return { range: { from, to } };
}
