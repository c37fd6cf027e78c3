import { describe, expect, test } from '@jest/globals';
import { calculatorFields, calculators, reckon } from '#libs/actions/calculators/calculators.js';
import type { ParseOptions } from '#libs/actions/record/parse-options.js';
import { sentencesOf } from '#libs/actions/record/problem.js';

const book: ParseOptions = {
  zone: 'America/New_York',
  volumes: { bareGallons: 'US' },
  now: new Date('2026-03-19T12:00:00Z'),
};
const canadian: ParseOptions = { ...book, volumes: { bareGallons: 'refused' } };

function figures(name: string, sent: Record<string, unknown>, options = book) {
  const answer = reckon(name, sent, options);
  if ('problem' in answer) throw new Error(sentencesOf(answer.problem).join(' '));
  expect(answer.sentences.length).toBeGreaterThan(0);
  expect(answer.sources.length).toBeGreaterThan(0);
  expect(answer.sentences.join(' ')).not.toMatch(/NaN|undefined|Infinity/);
  return answer.figures;
}
function refusal(name: string, sent: Record<string, unknown>, options = book): string {
  const answer = reckon(name, sent, options);
  if (!('problem' in answer)) throw new Error(`answered ${JSON.stringify(answer.figures)}`);
  return sentencesOf(answer.problem).join(' ');
}

describe('the fields that others’ scripts use', () => {
  test('density', () => {
    const found = figures('density', { reading: '60.4 Bx', at: '185 F' });
    expect(Object.keys(found)).toEqual(['brix', 'brixUncertainty', 'baume', 'densityKgPerM3']);
    expect(found.brix).toBeCloseTo(66.76, 2);
    expect(figures('density', { reading: '66.9 Bx', at: '68 F', hydrometerAt: '68F' }).brix).toBeCloseTo(66.9, 6);
    expect(figures('density', { reading: '66 Bx', at: '15 C', refractometer: true }).brix).toBeCloseTo(65.62, 9);
    expect(figures('density', { reading: '66 Bx', atc: true }).brix).toBe(66);
  });
  test('finish, calculated in three ways', () => {
    const byPan = figures('finish', { waterBoils: '212 F', density: '66.9 Bx' });
    expect(Object.keys(byPan)).toEqual(['waterBoilsF', 'waterBoilsC', 'finishF', 'finishC', 'riseF']);
    expect(byPan.riseF).toBeCloseTo(7.56, 2);
    expect(byPan.finishF).toBeCloseTo(219.56, 2);
    expect(figures('finish', { pressure: '101.325 kPa', density: '66 Bx' }).riseF).toBeCloseTo(7.2, 2);
    expect(figures('finish', { elevation: '2000 ft', density: '66 Bx' }).waterBoilsF).toBeCloseTo(208.3, 1);
  });
  test('fill', () => {
    const result = { syrup: '185 F', fill: '8 fl oz', glass: '190 g', glassAt: '68 F', density: '66.9 Bx' };
    const found = figures('fill', result);
    expect(Object.keys(found)).toEqual(['mixedF', 'mixedC', 'passes', 'syrupNeededF']);
    expect(found.mixedF).toBeCloseTo(165.6, 1);
    expect(found.passes).toBe(false);
    expect(figures('fill', { ...result, glass: '2 kg', fill: '100 mL' }).syrupNeededF).toBeNull();
  });
  test('a fill in °C is judged at 82 °C, one in °F at 180 °F', () => {
    const warm = { fill: '8 fl oz', glass: '1 g', density: '66.9 Bx' };
    expect(figures('fill', { ...warm, syrup: '82.1 C', glassAt: '82.1 C' }).passes).toBe(true);
    expect(figures('fill', { ...warm, syrup: '179.9 F', glassAt: '179.9 F' }).passes).toBe(false);
    expect(figures('fill', { ...warm, syrup: '180 F', glassAt: '180 F' }).passes).toBe(true);
  });
  test('shrink, weight, yield, colour, type-height', () => {
    const shrunk = figures('shrink', { fillAt: '180 F', density: '66.9 Bx' });
    expect(shrunk).toEqual({ percent: expect.closeTo(2.758, 3), hotVolumePerCold: expect.closeTo(1.028365, 5) });
    expect(figures('shrink', { fillAt: '180 F', density: '66.9 Bx', to: '60 F' }).percent).toBeGreaterThan(
      Number(shrunk.percent),
    );
    expect(figures('weight', { volume: '1 gal', density: '66 Bx' })).toEqual({
      grams: expect.closeTo(5006.8, 1),
      gramsInAir: expect.closeTo(5003.0, 1),
      poundsInAir: expect.closeTo(11.03, 3),
    });
    const made = {
      gallons: expect.closeTo(1, 3),
      litres: expect.closeTo(3.785, 2),
      sapPerSyrup: expect.closeTo(43.39, 2),
    };
    expect(figures('yield', { sap: '43.39 gal', sugar: '2 Bx', density: '66 Bx' })).toEqual(made);
    expect(figures('yield', { sap: '43.39 gal', sugar: '2 %', density: '66 Bx' })).toEqual(made);
    expect(figures('colour', { transmittance: '61 %' })).toEqual({
      class: 'Amber',
      gradeUs: 'Grade A Amber Color and Rich Taste',
    });
    expect(figures('type-height', { panelHeight: '3.5 in', diameter: '2.5 in' })).toEqual({
      panelSquareInches: expect.closeTo(0.4 * 3.5 * Math.PI * 2.5, 6),
      inches: 0.125,
      millimetres: expect.closeTo(3.175, 9),
    });
    expect(figures('type-height', { panelArea: '26 sq in' }).inches).toBeCloseTo(3 / 16, 9);
  });
});

