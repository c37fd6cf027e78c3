import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { recordOrThrow } from '../support/sugarhouse.js';
import { documentsOf, supporting } from '../support/documented-season.js';
import { act, begun, begunWith, engine, release, rowOf } from '../support/one-pack-season.js';

beforeAll(() => engine.start());
afterAll(() => engine.stop());

describe('a yearly summary says only what was recorded', () => {
  test('a check without a result is not recorded, never in tolerance', async () => {
    const book = await begun(
      (on) => supporting(on, 'instruments', { id: 'T1', what: 'thermometer' }),
      (on) => supporting(on, 'checks', { instrument: 'T1', how: 'ice', should: '32 F' }),
    );
    const read = await documentsOf(book);
    expect(read.sheet('Instrument checks')).toMatchObject([{ Instrument: 'T1', Read: '', Found: 'not recorded' }]);
    expect(read.text).not.toContain('in tolerance');
    expect(read.pageOne).toContain(
      'T1 thermometer: 2026-03-25 ice point, should read 32 F, read not recorded: result not',
    );
    expect(read.pageOne).toMatch(/T1: check of 2026-03-25: result not recorded; what it read is not verified/);
  });

  test('an answer in free words prints as it was written', async () => {
    const book = await begun((on) =>
      supporting(on, 'cleanings', { what: 'back pan', with: 'bleach', rinsed: 'no, forgot' }),
    );
    const read = await documentsOf(book);
    expect(read.sheet('Cleaning')).toMatchObject([{ Rinsed: 'no, forgot', Strength: '' }]);
    expect(read.text).toContain('strength not recorded. Rinsed: no, forgot.');
  });

  test.each([
    [{ what: 'sap tank', material: 'soldered sheet', year: '1958' }, true],
    [{ what: 'pump', material: 'bronze' }, true],
    [{ what: 'valve', material: 'brass' }, true],
    [{ what: 'buckets', material: 'galvanised' }, true],
    [{ what: 'storage', material: 'terneplate' }, true],
    [{ what: 'pan', material: 'English tin, soldered', year: '2004' }, false],
    [{ what: 'pan', material: 'stainless, welded', year: '2011', solder: 'none' }, false],
    [{ what: 'pan', material: 'stainless', solder: 'no solder, no brass' }, false],
  ])('equipment %j needs a lead test: %s', async (fields, asks) => {
    const book = await begun((on) => supporting(on, 'equipment', { id: 'E1', ...fields }));
    const read = await documentsOf(book);
    expect(read.text.includes('may contain lead: ask for a lead test')).toBe(asks);
    expect(read.sheet('Equipment')[0]?.['Lead']).toBe(asks ? 'may contain lead: ask for a lead test of the syrup' : '');
    expect(read.text).not.toContain('no risk known');
  });

  test.each([
    ['E. coli present, 12 MPN', 'FAILING water test'],
    ['E. coli', 'FAILING water test'],
    ['coliform positive, no E. coli', 'FAILING water test'],
    ['total coliforms found', 'FAILING water test'],
    ['unsafe', 'FAILING water test'],
    ['see the letter', 'does not clearly say'],
    ['no coliform found', null],
    ['E. coli: absent; coliforms: absent', null],
    ['E. coli 0 MPN; coliforms 4 MPN', 'FAILING water test'],
    ['safe to drink', null],
  ])('a water test of "%s" is flagged by its text', async (result, flag) => {
    const book = await begun((on) => supporting(on, 'water-tests', { source: 'house well', result }));
    const { pageOne, text } = await documentsOf(book);
    expect(text).toContain(result);
    if (flag) expect(pageOne).toContain(flag);
    else expect(pageOne).not.toMatch(/water test|plainly/i);
  });

  test('a missing water test and missing training are asked about', async () => {
    const { pageOne } = await documentsOf(await begun());
    expect(pageOne).toContain('no water test recorded');
    expect(pageOne).toContain('no hygiene training recorded');
    expect(pageOne).toContain('no licence or registration recorded');
  });

  test('an expired licence is on page one with its date', async () => {
    const book = await begun((on) =>
      supporting(on, 'licences', { what: 'producer licence', number: '0000', until: '2019-12-31' }),
    );
    const { pageOne } = await documentsOf(book);
    expect(pageOne).toContain('producer licence 0000: valid until 2019-12-31; EXPIRED');
  });

  test('defoamers are as recorded for each boil', async () => {
    const book = await begun(
      (on) =>
        recordOrThrow(on, 'boil', {
          beganAt: '2026-03-20T07:30',
          finishedAt: '2026-03-20T19:00',
          gatherings: '',
          defoamer: 'butter',
          defoamerAllergens: 'milk',
        }),
      (on) =>
        recordOrThrow(on, 'boil', {
          beganAt: '2026-03-19T07:30',
          finishedAt: '2026-03-19T19:00',
          gatherings: '',
          defoamer: '',
        }),
      (on) => recordOrThrow(on, 'pack', { fromLots: '26078A:1 gal', packedAt: '2026-03-21T10:00', jars: '16' }),
      (on) => recordOrThrow(on, 'pack', { fromLots: '26079A:1 gal', packedAt: '2026-03-21T12:00', jars: '16' }),
    );
    const read = await documentsOf(book);
    expect(read.text).toContain('butter, allergens: milk: 26079A');
    expect(read.text).toContain('not recorded: 26078A');
    expect(['26077A-1', '26078A-1', '26079A-1'].map((lot) => rowOf(read, lot)['Allergens'])).toEqual([
      'none',
      'not recorded',
      'milk',
    ]);
  });

  test('readings and filtering at a draw-off are not called unrecorded, and a little syrup is not rounded to nothing', async () => {
    const book = await engine.freshBook();
    await recordOrThrow(book, 'house');
    await recordOrThrow(book, 'gathering');
    await recordOrThrow(book, 'boil', { finishTemp: '', filterTemp: '', filterMedium: '', syrupVolume: '0.95 gal' });
    await recordOrThrow(book, 'draw', { temp: '218 F', filterTemp: '197 F', filterMedium: 'orlon cone' });
    const read = await documentsOf(book);
    expect(read.pageOne).toContain('0.95 gal of syrup');
    expect(read.text).toMatch(/26077A .*218 F .*197 F, orlon cone/);
    expect(read.text).not.toMatch(/(finish|filter) temperature/);
  });

  test('sap that went in without an amount counts in every total', async () => {
    const book = await engine.freshBook();
    await recordOrThrow(book, 'house');
    await recordOrThrow(book, 'gathering', { volume: '105.5 gal' });
    await recordOrThrow(book, 'boil', { gatherings: 'G001', syrupVolume: '2.6 gal' });
    const read = await documentsOf(book);
    expect(read.json.totals).toMatchObject({ sapGallons: 105.5, boilsWithoutSap: 0 });
    expect(read.pageOne).toContain('105.5 gal of sap');
    expect(read.text).toContain('40.6 to 1');
    expect(read.sheet('Boils')).toMatchObject([{ 'Sap as written': '', 'Sap (L)': '399.361' }]);
  });

  test('a verdict is beside its reading', async () => {
    const book = await begunWith(
      { densityReading: '60.0 Bx' },
      (on) =>
        act(on, {
          jars: 'all',
          densityReading: '67.2 Bx',
          densityAt: '68 F',
          densityBy: 'refractometer',
        }),
      (on) => release(on),
    );
    const read = await documentsOf(book);
    expect(rowOf(read)).toMatchObject({
      'Density (deg Bx at 20 C)': '67.2',
      'Density as read': '67.2 Bx at 68 F, refractometer, read again',
    });
    expect(read.pageOne).toContain('67.2 (67.2 Bx at 68 F, read again)');
    expect(read.sheet('Deviations')).toMatchObject([
      {
        Lot: '26077A-1',
        Rule: 'Minimum density',
        'New readings': '67.2 °Bx at 68 °F',
        Ended: expect.stringMatching(/^released/),
      },
    ]);
  });

  test('the boiling day is that of the syrup in the jars, not of what was left in the pans', async () => {
    const book = await begun(
      (on) =>
        recordOrThrow(on, 'boil', {
          beganAt: '2026-03-20T07:30',
          finishedAt: '2026-03-20T19:00',
          gatherings: '',
          carriedFrom: '26077A:1 qt',
        }),
      (on) => recordOrThrow(on, 'pack', { fromLots: '26079A:2 gal', packedAt: '2026-03-21T10:00', jars: '32' }),
    );
    const read = await documentsOf(book);
    expect(rowOf(read, '26079A-1')).toMatchObject({
      Boils: '26077A; 26079A',
      Boiled: '2026-03-20T07:30:00-04:00',
      'Syrup of': '26079A 2026-03-20',
    });
    expect(read.pageOne).toMatch(/26079A-1 26079A 20 Mar 21 Mar/);
  });

  test('jars add up in each row, returned ones too', async () => {
    const book = await begun(
      (on) => recordOrThrow(on, 'dispatch', { jars: '15' }),
      (on) => recordOrThrow(on, 'dispatch', { jars: '4', kind: 'returned', sentAt: '2026-04-13T09:00' }),
      (on) => recordOrThrow(on, 'dispatch', { jars: '1', kind: 'broken', to: 'the shelf', sentAt: '2026-04-14T09:00' }),
    );
    const read = await documentsOf(book);
    const [line] = read.json.lots;
    expect(line).toMatchObject({ jarsMade: 48, jarsSentOut: 11, jarsReturned: 4, jarsDestroyed: 0 });
    expect(line && line.jarsOnHand + line.jarsSentOut + line.jarsDestroyed + line.jarsOther).toBe(48);
    const other = line?.jarsOther ?? 0;
    expect(read.pageOne).toContain(`48 ${line?.jarsOnHand} 11 0 ${other} not counted`);
    expect(read.pageOne).toContain('11 sent out (net of 4 returned)');
  });
});
