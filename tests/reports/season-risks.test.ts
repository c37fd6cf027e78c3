import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import type { Book } from '#libs/store/book.js';
import { recordOrThrow } from '../support/sugarhouse.js';
import { sqlite } from '../support/engines.js';
import { documentsOf, type Documents, supporting } from '../support/documented-season.js';

const engine = sqlite();
beforeAll(() => engine.start());
afterAll(() => engine.stop());

async function begun(...first: ((book: Book) => Promise<unknown>)[]): Promise<Book> {
  const book = await engine.freshBook();
  for (const kind of ['house', 'gathering', 'boil', 'pack']) await recordOrThrow(book, kind);
  for (const write of first) await write(book);
  return book;
}
const rowOf = ({ csv }: Documents, lot = '26077A-1') => csv.find((row) => row['Lot'] === lot) ?? {};

describe('the flags for an inspector', () => {
  test('allergens are none only where each defoamer has an answer; the text of its bottle is shown beside it', async () => {
    const butter = { lot: '26077A', what: 'defoamer', note: 'a knob of butter', at: '2026-03-18T12:00' };
    const unanswered = { defoamer: 'churn drops', defoamerAllergens: '', gatherings: '' };
    const book = await begun(
      (on) => supporting(on, 'lines', butter),
      (on) => supporting(on, 'supplies', { what: 'churn drops', supplier: 'Notch Supply', allergens: 'milk' }),
      (on) => recordOrThrow(on, 'boil', { ...unanswered, beganAt: '2026-03-20T07:30', finishedAt: '2026-03-20T19:00' }),
      (on) => recordOrThrow(on, 'pack', { fromLots: '26079A:1 gal', packedAt: '2026-03-21T12:00', jars: '16' }),
    );
    const read = await documentsOf(book);
    expect(rowOf(read)['Allergens']).toMatch(/not recorded/);
    // The butter of the previous boil is recorded, and no washing of the pans between them.
    expect(rowOf(read, '26079A-1')['Allergens']).toBe('milk, rest not recorded (bottle: milk)');
    expect(read.pageOne).toContain('(bottle: milk)');
  });

  test('a lead test within the limit of the place clears the flag, one over it is a flag of its own', async () => {
    const tank = { id: 'TANK1', what: 'sap tank', material: 'soldered sheet', year: '1958' };
    const flagged = await begun((on) => supporting(on, 'equipment', tank));
    const risksIn = ({ json }: Documents) => json.risks.filter((risk) => risk.matter === 'lead');
    expect(risksIn(await documentsOf(flagged))).toMatchObject([{ of: 'sap tank', subject: 'TANK1' }]);
    await supporting(flagged, 'lead-tests', { equipment: 'TANK1', lead: '20 ppb', laboratory: 'Notch Water' });
    const answered = await documentsOf(flagged);
    expect(risksIn(answered)).toEqual([]);
    expect(answered.sheet('Equipment')[0]?.['Lead']).toBe('20 ppb, 2026-03-25');
    expect(answered.sheet('Lead tests')).toMatchObject([{ Equipment: 'TANK1', 'Lead (ppb)': '20' }]);
    await supporting(flagged, 'lead-tests', { equipment: 'TANK1', lead: '0.9 ppm', at: '2026-03-26T08:00' });
    const over = await documentsOf(flagged);
    expect(risksIn(over)).toMatchObject([{ asks: 'OVER the 250 ppb of the place: ask what was done' }]);
    expect(over.pageOne).toContain('lead test 2026-03-26: 0.9 ppm; OVER the 250 ppb');
  });

  test('a licence set with the house says that its last day was not recorded', async () => {
    const book = await engine.freshBook();
    await recordOrThrow(book, 'house', { licence: 'Producer registration 0000' });
    for (const kind of ['gathering', 'boil', 'pack']) await recordOrThrow(book, kind);
    const { pageOne } = await documentsOf(book);
    expect(pageOne).toContain('Producer registration 0000: valid until: not recorded; ask to see it');
  });
});
