import { describe, expect, test } from '@jest/globals';
import { judgeSpoilage, type Observation, type SpoilageFacts } from '#libs/syrup/contents/judge-spoilage.js';
import { identity } from '#libs/syrup/rules/verdict.js';

const complaint = (changes: Partial<Observation> = {}): Observation => ({
  about: 'complaint/K1',
  recordName: 'complaint K1',
  seq: 10,
  texts: [],
  isOfJudgedLot: true,
  ...changes,
});
const mouldy = complaint({ mould: 'yes', came: 'sealed' });
const facts = (changes: Partial<SpoilageFacts>): SpoilageFacts => ({
  observations: [],
  inspections: [],
  answers: [],
  destroyed: 0,
  otherPacks: [],
  jars: 24,
  ...changes,
});
const judged = (changes: Partial<SpoilageFacts>) => judgeSpoilage(facts(changes));
const rules = (changes: Partial<SpoilageFacts>) => judged(changes).map(({ rule, stop }) => (stop ? `${rule}!` : rule));
const one = (changes: Partial<Observation>) => rules({ observations: [complaint(changes)] });

describe('what holds a pack as spoiled, and what asks', () => {
  test('mould, gas or fermentation that was seen holds it', () => {
    expect(one({ mould: 'yes' })).toEqual(['mould!']);
    expect(one({ seen: ['bulging'], mould: 'no' })).toEqual(['mould!']);
    expect(one({ mould: 'no' })).toEqual([]);
    expect(one({})).toEqual([]);
  });

  test('“not known” and a text about spoilage ask; what the inspection answered is not asked again', () => {
    expect(one({ mould: 'not-known' })).toEqual(['spoilage-question!']);
    expect(one({ texts: ['green mould under the lid'] })).toEqual(['spoilage-question!']);
    expect(one({ texts: ['green mould under the lid'], mould: 'no' })).toEqual([]);
    expect(one({ texts: ['the lid was bulging'], mould: 'no' })).toEqual(['spoilage-question!']);
    expect(one({ texts: ['the lid was bulging'], mould: 'no', answeredSigns: ['gas'] })).toEqual([]);
    expect(one({ texts: ['green mould under the lid'], answeredSigns: ['gas'] })).toEqual(['spoilage-question!']);
  });

  test('a remark about a jar asks unless it is clearly harmless or the mould was answered', () => {
    expect(one({ jarRemark: 'the lid was up' })).toEqual(['spoilage-question!']);
    expect(one({ jarRemark: 'the lid was up', mould: 'no' })).toEqual([]);
    expect(one({ jarRemark: 'very nice' })).toEqual([]);
  });

  test('a long remark is quoted with 119 letters and an ellipsis, one of 120 whole', () => {
    const quoted = (jarRemark: string) =>
      /“(.*)”/u.exec(judged({ observations: [complaint({ jarRemark })] })[0]!.found)?.[1];
    expect(quoted('x'.repeat(120))).toBe('x'.repeat(120));
    expect(quoted('x'.repeat(121))).toBe(`${'x'.repeat(119)}…`);
  });

  test('an answer after the text decides: “no” clears it, “yes” holds the pack, an earlier one counts for nothing', () => {
    const text = 'complaint K1 says “mould”';
    const answered = (answer: string, seq = 11) =>
      rules({ observations: [complaint({ texts: ['mould'] })], answers: [{ question: text, answer, seq }] });
    expect(answered('no')).toEqual([]);
    expect(answered('yes')).toEqual(['mould!']);
    expect(answered('no', 9)).toEqual(['spoilage-question!']);
    const [sign] = judged({
      observations: [complaint({ texts: ['mould'] })],
      answers: [{ question: text, answer: 'yes', seq: 11 }],
      inspections: [{ seq: 12, mouldy: 0, sound: 6 }],
    });
    expect(sign?.[identity]?.evidence).toMatchObject({ signs: [{ about: 'complaint/K1', says: ['mould'] }] });
    // What was seen is the evidence by itself, whatever the text adds.
    const [seen] = judged({
      observations: [complaint({ mould: 'yes', texts: ['the lid was bulging'] })],
      inspections: [{ seq: 12, mouldy: 0, sound: 6 }],
    });
    expect(seen?.[identity]?.evidence).toMatchObject({ signs: [{ mould: 'yes', says: undefined }] });
  });

  test('a jar kept open and warm is an advisory, where mould was seen or asked about', () => {
    expect(one({ came: 'opened-warm', mould: 'yes' })).toEqual(['mould-opened-warm']);
    expect(one({ came: 'opened-warm', texts: ['mould'] })).toEqual(['mould-opened-warm']);
    expect(one({ came: 'opened-warm', mould: 'no' })).toEqual([]);
    expect(one({ came: 'opened-cold', mould: 'yes' })).toEqual(['mould!']);
  });
});

