import { describe, expect, test } from '@jest/globals';
import { judgeBrokenGlass, judgeGlassUpstream } from '#libs/syrup/jars/judge-broken-glass.js';
import { jarsOnSale, offSaleText } from '#libs/syrup/jars/jars-on-sale.js';
import type { JarAction } from '#libs/syrup/jars/judge-action.js';
import type { Observation, SpoilageFacts } from '#libs/syrup/contents/judge-spoilage.js';
import { identity } from '#libs/syrup/rules/verdict.js';
import { container, density, fills, found, judged, spoke, temperature, thermometer } from '../support/pack-facts.js';

const spoilage = (about: Partial<Observation>): { spoilage: SpoilageFacts } => ({
  spoilage: {
    observations: [
      { about: 'pack/26077A-1', recordName: 'pack 26077A-1', seq: 1, texts: [], isOfJudgedLot: true, ...about },
    ],
    inspections: [],
    answers: [],
    destroyed: 0,
    otherPacks: [],
  },
});
const stops = (changes: Parameters<typeof spoke>[0]) => spoke(changes).filter((rule) => rule.endsWith('!'));
const everyJar: readonly JarAction[] = [
  {
    how: 'poured-back',
    jars: [{ from: 1, to: 24 }],
    at: '2026-03-20T14:00:00-04:00',
    by: 'OE',
    fills: [],
  },
];

describe('readings that name jars', () => {
  test('count as no reading where the pack has none of them, and as one where it has', () => {
    expect(stops({ jars: 24, fills: fills('186 F jar 25') })).toEqual(['fill-not-read!']);
    expect(found('fill-not-read', { jars: 24, fills: fills('186 F jar 25;187 F jar 60') }).found).toBe(
      'every fill reading names a jar that the pack of 24 doesn’t have',
    );
    expect(stops({ jars: 24, fills: fills('186 F jar 24') })).toEqual([]);
    expect(stops({ jars: 24, fills: fills('186 F jar 25;186 F jar 24') })).toEqual([]);
    expect(stops({ jars: null, fills: fills('186 F jar 60') })).toEqual([]);
  });
});

describe('a kettle colder than a jar', () => {
  test('holds below the limit, by more than thermometers may differ', () => {
    expect(stops({ hotPackTemp: temperature('175 F'), fills: fills('181 F') })).toEqual(['kettle-too-cold!']);
    expect(stops({ hotPackTemp: temperature('178 F'), fills: fills('180 F') })).toEqual([]);
    expect(stops({ hotPackTemp: temperature('178 F'), fills: fills('180.1 F') })).toEqual(['kettle-too-cold!']);
    expect(stops({ hotPackTemp: temperature('180 F'), fills: fills('190 F') })).toEqual([]);
  });
});

describe('what a note or a source asks', () => {
  test('thin syrup poured in is asked about only where the density passes', () => {
    const thin = { thinPoured: ['26070A-1'] };
    expect(stops(thin)).toEqual(['thin-syrup-question!']);
    expect(stops({ ...thin, density: density('60 Bx', '60 F') })).toEqual(['density-too-thin!']);
  });

  test('another product is asked about foreign matter only, and maple syrup about flavours too', () => {
    const vanilla = spoilage({ note: 'added vanilla beans' });
    const paint = spoilage({ note: 'paint flakes fell in the pan' });
    expect(stops(vanilla)).toEqual(['note-question!']);
    expect(stops({ ...vanilla, product: 'vanilla maple cream' })).toEqual(['outside-these-rules!']);
    expect(stops({ ...paint, product: 'maple cream' })).toEqual(['note-question!', 'outside-these-rules!']);
  });

  test('an off flavour is expected of processing grade in bulk, and of no other', () => {
    const off = spoilage({ note: 'tastes a bit off' });
    const bulk = { ...off, container: container('drum 5 gal'), jars: 1, drawnMl: 5 * 3785.411784 };
    expect(stops({ ...bulk, colourClass: 'processing', transmittance: undefined })).toEqual([]);
    expect(stops(bulk)).toContain('note-question!');
    expect(stops({ ...off, colourClass: 'processing', transmittance: undefined })).toContain('note-question!');
  });
});

