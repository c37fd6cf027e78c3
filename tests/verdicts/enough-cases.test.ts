import { expect, test } from '@jest/globals';
import { soundCases } from './sound-cases.js';
import { traps } from './walk-cases.js';

test('there are at least eighty traps and as many sound cases, each with a name of its own', () => {
  expect(traps.length).toBeGreaterThanOrEqual(80);
  expect(soundCases.length).toBeGreaterThanOrEqual(80);
  const names = [...traps, ...soundCases].map((each) => each.is);
  expect(names.filter((name, n) => names.indexOf(name) !== n)).toEqual([]);
});
