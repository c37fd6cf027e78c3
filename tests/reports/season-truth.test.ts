import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { actions as actionKind } from '#libs/actions/kinds/corrective-action.js';
import { correctEntry } from '#libs/actions/record/correct-entry.js';
import { holdLot } from '#libs/actions/lots/hold-lot.js';
import { recallLot } from '#libs/actions/lots/recall-lots.js';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { record } from '#libs/actions/record/record.js';
import { loadSeasonContext } from '#libs/actions/season/season-context.js';
import type { Book } from '#libs/store/book.js';
import { readRecall } from '#libs/actions/recall/read-recall.js';
import { writeRecallPdf } from '#libs/reports/recall/recall-pdf.js';
import { desk, done, recordOrThrow } from '../support/sugarhouse.js';
import { sqlite } from '../support/engines.js';
import { documentsOf, type Documents, plain, supporting } from '../support/documented-season.js';
import { bytesOf, readPdf } from '../support/read-pdf.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

const engine = sqlite();
beforeAll(() => engine.start());
afterAll(() => engine.stop());

/** A house, a gathering, boil 26077A and pack 26077A-1 with what is different about it, and then what came after. */
const begunWith = async (
  pack: Record<string, string | string[]>,
  ...first: ((book: Book) => Promise<unknown>)[]
): Promise<Book> => {
  const book = await engine.freshBook();
  for (const kind of ['house', 'gathering', 'boil']) await recordOrThrow(book, kind);
  await recordOrThrow(book, 'pack', pack);
  for (const write of first) await write(book);
  return book;
};
const begun = (...first: ((book: Book) => Promise<unknown>)[]): Promise<Book> => begunWith({}, ...first);
const rowOf = ({ csv }: Documents, lot = '26077A-1') => csv.find((row) => row['Lot'] === lot) ?? {};
const act = async (book: Book, fields: Record<string, string | string[]>, now = '2026-05-01T23:00:00Z') =>
  done(
    await record(book, desk({ now: new Date(now) }), actionKind, {
      lot: '26077A-1',
      found: 'the second tray at 178 F',
      cause: 'cold-jar',
      jars: '17-32',
      done: 'those jars emptied, the syrup reheated to 195 F and packed again',
      by: 'WE',
      ...fields,
    }),
  );