describe('further calculators', () => {
  test('thin and thicken are inverses', () => {
    const thinned = figures('thin', { syrup: '5 L', density: '69 Bx', target: '66.9 Bx' });
    const back = figures('thicken', {
      syrup: `${Number(thinned.syrupAfterLitres).toFixed(9)} L`,
      density: '66.9 Bx',
      target: '69 Bx',
    });
    expect(back.waterGrams).toBeCloseTo(Number(thinned.addGrams), 2);
    expect(back.syrupAfterLitres).toBeCloseTo(5, 5);
  });
  test('blend, hydrometer, fill level', () => {
    expect(
      figures('blend', { first: '1 gal', firstDensity: '66 Bx', second: '1 gal', secondDensity: '68 Bx' }).brix,
    ).toBeCloseTo(67.0, 1);
    expect(figures('float', { density: '66.9 Bx', at: '185 F' }).readingBrix).toBeCloseTo(60.55, 1);
    expect(
      figures('fill-level', { volume: '8 fl oz', fillAt: '180 F', density: '66.9 Bx' }).hotMillilitres,
    ).toBeCloseTo(243.3, 1);
  });
  test('jar plan of hot syrup in two sizes', () => {
    const plan = figures('jar-plan', { syrup: '1 gal', sizes: '32 fl oz x 2; 8 fl oz' });
    expect(plan.sizes).toEqual([
      { size: '32 fl oz', jars: 2, toBoil: 4 },
      { size: '8 fl oz', jars: 8, toBoil: 10 },
    ]);
    expect(plan.leftOverMillilitres).toBeCloseTo(0, 6);
    expect(
      figures('jar-plan', { syrup: '1 gal', syrupAt: '185 F', density: '66.9 Bx', sizes: ['8 fl oz'] }).sizes,
    ).toMatchObject([{ jars: 15 }]);
  });
  test('in Canada weighed jars are compared with the schedules of tolerances and samples', () => {
    const label = figures('weight', { volume: '500 mL', density: '66.9 Bx' }).gramsInAir as number;
    const jars = (...parts: number[]) => parts.map((part) => `${(label * part).toFixed(1)} g`).join('; ');
    const result = { volume: '500 mL', density: '66.9 Bx', country: 'CA', lotSize: '10' };
    const full = Array.from({ length: 9 }, () => 1.004);
    expect(figures('weighed-jars', { ...result, weights: jars(...full, 1.004) })).toMatchObject({
      toleranceMl: 15,
      leastSample: 10,
      shortByMore: 0,
      failsAt: 2,
      meetsSchedules: true,
    });
    // A tenth of a jar short: below the label by more than 3 %, in one jar of ten.
    expect(figures('weighed-jars', { ...result, weights: jars(...full, 0.96) })).toMatchObject({
      shortByMore: 1,
      shortByTwice: 0,
      meetsSchedules: true,
    });
    expect(figures('weighed-jars', { ...result, weights: jars(...full.slice(1), 0.96, 0.96) })).toMatchObject({
      shortByMore: 2,
      meetsSchedules: false,
    });
    expect(figures('weighed-jars', { ...result, lotSize: '48', weights: jars(...full) })).toMatchObject({
      leastSample: 12,
      meetsSchedules: null,
    });
    expect(refusal('weighed-jars', { ...result, lotSize: '3', weights: jars(...full) })).toContain(
      'at least the 9 jars',
    );
  });

  test('weighed jars ask for the source of an allowance', () => {
    const result = { weights: '503 g; 502 g; 505 g', tare: '190 g', volume: '8 fl oz', density: '66 Bx' };
    expect(figures('weighed-jars', result)).toMatchObject({
      jars: 3,
      jarsUnderLabel: 1,
      jarsUnderAllowance: null,
      averageReachesLabel: true,
    });
    expect(refusal('weighed-jars', { ...result, allowance: '5 g' })).toContain('none is included');
    expect(figures('weighed-jars', { ...result, allowance: '5 g', citation: 'table 1' })).toMatchObject({
      jarsUnderAllowance: 0,
    });
  });
  test('the boil over midnight, the thermometer, the season', () => {
    const result = { readings: '215 F@23:50; 216.5 F@00:05', waterBoils: '211 F', density: '66.9 Bx' };
    expect(figures('thickening', result).minutesToDraw).toBeGreaterThan(5);
    expect(
      figures('thermometer', { ice: '33 F', boiling: '208 F', elevation: '0 ft', reading: '180 F' }),
    ).toMatchObject({
      addAtIceF: expect.closeTo(-1, 9),
      addAtBoilingF: expect.closeTo(3.95, 2),
      within: false,
    });
    expect(
      figures('season-ratio', { sap: '400 gal', sugar: '2 Bx', syrup: '9 gal', density: '66.9 Bx', wood: '0.5 cord' }),
    ).toMatchObject({
      gallonsPerCord: expect.closeTo(18, 9),
      percentOfExpected: expect.closeTo(99.4, 1),
    });
  });
});

