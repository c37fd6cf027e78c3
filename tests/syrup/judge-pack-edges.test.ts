import { describe, expect, test } from '@jest/globals';
import { allowedErrorCelsius } from '#libs/syrup/instruments/thermometer-check.js';
import { parseCheckInterval } from '#libs/syrup/quantities/check-interval.js';
import { judgeReadings, formatOffset, formatReadingInFinding } from '#libs/syrup/rules/judge-reading.js';
import { container, fills, found, judged, spoke, thermometer } from '../support/pack-facts.js';

const packedAgain = (from: number, to: number, readings: string) => ({
  how: 'packed-again' as const,
  jars: [{ from, to }],
  fills: fills(readings),
});

describe('readings and corrective actions together', () => {
  const pack = { jars: 16, drawnMl: 16 * 250 };
  const interval = parseCheckInterval('4 jars').value!;

  test('jars poured back and not read again are held until an action packs them again', () => {
    const poured = { ...pack, fills: fills('186 F jar 8;178 F jar 12 poured back;186 F jar 8') };
    expect(spoke(poured)).toContain('fill-not-read!');
    expect(spoke({ ...poured, actions: [packedAgain(9, 16, '188 F jar 12;188 F jar 16')] })).not.toContain(
      'fill-not-read!',
    );
  });

  test('a cold reading in an action is cleared by the next action and not by that one', () => {
    const again = packedAgain(9, 15, '188 F jar 11;178 F jar 12;188 F jar 15');
    const facts = { ...pack, fills: fills('186 F jar 8;178 F jar 12;186 F jar 16') };
    expect(spoke({ ...facts, actions: [again] })).toContain('fill-temperature!');
    const last = packedAgain(9, 15, '188 F jar 12;188 F jar 15');
    expect(spoke({ ...facts, actions: [again, last] })).not.toContain('fill-temperature!');
    expect(spoke({ ...facts, actions: [last, again] })).toContain('fill-temperature!');
  });

  test('a cold reading also holds jars beyond a hot one by an unreliable thermometer', () => {
    const wrong = thermometer('T2', [['ice', 32, 32]]);
    const checks = wrong.checks.map(({ should: _should, reads: _reads, ...check }) => ({
      ...check,
      fit: 'no' as const,
    }));
    const { findings } = judged({
      ...{ ...pack, fills: fills('186 F#T1 jar 4;187 F#T2 jar 8;178 F#T1 jar 12;186 F#T1 jar 16') },
      thermometers: [thermometer('T1'), { ...wrong, checks }],
    });
    expect(findings.find(({ rule }) => rule === 'fill-temperature')?.jars).toEqual([{ from: 5, to: 15 }]);
    expect(findings.find(({ rule }) => rule === 'thermometer-unreliable')?.jars).toEqual([{ from: 5, to: 15 }]);
  });

  test('the interval between readings is judged once jars are filled and read, unless all were packed again', () => {
    const apart = { ...pack, interval, fills: fills('186 F jar 8;186 F jar 16') };
    expect(spoke(apart)).toContain('jars-not-covered');
    expect(spoke({ ...apart, fills: fills('186 F jar 16') })).toContain('jars-not-covered');
    expect(spoke({ ...apart, jars: null })).not.toContain('jars-not-covered');
    expect(spoke({ ...pack, fills: apart.fills })).not.toContain('jars-not-covered');
    expect(spoke({ ...apart, fills: [] })).not.toContain('jars-not-covered');
    const all = packedAgain(1, 16, [4, 8, 12, 16].map((jar) => `188 F jar ${jar}`).join(';'));
    expect(spoke({ ...apart, actions: [all] })).not.toContain('jars-not-covered');
    // Nor by how few there are without numbers.
    expect(spoke({ ...apart, fills: fills('186 F;186 F') })).toContain('jars-not-covered');
    expect(spoke({ ...apart, fills: fills('186 F;186 F'), actions: [all] })).not.toContain('jars-not-covered');
  });
});

