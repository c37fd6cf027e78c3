import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { rules, rulesVersion } from '#libs/syrup/rules/rules.js';
import {
  boil,
  container,
  density,
  fills,
  found,
  judged,
  ordinaryPack,
  spoke,
  temperature,
  thermometer,
} from '../support/pack-facts.js';

const mouldyJar = {
  observations: [{ about: 'complaint/C1', recordName: 'complaint C1', seq: 9, mould: 'yes', texts: [] }],
  inspections: [],
  answers: [],
  destroyed: 0,
  otherPacks: [],
};

describe('a pack that every rule passes', () => {
  test('has no finding, and includes the calculated figures', () => {
    expect(judged()).toMatchObject({
      findings: [],
      rules: `rules ${rulesVersion}; a-place 2026-11`,
      brix: 67.4,
      lowestFill: { typed: '183 F' },
      colour: 'Amber',
      colourTyped: 'Amber',
      allergens: [],
    });
  });

  test('gives each finding by a rule in the table, which holds if the table says so', () => {
    const { findings } = judged({
      fills: fills('150 F;210 F'),
      density: density('60 Bx', '60 F'),
      sealsFailed: 2,
      clarity: 'hazy',
      offFlavour: 'buddy',
      containerPrep: '',
      spoilage: mouldyJar,
      colourClass: 'Dark',
      drawnMl: 3 * 3785.4,
      boils: [boil({ defoamer: 'butter', filters: [], restedUntilMs: Date.UTC(2026, 2, 19, 2), drawnInAllMl: 1e5 })],
      thermometers: [],
    });
    expect(findings.map(({ rule }) => rule)).toEqual([
      'mould',
      'fill-temperature',
      'density-too-thin',
      'more-in-jars-than-drawn',
      'seals-failed',
      'off-flavour',
      'cloudy',
      'defoamer-allergens',
      'not-preheated',
      'colour-conflict',
      'filter-temperature',
      'short-rest',
      'drawn-more-than-there',
      'too-hot-at-filling',
      'thermometer-not-checked',
    ]);
    for (const finding of findings) {
      expect(finding.stop).toBe(rules.find(({ name }) => name === finding.rule)?.kind === 'stop');
      expect(finding.limit).not.toBe('');
      expect(finding.found).not.toBe('');
      expect(finding.source).not.toBe('');
    }
  });

  test('has no findings for missing readings while jars are being filled, but existing ones are judged', () => {
    const begun = {
      jars: null,
      fills: [],
      density: undefined,
      sealsFailed: null,
      containerPrep: '',
      clarity: '',
      offFlavour: '',
      colourClass: '',
      transmittance: undefined,
      boils: [boil({ filters: [] })],
      thermometers: [],
    };
    expect(spoke(begun)).toEqual([]);
    expect(spoke({ ...begun, fills: fills('179 F'), thermometers: [thermometer('T1')] })).toEqual([
      'fill-temperature!',
    ]);
    expect(spoke({ ...begun, density: density('65 Bx', '60 F') })).toEqual(['density-too-thin!']);
  });
});

describe('fill temperatures', () => {
  test.each([
    ['180 F', true],
    ['179.9 F', false],
    ['82 C', true],
    ['81.9 C', false],
    ['82,0 C', true],
    ['179.99 F', false],
    ['82.1 C', true],
    ['185 F', true],
  ])('%s passes: %s', (typed, passes) => {
    expect(spoke({ fills: fills(typed) })).toEqual(passes ? [] : ['fill-temperature!']);
  });

  test('each is judged in its own unit: 82 °C passes though it is 179.6 °F', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1000, max: 2000 }), fc.constantFrom('F', 'C'), (tenths, unit) => {
        const degrees = unit === 'F' ? tenths / 10 : tenths / 20;
        const passes = degrees >= (unit === 'F' ? 180 : 82);
        const stopped = spoke({ fills: fills(`${degrees} ${unit}`) }).includes('fill-temperature!');
        expect(stopped).toBe(!passes);
      }),
    );
  });

  test('a finding gives the reading as typed, its position and its time', () => {
    const readings = { fills: fills('186 F;184 F@14:05;179.9 F@14:10#T1 jars 9-16;182 F;81.9 C') };
    expect(found('fill-temperature', readings)).toMatchObject({
      limit: '180 °F or 82 °C or more in the jar when capped',
      found: '81.9 °C, the fifth of 5 readings; 179.9 °F, the third of 5 readings, at 14:10, jars 9-16',
    });
    expect(judged(readings).lowestFill?.typed).toBe('81.9 C');
    expect(found('fill-temperature', { fills: fills('81 C') })).toMatchObject({
      limit: '82 °C or more in the jar when capped',
      found: '81 °C, the only reading',
    });
  });

  test('a finished pack without a reading is held', () => {
    expect(spoke({ fills: [] })).toEqual(['fill-not-read!']);
    expect(judged({ fills: [] }).lowestFill).toBeNull();
  });

  test('over 200 °F or 93.3 °C, in the kettle or the jar, is an advisory', () => {
    expect(spoke({ hotPackTemp: temperature('200 F') })).toEqual([]);
    expect(spoke({ hotPackTemp: temperature('93.3 C') })).toEqual([]);
    expect(spoke({ hotPackTemp: temperature('93.4 C') })).toEqual(['too-hot-at-filling']);
    expect(spoke({ fills: fills('200.1 F') })).toEqual(['too-hot-at-filling']);
    expect(found('too-hot-at-filling', { hotPackTemp: temperature('201 F') }).found).toMatch(/^201 °F in the kettle/);
  });
});

