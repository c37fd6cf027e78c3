import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { existsSync } from 'node:fs';
import { inProcessTerminal, type Terminal } from '../support/command-line.js';

let terminal: Terminal;
beforeAll(() => {
  terminal = inProcessTerminal();
});
afterAll(() => terminal.remove());

const reckon = (question: string, ...options: string[]): Promise<Record<string, number>> =>
  terminal.json('reckon', question, ...options);

describe('calculators on the command line', () => {
  test('density: a hydrometer made for 60 °F in hot syrup, and a refractometer away from 20 °C', async () => {
    // Vermont's chart: a 60 °F hydrometer reads 60.4 °Bx at 185 °F in syrup of 66.9; physics stays within 0.33 of it.
    const hot = await reckon('density', '--reading', '60.4 Bx', '--at', '185 F', '--hydrometer-at', '60F');
    expect(Object.keys(hot)).toEqual(['brix', 'brixUncertainty', 'baume', 'densityKgPerM3']);
    expect(Math.abs(hot['brix']! - 66.9)).toBeLessThanOrEqual(0.33);
    // 66.0 °Bx is 1322.4 kg/m³ at 20 °C (CRC Handbook) and 35.6 °Bé (published pair).
    const cold = await reckon('density', '--reading', '66 Bx', '--at', '20C', '--atc');
    expect(cold['densityKgPerM3']).toBeCloseTo(1322.4, 0);
    expect(cold['baume']).toBeCloseTo(35.6, 1);
    // OIV-MA-AS2-02 Table I, 60 to 70 %: at 15 °C take off 0.38 to 0.40.
    const cool = await reckon('density', '--reading', '66.9 Bx', '--at', '15 C', '--refractometer');
    expect(66.9 - cool['brix']!).toBeGreaterThan(0.37);
    expect(66.9 - cool['brix']!).toBeLessThan(0.41);
  });

  test('finish: from water that boils at 212 °F, the barometer and the elevation', async () => {
    const level = await reckon('finish', '--water-boils', '212 F', '--density', '66 Bx');
    expect(Object.keys(level)).toEqual(['waterBoilsF', 'waterBoilsC', 'finishF', 'finishC', 'riseF']);
    // Starzak and Peacock's water activity: 7.20 °F at 66.0, 7.56 °F at 66.9.
    expect(level['riseF']).toBeCloseTo(7.2, 1);
    // Published pairs: 29.0 inHg is 210.47 °F, 2000 ft is 208.4 °F; the steam tables agree within 0.15 °F.
    const low = await reckon('finish', '--pressure', '29.0 inHg', '--density', '66.9 Bx');
    expect(Math.abs(low['waterBoilsF']! - 210.47)).toBeLessThanOrEqual(0.15);
    const hill = await reckon('finish', '--elevation', '2000 ft', '--density', '66.9 Bx');
    expect(Math.abs(hill['waterBoilsF']! - 208.4)).toBeLessThanOrEqual(0.15);
  });

  test('fill: a cold half-pint jar cools 185 °F syrup below the limit', async () => {
    const fill = ['--fill', '8 fl oz', '--glass', '190 g', '--density', '66.9 Bx'];
    const cold = await reckon('fill', '--syrup', '185 F', '--glass-at', '68 F', ...fill);
    expect(Object.keys(cold)).toEqual(['mixedF', 'mixedC', 'passes', 'syrupNeededF']);
    expect(cold['passes']).toBe(false);
    expect(cold['mixedF']).toBeGreaterThan(164);
    expect(cold['mixedF']).toBeLessThan(168);
    expect((await reckon('fill', '--syrup', '190 F', '--glass-at', '140 F', ...fill))['passes']).toBe(true);
  });

  test('shrink, weight, yield, colour and type height', async () => {
    const shrink = await reckon('shrink', '--fill-at', '185 F', '--density', '66 Bx');
    expect(shrink).toEqual({ percent: expect.closeTo(2.9, 1), hotVolumePerCold: expect.closeTo(1.03, 2) });
    const weight = await reckon('weight', '--volume', '1 gal', '--density', '66.9 Bx');
    expect(Object.keys(weight)).toEqual(['grams', 'gramsInAir', 'poundsInAir']);
    expect(weight['poundsInAir']).toBeCloseTo(11.076, 2);
    const syrup = await reckon('yield', '--sap', '100 gal', '--sugar', '2 Bx', '--density', '66.9 Bx');
    expect(Object.keys(syrup)).toEqual(['gallons', 'litres', 'sapPerSyrup']);
    expect(syrup['sapPerSyrup']).toBeCloseTo(44.16, 1);
    expect(await reckon('colour', '--transmittance', '50 %')).toEqual({
      class: 'Amber',
      gradeUs: 'Grade A Amber Color and Rich Taste',
    });
    // 0.4 × 3.5 × π × 2.5 = 11 square inches: 1/8 in.
    const height = await reckon('type-height', '--panel-height', '3.5 in', '--diameter', '2.5 in');
    expect(height).toEqual({
      panelSquareInches: expect.closeTo(11, 1),
      inches: 0.125,
      millimetres: expect.closeTo(3.175, 3),
    });
  });

  test('invalid input is reported with its field on standard error, and nothing is printed', async () => {
    const bare = await terminal.run('reckon', 'density', '--reading', '66', '--at', '185 F', '--json');
    expect(bare).toMatchObject({ exit: 2, out: '' });
    expect(bare.err).toMatch(/^Reading: expected .*, got "66"\n$/);
    const hot = await terminal.run('reckon', 'density', '--reading', '66 Bx', '--at', '85 C', '--refractometer');
    expect(hot).toMatchObject({ exit: 2, out: '' });
    const none = await terminal.run('reckon', 'weight', '--volume', '1 gal');
    expect(none).toMatchObject({ exit: 2, out: '' });
    expect(none.err).toContain('Density');
    expect(await terminal.run('reckon', 'tea')).toMatchObject({ exit: 2, out: '' });
  });

  test('a calculator writes nothing and creates no book', () => {
    expect(existsSync(terminal.book)).toBe(false);
  });

  test('what-applies lists offices and verified rules with their sources, by default for the book’s place', async () => {
    const result = await terminal.run(
      'reckon',
      'what-applies',
      '--place',
      'Michigan',
      '--market',
      '--a-year',
      '$16,000',
    );
    expect(result.exit).toBe(0);
    expect(result.out).toContain('Ask Michigan Department of Agriculture and Rural Development');
    expect(result.out).toContain('You gave $16,000 in all, more than $15,000; ask which sales count.');
    expect(result.out).toContain('Source: Senate analysis of SB 93, 24 April 2025 (read in the source, 2025-04-24)');
    expect(result.out).toContain('Not found: a density of the state’s own');
    await terminal.json('setup', '--name', 'Tamarack Hollow Sugarhouse', '--place', 'Ontario');
    const own = await terminal.run('reckon', 'what-applies', '--market');
    expect(own.out).toContain('Ontario: what was read');
    expect(own.out).toContain('Your authority: not recorded');
  });

  test('setup accepts the federal licence only with its number', async () => {
    const half = await terminal.run('setup', '--name', 'Tamarack Hollow Sugarhouse', '--federal-licence', 'yes');
    expect([half.exit, half.err]).toEqual([2, expect.stringContaining('the number on the federal licence')]);
    const result = await terminal.json<{ house: Record<string, unknown> }>(
      ...['setup', '--name', 'Tamarack Hollow Sugarhouse', '--place', 'Ontario'],
      ...['--federal-licence', 'yes', '--federal-licence-number', 'TH-0000001'],
    );
    expect(result.house).toMatchObject({ federalLicence: 'yes', federalLicenceNumber: 'TH-0000001' });
  });
});