const release = (book: Book, why = 'filled again at 187 F') =>
  releaseLot(book, desk({ now: new Date('2026-05-02T12:00:00Z') }), '26077A-1', why).then(done);

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
  ])('equipment %j asks for a lead test: %s', async (fields, asks) => {
    const book = await begun((on) => supporting(on, 'equipment', { id: 'E1', ...fields }));
    const read = await documentsOf(book);
    expect(read.text.includes('may hold lead: asks for a test result')).toBe(asks);
    expect(read.sheet('Equipment')[0]?.['Lead']).toBe(asks ? 'may hold lead: asks for a test result of the syrup' : '');
    expect(read.text).not.toContain('no risk known');
  });

  test.each([
    ['E. coli present, 12 MPN', 'FAILING water test'],
    ['E. coli', 'FAILING water test'],
    ['coliform positive, no E. coli', 'FAILING water test'],
    ['total coliforms found', 'FAILING water test'],
    ['unsafe', 'FAILING water test'],
    ['see the letter', 'does not plainly say'],
    ['no coliform found', null],
    ['E. coli: absent; coliforms: absent', null],
    ['E. coli 0 MPN; coliforms 4 MPN', 'FAILING water test'],
    ['safe to drink', null],
  ])('a water test of "%s" is flagged by its words', async (result, flag) => {
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

  test('a licence that ran out stands on page one with its date', async () => {
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

  test('a verdict stands beside the reading that gave it', async () => {
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
        Rule: 'density-too-thin',
        'Read again': '67.2 °Bx at 68 °F',
        Ended: expect.stringMatching(/^released/),
      },
    ]);
  });

  test('boiled is the day of the syrup in the jars, not of what was left in the pans', async () => {
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

  test('the lowest fill is of the jars that stand, and what a corrective action replaced is said', async () => {
    const book = await begunWith(
      { fillTemps: ['188 F jars 1-16', '178 F jars 17-32', '181 F#T1 jars 33-48'] },
      (on) => act(on, { fillTemps: ['187 F jars 17-24', '188 F jars 25-32'], sealsFailed: '0' }),
      (on) => release(on),
    );
    const read = await documentsOf(book);
    expect(rowOf(read)).toMatchObject({ 'Lowest fill (deg F)': '181', 'Fill readings replaced': '178 F' });
    expect(read.json.lots[0]).toMatchObject({ lowestFillF: 181 });
    expect(read.pageOne).toContain('181 F, T1; 178 F replaced');
  });

  test('a hold rule that was broken stays among the deviations, from first to last', async () => {
    const book = await begunWith({ fillTemps: ['188 F jars 1-16', '178 F jars 17-32', '186 F jars 33-48'] }, (on) =>
      act(on, { fillTemps: ['187 F jars 17-24', '188 F jars 25-32'], sealsFailed: '0' }),
    );
    const acted = await documentsOf(book);
    expect(acted.sheet('Deviations')).toMatchObject([
      { Lot: '26077A-1', Rule: 'fill-temperature', Open: 'yes', Ended: expect.stringContaining('NOT RELEASED') },
    ]);
    await release(book);
    const read = await documentsOf(book);
    const [row, ...rest] = read.sheet('Deviations');
    expect(rest).toEqual([]);
    expect(row).toMatchObject({
      Rule: 'fill-temperature',
      Found: expect.stringContaining('178 °F'),
      Limit: expect.stringContaining('180 °F or more'),
      'Read again': '187 °F, jars 17-24; 188 °F, jars 25-32',
      Open: 'no',
      Ended: 'released 2026-05-02 08:00 by WE: filled again at 187 F',
    });
    expect(row?.['Done']).toContain('reheated to 195 F');
    expect(read.json.totals).toMatchObject({ deviations: 1, deviationsOpen: 0 });
    expect(read.pageOne).toContain('Deviations: 1, still open: 0');
    expect(read.pageOne).toMatch(/26077A-1 fill-temperature: 178 °F.*released 2026-05-02 WE/);
  });

  test('a hold by hand and a recall are deviations too, with their reasons', async () => {
    const book = await begun(
      (on) => holdLot(on, desk(), '26077A-1', 'a jar came back leaking').then(done),
      (on) => release(on, 'one bad lid, thrown out'),
      (on) =>
        recallLot(on, desk({ now: new Date('2026-05-03T12:00:00Z') }), '26077A-1', 'a second jar leaked').then(done),
    );
    const read = await documentsOf(book);
    expect(read.sheet('Deviations')).toMatchObject([
      { Rule: 'held by hand', Found: 'a jar came back leaking', Open: 'no' },
      { Rule: 'recalled', Found: 'a second jar leaked', Open: 'yes', Ended: 'RECALLED' },
    ]);
    expect(read.pageOne).toContain('RECALLED, 1 lot: 26077A-1');
  });

  test('a correction that changed a verdict is listed with both values', async () => {
    const book = await begunWith({ fillTemps: ['188 F', '178 F', '185 F'] }, async (on) =>
      done(await correctEntry(on, desk(), '26077A-1', 'read the 8 for a 7', { fillTemps: '188 F;188 F;185 F' })),
    );
    const read = await documentsOf(book);
    const rows = read.sheet('Corrections');
    expect(rows).toHaveLength(1);
    expect(rows[0]).toMatchObject({ Lot: '26077A-1', Was: '178 °F', Now: '188 °F', Why: 'read the 8 for a 7' });
    expect(rows[0]?.['Verdict before']).toContain('fill-temperature');
    expect(read.pageOne).toContain('Corrections that changed a verdict: 1');
    expect(read.pageOne).toMatch(/fill temps 178 °F (?:→|->) 188 °F/);
  });
});

describe('a recall says only what was recorded', () => {
  test('jars of which nobody wrote how they went are not called a sale, and the authority has its telephone', async () => {
    const book = await engine.freshBook();
    await recordOrThrow(book, 'house', { authority: 'food safety office', authorityPhone: '802 555 0199' });
    for (const kind of ['gathering', 'boil', 'pack']) await recordOrThrow(book, kind);
    await recordOrThrow(book, 'dispatch', { jars: '12' });
    await recordOrThrow(book, 'dispatch', { jars: '2', kind: 'gift', to: 'June Pascoe', sentAt: '2026-04-12T09:00' });
    const recall = await book.snapshot(async (sql) =>
      readRecall(sugarhouseReader(sql, 'home'), '26077A-1', await loadSeasonContext(sql, desk()), {
        why: 'glass found in a jar',
        by: 'WE',
      }),
    );
    if (!recall) throw new Error('no recall');
    const pdf = await readPdf(await bytesOf((out) => writeRecallPdf(recall, out, desk().now)));
    const text = plain(pdf.text);
    expect(text).toContain('12 jars of 26077A-1, how: not recorded, 2026-04-11');
    expect(text).toContain('2 jars of 26077A-1, gift, 2026-04-12');
    expect(text).not.toMatch(/\bsale\b/);
    expect(text).toContain('Reason: glass found in a jar');
    expect(text).toContain('Hazard: not recorded');
    expect(text).toContain('Who may be hurt: not recorded');
    expect(text).toMatch(/food safety office as the maker wrote it down 802 555 0199/);
    expect(pdf.roles.filter((role) => role === 'P').length).toBeGreaterThan(10);
    const [first, second] = pdf.pages.map((page) => plain(page.text));
    expect(first).toContain('26077A-1');
    expect(second).toContain('Whom to call');
  });
});