test('a pack without a reading is distinguished from one whose reading was poured back', () => {
  const unread = (readings: string) => found('fill-not-read', { jars: 8, drawnMl: null, fills: fills(readings) }).found;
  expect(found('fill-not-read', { jars: 8, drawnMl: null, fills: [] }).found).toBe('no fill reading');
  expect(unread('178 F jar 8 poured back')).toBe('all jars poured back and filled again, and no jar read after that');
});

describe('a corrected reading', () => {
  const suspectText = (offsetC: number, typed = '86 C#T1') => {
    const [reading] = judgeReadings(fills(typed), [thermometer('T1')]);
    return formatReadingInFinding({ ...reading!, by: { ...reading!.by!, offsetC } }, 1);
  };
  test('is given as typed up to the allowed error, and corrected beyond it', () => {
    expect([suspectText(0), suspectText(allowedErrorCelsius), suspectText(allowedErrorCelsius + 1e-9)]).toEqual(
      Array.from({ length: 3 }, () => '86 °C, the only reading'),
    );
    expect(suspectText(allowedErrorCelsius + 1e-6)).toContain('after correction');
  });
  test('by one degree is given corrected if that decides', () => {
    const [asRead] = judgeReadings(fills('81.5 C#T1'), [thermometer('T1')]);
    const low = { ...asRead!, degrees: 82.5, outcome: 'perhaps' as const, by: { ...asRead!.by!, offsetC: 1 } };
    expect(formatReadingInFinding(low, 1)).toMatch(
      /^82\.5 °C after correction \(T1 showed 81\.5 °C and reads 1 °C low/,
    );
  });
});

test('a reading on another day than the pack’s is reported with that day', () => {
  const [reading] = judgeReadings(fills('186 F@10:00'), []);
  const at = (clock: string) => formatReadingInFinding({ ...reading!, fill: { ...reading!.fill, clock } }, 1);
  expect([at('22:10'), at('2026-03-18T22:10:00-04:00')]).toEqual([
    '186 °F, the only reading, at 22:10',
    '186 °F, the only reading, at 22:10 on 2026-03-18',
  ]);
});

describe('a reading without a thermometer', () => {
  test.each([
    ['179 F', 'too cold'],
    ['179.999 F', 'too cold'],
    ['81.999 C', 'too cold'],
    ['180 F', 'hot enough'],
  ])('%s is judged as typed: %s', (typed, outcome) => {
    const [reading] = judgeReadings(fills(typed), []);
    expect([reading?.outcome, reading?.degrees]).toEqual([outcome, Number.parseFloat(typed)]);
  });

  test('is corrected to the hundredth', () => {
    expect([formatOffset(0.1234, 'C'), formatOffset(-0.1234, 'C'), formatOffset(1 / 1.8, 'F')]).toEqual([
      '0.12 °C low',
      '0.12 °C high',
      '1 °F low',
    ]);
  });
});

describe('the content of a verdict', () => {
  test('includes unchecked thermometers once a jar was read, or the pack is finished', () => {
    const unchecked = { thermometers: [thermometer('T1', [], { checkedThisSeason: false })] };
    const names = (changes: object): boolean => spoke({ ...unchecked, ...changes }).includes('thermometer-not-checked');
    expect(names({ jars: null, fills: [] })).toBe(false);
    expect(names({ jars: null, fills: fills('190 F#T1') })).toBe(true);
    expect(names({ fills: [] })).toBe(true);
  });

  test('leaves out the colour class for processing grade in bulk only', () => {
    const colour = (colourClass: string, size: string) =>
      judged({ colourClass, container: container(size), jars: 1, drawnMl: 20_000 }).colour;
    expect([colour('Processing', 'drum 10 gal'), colour('Processing', 'jug 1 gal')]).toEqual([null, 'Amber']);
    expect([colour('Amber', 'drum 10 gal'), colour('Amber', 'jug 1 gal')]).toEqual(['Amber', 'Amber']);
  });

  test('keeps the typed colour class of another product, and none for a blank', () => {
    const typed = (colourClass: string) => judged({ product: 'maple cream', colourClass }).colourTyped;
    expect([typed(' Amber '), typed(' ')]).toEqual(['Amber', null]);
  });
});