describe('seals, jars and amounts drawn', () => {
  test('failed seals need an outcome; unchecked ones are an advisory', () => {
    expect(spoke({ sealsFailed: 2 })).toEqual(['seals-failed!']);
    expect(spoke({ sealsFailed: 2, sealsOutcome: 'none' })).toEqual(['seals-failed!']);
    expect(spoke({ sealsFailed: 2, sealsOutcome: 'refrigerated, used at home' })).toEqual([]);
    expect(spoke({ sealsFailed: null })).toEqual(['seals-not-checked']);
  });

  test.each([
    ['sold at half price', false],
    ['vendu', false],
    ['given to the neighbours', false],
    ['refrigerated, then sold', false],
    ['not destroyed', false],
    ['later', false],
    ['kept in the fridge, used at home', true],
    ['réchauffés et remis en pots', true],
    ['poured back and filled again', true],
    ['jetés', true],
  ])('failed seals with the outcome %s are off sale: %s', (sealsOutcome, isOff) => {
    expect(spoke({ sealsFailed: 2, sealsOutcome })).toEqual(isOff ? [] : ['seals-failed!']);
  });

  test('if every seal failed no jar may go out, whatever the outcome', () => {
    expect(spoke({ sealsFailed: 64, sealsOutcome: 'refrigerated' })).toEqual(['seals-failed!']);
    expect(found('seals-failed', { sealsFailed: 64 }).found).toBe('all 64 seals failed');
  });

  test('broken glass holds the jars around it until they are inspected or destroyed, not poured back', () => {
    const glass = { brokenGlass: [{ from: 14, to: 14 }] };
    expect(judged(glass).heldJars).toEqual([{ from: 12, to: 16 }]);
    const acted = (how: 'inspected' | 'destroyed' | 'poured-back', from: number, to: number) =>
      judged({ ...glass, actions: [{ how, jars: [{ from, to }], fills: [] }] }).heldJars;
    expect(acted('inspected', 12, 16)).toBeUndefined();
    expect(acted('destroyed', 12, 14)).toEqual([{ from: 15, to: 16 }]);
    expect(acted('poured-back', 12, 16)).toEqual([{ from: 12, to: 16 }]);
  });

  test('exactly five percent more passes, in spite of rounding errors', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 500 }),
        fc.constantFrom('8 fl oz', '1 pt', '250 mL', '1 imp pt'),
        (dozens, size) => {
          const jar = container(`glass jar ${size}`);
          const drawnMl = dozens * 100 * jar.volume.millilitres;
          expect(spoke({ container: jar, jars: dozens * 105, drawnMl })).toEqual([]);
          expect(spoke({ container: jar, jars: dozens, drawnMl: (dozens * jar.volume.millilitres) / 1.05 })).toEqual(
            [],
          );
          expect(spoke({ container: jar, jars: dozens * 105 + 1, drawnMl })).toEqual(['more-in-jars-than-drawn!']);
        },
      ),
    );
  });

  test('five percent more in the jars than was drawn passes, slightly more holds and says by how much', () => {
    const jarMl = container('glass jar 8 fl oz').volume.millilitres;
    expect(spoke({ jars: 105, drawnMl: 100 * jarMl })).toEqual([]);
    expect(spoke({ jars: 106, drawnMl: 100 * jarMl })).toEqual(['more-in-jars-than-drawn!']);
    expect(found('more-in-jars-than-drawn', { jars: 72 }).found).toBe(
      '72 × 8 fl oz is 4.5 gal, 12.5 % more than the 4 gal drawn',
    );
    expect(found('more-in-jars-than-drawn', { jars: 10_501, drawnMl: 10_000 * jarMl }).found).toContain('5.01 % more');
    expect(spoke({ drawnMl: null })).toEqual([]);
    expect(found('more-in-jars-than-drawn', { drawnMl: 0 }).found).toMatch(
      /; how much syrup was drawn for them is not recorded$/,
    );
  });

  test.each([
    ['glass jar 8 fl oz', 'boiled 10 min', false],
    ['glass jar 8 fl oz', 'oven 225 F', false],
    ['glass jar 8 fl oz', 'washed, pre-heated', false],
    ['glass jar 8 fl oz', 'dishwasher', false],
    ['glass jar 8 fl oz', '', true],
    ['glass jar 8 fl oz', 'washed', true],
    ['glass jar 8 fl oz', 'not preheated', true],
    ['glass jar 8 fl oz', 'unheated', true],
    ['glass jar 8 fl oz', 'washed, not yet warmed', true],
    ['glass jar 8 fl oz', "wasn't boiled", true],
    ['glass jar 8 fl oz', 'not dried, scalded', false],
    ['metal can 500 mL', 'rinsed cold', true],
    ['glass jar 250 mL', 'préchauffés au four', false],
    ['glass jar 250 mL', 'pas chauffés', true],
    ['glass jar 250 mL', 'rinsed four times', true],
    ['plastic jug 32 fl oz', '', false],
  ])('%s, prepared %p: an advisory to warm them is %s', (kind, containerPrep, advice) => {
    expect(spoke({ container: container(kind), containerPrep, drawnMl: null })).toEqual(
      advice ? ['not-preheated'] : [],
    );
  });
});

describe('other findings', () => {
  test('a thermometer not checked this season is an advisory that names it', () => {
    expect(found('thermometer-not-checked', { thermometers: [thermometer('T2')] }).found).toBe(
      'no check of thermometer T1 this season',
    );
  });
  test('mould holds, until other jars are inspected', () => {
    expect(spoke({ spoilage: mouldyJar })).toEqual(['mould!']);
    expect(found('mould', { spoilage: mouldyJar }).found).toContain('complaint C1, mould');
  });
  test('the same facts give the same verdict', () => expect(judged({ ...ordinaryPack })).toEqual(judged()));
});
