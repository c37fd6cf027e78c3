import { expect, test } from '@jest/globals';
import { judgeHarm } from '#libs/syrup/contents/judge-harm.js';
import type { Observation } from '#libs/syrup/contents/judge-spoilage.js';

const record = (changes: Partial<Observation>): Observation => ({
  about: 'complaint/K1',
  recordName: 'complaint K1',
  seq: 1,
  texts: [],
  isOfJudgedLot: true,
  ...changes,
});
const rulesOf = (changes: Partial<Observation>) => judgeHarm([record(changes)], []).map(({ rule }) => rule);

test('a complaint of illness holds the lot with a question until it is answered', () => {
  expect(rulesOf({ texts: ['my son got sick'] })).toEqual(['harm-question']);
  expect(judgeHarm([record({ texts: ['my son got sick'] })], [])[0]?.found).toContain(
    'illness, something in the syrup',
  );
});

test('a complaint of anything else and illness of the crew raise no question of harm', () => {
  expect(rulesOf({ texts: ['the label came off'] })).toEqual([]);
  expect(rulesOf({ about: 'pack/26077A-1', texts: ['my son got sick'] })).toEqual([]);
});

test('glass that broke at filling holds the lot with a question about the jars beside it', () => {
  const broken = { about: 'pack/26077A-1', fillingNote: 'a jar broke' };
  expect(rulesOf(broken)).toEqual(['harm-question']);
  expect(judgeHarm([record(broken)], [])[0]?.found).toContain('is there glass in the jars beside it?');
});
