import { expect, test } from '@jest/globals';
import { sound, traps } from './walk-cases.js';

test('there are at least eighty traps and as many sound cases, each with a unique name', () => {
  expect(traps.length).toBeGreaterThanOrEqual(80);
  expect(sound.length).toBeGreaterThanOrEqual(80);
  const names = [...traps, ...sound].map((each) => each.is);
  expect(names.filter((name, n) => names.indexOf(name) !== n)).toEqual([]);
});