describe('other packs of the boil', () => {
  const others = (...counts: number[]) =>
    counts.map((count, n) => ({ lot: `26077A-${n + 2}`, mouldy: count, seq: 5 + n }));

  test('hold a pack from two mouldy jars on', () => {
    expect(rules({ otherPacks: others(1) })).toEqual([]);
    expect(rules({ otherPacks: others(1, 1) })).toEqual(['mould!']);
    expect(judged({ otherPacks: others(2) })[0]?.found).toBe(
      '2 mouldy jars that came sealed, of the same boil: 26077A-2',
    );
  });

  test('are part of what a release accepts from two jars on', () => {
    const evidence = (...counts: number[]) =>
      judged({
        observations: [mouldy],
        otherPacks: others(...counts),
        inspections: [{ seq: 20, mouldy: 0, sound: 6 }],
      })[0]?.[identity]?.evidence;
    expect(evidence(1)).not.toHaveProperty('otherPacks');
    expect(evidence(1, 1)).toMatchObject({
      otherPacks: [
        { lot: '26077A-2', mouldy: 1 },
        { lot: '26077A-3', mouldy: 1 },
      ],
    });
  });

  test('need an inspection after the newest of them', () => {
    const inspectedAt = (seq: number) =>
      rules({ otherPacks: others(1, 1), inspections: [{ seq, mouldy: 0, sound: 6 }] });
    expect(inspectedAt(5)).toEqual(['mould!']);
    expect(inspectedAt(6)).toEqual(['mould-looked-at!']);
  });
});

describe('an inspection of other jars', () => {
  const inspected = (changes: Partial<SpoilageFacts>) => judged({ observations: [mouldy], ...changes })[0];
  const at = (seq: number, bad: number, sound: number) => ({ seq, mouldy: bad, sound });

  test('counts from the report on: an earlier one clears nothing', () => {
    expect(inspected({ inspections: [at(9, 0, 6)] })?.rule).toBe('mould');
    expect(inspected({ inspections: [at(10, 0, 6)] })?.rule).toBe('mould-looked-at');
    expect(inspected({})?.limit).toContain('other jars inspected and counted');
  });

  test('adds up with the others, and every mouldy jar is destroyed first', () => {
    const two = { inspections: [at(11, 2, 4), at(12, 1, 5)] };
    expect(inspected({ ...two, destroyed: 2 })).toMatchObject({
      rule: 'mould',
      limit: 'every mouldy jar destroyed',
      found: expect.stringContaining('12 other jars inspected: 3 mouldy, 9 sound; 2 destroyed'),
    });
    expect(inspected({ ...two, destroyed: 3 })?.rule).toBe('mould-looked-at');
    expect(inspected({ ...two, destroyed: 3 })?.[identity]?.evidence).toMatchObject({ mouldy: 3, sound: 9 });
  });

  test('of more jars than the pack has beside those reported clears nothing', () => {
    expect(inspected({ inspections: [at(11, 0, 24)] })).toMatchObject({
      rule: 'mould',
      limit: 'at most 23 other jars inspected, of 24',
    });
    expect(inspected({ inspections: [at(11, 1, 23)], destroyed: 1 })?.limit).toContain('at most 23');
    expect(inspected({ inspections: [at(11, 0, 23)] })?.rule).toBe('mould-looked-at');
    expect(inspected({ jars: null, inspections: [at(11, 0, 90)] })?.rule).toBe('mould-looked-at');
    expect(inspected({ jars: undefined, inspections: [at(11, 0, 90)] })?.rule).toBe('mould-looked-at');
  });

  test('two reports of one jar count once, two jars twice, and one of another lot not at all', () => {
    const most = (...reports: Partial<Observation>[]) =>
      judged({
        observations: reports.map((each) => complaint({ mould: 'yes', ...each })),
        inspections: [at(30, 0, 24)],
      })[0]?.limit;
    expect(most({ jar: '1' }, { jar: '1', about: 'complaint/K2' })).toContain('at most 23');
    expect(most({ jar: '1' }, { jar: '2', about: 'complaint/K2' })).toContain('at most 22');
    expect(most({}, { about: 'complaint/K2' })).toContain('at most 22');
    expect(most({ isOfJudgedLot: false })).toBe('a release that records the cause');
    expect(most({ about: 'pack/26077A-1' })).toBe('a release that records the cause');
  });
});