describe('impossible input', () => {
  test.each([
    ['density', { reading: '66.9 Bx' }, 'At: expected the temperature of the sample'],
    [
      'density',
      { reading: '66.9', at: '60 F' },
      'Reading: expected a density like 66.9 Bx, 36 Be or 1.328 SG, got "66.9"',
    ],
    ['density', { reading: '60 Bx', at: '225 F' }, 'since the formula was published for 0–100 °C'],
    ['density', { reading: '60 Bx', at: '180 F', refractometer: true }, 'At: expected a sample at 10–30 °C'],
    ['density', { reading: '60 Bx', at: '20 C', refractometer: true, hydrometerAt: '60 F' }, 'not both'],
    ['density', { reading: '60 Bx', at: '20 C', colour: 'x' }, 'a field colour'],
    ['finish', { density: '66.9 Bx' }, 'one of three'],
    ['finish', { density: '66.9 Bx', waterBoils: '212 F', elevation: '0 ft' }, '"212 F" and "0 ft"'],
    ['finish', { density: '92 Bx', waterBoils: '212 F' }, 'since the formulas were published for that range'],
    [
      'finish',
      { density: '66.9 Bx', waterBoils: '180' },
      'Water boils: expected a temperature like 186 F or 85.5 C, got "180"',
    ],
    ['finish', { density: '66.9 Bx', waterBoils: '100 F' }, 'water that boils between 167 F and 219 F'],
    ['shrink', { density: '66.9 Bx', fillAt: '214 F' }, 'outside 0–100 °C'],
    ['weight', { density: '66.9 Bx', volume: '0 gal' }, 'more than nothing'],
    ['yield', { sap: '10 gal', sugar: '70 Bx', density: '66 Bx' }, 'Sugar: expected less than 66 Bx'],
    [
      'yield',
      { sap: '10 gal', sugar: '0 Bx', density: '66 Bx' },
      'the sugar of the sap, like 2 Bx or 2 %, 0.1 or more',
    ],
    ['colour', { transmittance: '61' }, 'a percentage like 61 %'],
    ['colour', { transmittance: '101 %' }, 'from 0 to 100'],
    ['type-height', { panelHeight: '3 in' }, 'Diameter: expected the diameter'],
    ['thin', { syrup: '5 gal', density: '65 Bx', target: '66 Bx' }, 'less than 65 Bx'],
    ['thickening', { readings: '215 F@20:00', waterBoils: '211 F', density: '66.9 Bx' }, 'Two readings'],
    ['thickening', { readings: '215 F', waterBoils: '211 F', density: '66.9 Bx' }, 'like 215 F@20:10'],
    ['thermometer', { boiling: '100 F', elevation: '0 ft' }, 'otherwise the thermometer is broken'],
    ['shoe-size', {}, 'There is no question shoe-size'],
  ])('%s %j is refused with the reason', (name, sent, sentence) => {
    expect(refusal(name, sent)).toContain(sentence);
  });
  test('a bare gallon in a Canadian book', () => {
    expect(refusal('weight', { volume: '1 gal', density: '66 Bx' }, canadian)).toContain('write US or imp');
    expect(figures('weight', { volume: '1 US gal', density: '66 Bx' }, canadian).poundsInAir).toBeCloseTo(11.03, 3);
  });
  test('every fault at once', () => {
    expect(refusal('fill', {}).match(/expected/g)).toHaveLength(5);
  });
});

