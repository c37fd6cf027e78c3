import { describe, expect, test } from '@jest/globals';
import { harmConfirmed, judgeHarm, judgeHarmElsewhere } from '#libs/syrup/contents/judge-harm.js';
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

describe('an answered complaint', () => {
  const sick = record({ texts: ['my son got sick, really sick'], seq: 4 });
  const question = 'complaint K1 says “sick”: illness, something in the syrup or a chemical';
  const answered = (answer: string, seq = 5) => judgeHarm([sick], [{ question, answer, seq }]);

  test('“no” clears the question, “yes” holds the lot until the authority was asked, an earlier answer counts for nothing', () => {
    expect(answered('no')).toEqual([]);
    expect(answered('yes')).toMatchObject([{ rule: 'harm-reported', stop: true, found: question }]);
    expect(answered('no', 3)).toMatchObject([{ rule: 'harm-question', found: question }]);
  });

  test('“yes” about broken glass still asks for the jars beside it', () => {
    const broken = record({ about: 'pack/26077A-1', recordName: 'pack 26077A-1', fillingNote: 'a jar broke' });
    const [asked] = judgeHarm([broken], []);
    const yes = judgeHarm([broken], [{ question: asked?.found ?? '', answer: 'yes', seq: 9 }]);
    expect(yes).toMatchObject([{ rule: 'harm-question', limit: expect.stringContaining('the jars beside it') }]);
    expect(asked?.limit).toBe(yes[0]?.limit);
    expect(judgeHarm([sick], [])[0]?.limit).toContain('illness');
  });

  test('answered as harm, it holds other packs of its syrup by its own words', () => {
    expect(harmConfirmed([sick], [])).toEqual([]);
    const confirmed = harmConfirmed([sick], [{ question, answer: 'yes', seq: 5 }]);
    expect(confirmed).toEqual([{ about: 'complaint/K1', says: ['sick'] }]);
    expect(judgeHarmElsewhere(confirmed.map((each) => ({ ...each, pack: '26077A-1' })))).toMatchObject([
      {
        rule: 'harm-in-same-syrup',
        stop: true,
        found: 'complaint K1 about 26077A-1, filled from the same syrup, says “sick”, answered as harm',
      },
    ]);
  });
});