describe('failed seals taken off sale', () => {
  test('hold where more jars went out than had a seal', () => {
    const failed = { jars: 24, fills: fills('186 F jar 24'), sealsFailed: 2, sealsOutcome: 'eaten at home' };
    expect(stops({ ...failed, sentOut: 22 })).toEqual([]);
    expect(stops({ ...failed, sentOut: 23 })).toEqual(['seals-failed!']);
    expect(found('seals-failed', { ...failed, sentOut: 24 }).found).toContain('at least 2 of them had no seal');
    expect(stops({ ...failed, sealsOutcome: 'packed again', sentOut: 24 })).toEqual([]);
  });
});

describe('splinters', () => {
  const at14 = [{ from: 14, to: 14 }];
  const inspected: readonly JarAction[] = [{ ...everyJar[0]!, how: 'inspected', jars: [{ from: 12, to: 16 }] }];

  test('poured into another pack hold it unless the jars around were inspected before', () => {
    const poured = { pack: '26077A-1', broken: at14, jars: 24, actionsBefore: [], pouredOn: '2026-03-20' };
    expect(judgeGlassUpstream(poured).map(({ rule }) => rule)).toEqual(['glass-poured-in']);
    expect(judgeGlassUpstream({ ...poured, actionsBefore: inspected })).toEqual([]);
  });

  test('say where they may be: at a jar, at none that is recorded, at one that the pack doesn’t have', () => {
    const sentence = (broken: typeof at14) => judgeBrokenGlass(broken, [], 24)[0]?.found;
    expect(sentence(at14)).toBe('glass broke at jar 14: jars 12–16 may hold splinters');
    expect(sentence([{ from: 1, to: 24 }])).toContain('at which jar is not recorded');
    expect(sentence([{ from: 30, to: 30 }])).toContain('glass broke at jar 30: the pack has 24 jars, so any of them');
  });

  test('ask for an inspection, or where all of it was poured into another pack for that to be recorded', () => {
    const wayOut = (isPouredIntoOthers?: boolean) =>
      judgeBrokenGlass(at14, [], 24, isPouredIntoOthers === undefined ? {} : { isPouredIntoOthers })[0]?.wayOut;
    expect(wayOut()).toContain('Inspect jars 12–16');
    expect(wayOut(true)).toContain('poured into another pack');
  });

  test('go with the syrup: pouring all jars back clears them only where another pack is held for them', () => {
    const glass = judgeBrokenGlass(at14, [], 24);
    const gone = { gone: [{ from: 1, to: 24 }], jars: 24, actions: everyJar };
    expect(jarsOnSale(glass, gone)).toMatchObject([{ stop: true }]);
    const elsewhere = jarsOnSale(glass, { ...gone, isPouredIntoOthers: true });
    expect(elsewhere).toMatchObject([{ stop: false }]);
    expect(offSaleText(elsewhere[0]!.offSale!)).toBe(
      'every jar of it was poured back or destroyed, the last by OE, 2026-03-20 14:00',
    );
    expect(offSaleText({ how: 'destroyed' })).toBe('every jar of it was destroyed');
    const mould = judged(spoilage({ mould: 'yes' })).findings.filter(({ rule }) => rule === 'mould');
    expect(jarsOnSale(mould, { ...gone, isPouredIntoOthers: true })).toMatchObject([{ rule: 'mould', stop: true }]);
  });
});

test('what a release of a corrected reading accepts: the reading, its number, the correction to hundredths', () => {
  const low = thermometer('T1', [['ice', 32, 28.333]], { checkedThisSeason: true });
  const facts = { fills: fills('190 F;178 F'), thermometers: [low] };
  const held = judged(facts).findings.find(({ rule }) => rule === 'fill-perhaps-hot-enough');
  expect(held?.[identity]?.evidence).toMatchObject({
    readings: [{ read: '178 F', nth: 2, readings: 2, correction: 3.67, corrected: 181.67, isAssumed: true }],
  });
});