describe('every calculator', () => {
  test.each(calculators.map((question) => [question.name, question] as const))(
    '%s lists its fields as options',
    (_, question) => {
      const fields = calculatorFields(question);
      expect(fields.every((field) => /^--[a-z-]+$/.test(field.option) && field.label !== '')).toBe(true);
      expect(fields.filter((field) => field.required).every((field) => field.example !== '')).toBe(true);
    },
  );
  test.each(calculators.map((question) => [question.name, question] as const))(
    '%s parses its own examples',
    (_, question) => {
      for (const [name, field] of Object.entries(question.fields))
        if (field.example !== '')
          expect({ name, mismatch: field.read(field.example, book).mismatch }).toEqual({ name, mismatch: undefined });
    },
  );
  test('gives a result from the examples of its required fields', () => {
    for (const question of calculators) {
      const sent = Object.fromEntries(
        calculatorFields(question)
          .filter((field) => field.required)
          .map((field) => [field.name, field.example]),
      );
      const more = {
        density: { at: '185 F' },
        finish: { waterBoils: '211 F' },
        thickening: { waterBoils: '211 F' },
        'type-height': { panelArea: '12 in2' },
        thermometer: { ice: '32.5 F' },
      };
      const all = { ...sent, ...more[question.name as keyof typeof more] };
      figures(question.name, all);
    }
  });
});
