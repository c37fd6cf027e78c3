import { describe, expect, test } from '@jest/globals';
import { callsOf } from '#libs/reports/recall/recall-calls.js';
import { balanceOf, writeRecallPdf } from '#libs/reports/recall/recall-pdf.js';
import type { Recall } from '#libs/reports/recall/recall.js';
import { bytesOf, overruns, readPdf, readTaggedPdf, type ReadPdf } from '../support/read-pdf.js';
import { tamarackRecall } from './tamarack-season.js';

const createdAt = new Date('2026-06-01T13:00:00Z');
const pdfOf = (recall: Recall): Promise<Buffer> => bytesOf((out) => writeRecallPdf(recall, out, createdAt));
const read = async (recall: Recall): Promise<ReadPdf> => readPdf(await pdfOf(recall));
const plain = (text: string): string => text.replace(/\s+/g, ' ');

describe('a recall', () => {
  test('lists the lots, the reconciliation, whom to call, which plans to stop and the authorities', async () => {
    const pdf = await readTaggedPdf(await pdfOf(tamarackRecall()));
    const text = plain(pdf.text);
    expect(pdf.title).toBe('Recall of 26078A');
    for (const label of ['26078A-1', '26081X-1', '26078A-2', 'Bracken Lane Sugarbush', '802 555 0177'])
      expect(text).toContain(label);
    // 60 + 24 + 20 = 104 made; on hand 60 + 24 + 4 = 88; sent out 14; destroyed 2; 88 + 14 + 2 = 104
    expect(text).toContain(
      '104 made; 88 on hand + 14 sent out + 2 destroyed + 0 kept, samples, broken or returned = 104.',
    );
    expect(text).toContain('The shelf has not been counted: count it now.');
    expect(text).toContain('Planned dispatches to cancel');
    expect(text).toContain('2026-06-20 08:00 Millrace Green 26078A-1 30');
    expect(pdf.pages.flatMap((page) => overruns(page))).toEqual([]);
    expect(pdf.tagged).toBe(true);
    expect(pdf.roles.filter((role) => role === 'H1')).toEqual(['H1']);
    expect(pdf.figuresWithoutText).toBe(0);
    expect(pdf.readingOrder).toContain(
      'stop selling and giving them, set them apart and mark them HELD, count them, and keep',
    );
  });

  test('has a notice to post on a page of its own, in plain words', async () => {
    const pdf = await read(tamarackRecall());
    const notice = plain(pdf.pages.at(-1)?.text ?? '');
    expect(notice).toContain('Please bring this syrup back');
    expect(notice).toContain('Lot 26078A-2');
    expect(notice).toContain('A can of this boil leaked at the seam.');
    expect(notice).toContain('802 555 0100');
    expect(notice).not.toMatch(/root|entries/);
  });

  test('says that nothing was recalled where nobody has recalled the lots', async () => {
    const recalled = await read(tamarackRecall());
    expect(recalled.text).toContain('RECALLED');
    const pdf = await read({ ...tamarackRecall(), startedAt: null });
    expect(plain(pdf.text)).toContain('NOT RECALLED: this list shows what a recall would affect.');
    expect(pdf.text.replace('NOT RECALLED', '')).not.toMatch(/RECALLED|Recalled 20/);
    const notice = plain(pdf.pages.at(-1)?.text ?? '');
    expect(notice).toContain('Draft notice, not to be posted: not recalled');
    expect(notice).not.toContain('Please bring this syrup back');
  });

  test('marks practice so that it can’t be taken for a real recall', async () => {
    const pdf = await read(tamarackRecall(true));
    expect(pdf.title).toBe('Practice recall of 26078A');
    for (const page of pdf.pages) expect(page.text).toContain('PRACTICE');
    expect(plain(pdf.text)).toContain('THIS IS AN EXERCISE. Nothing is wrong with this syrup.');
  });

  test('calls each place once, with every dispatch it had, and lists no call for jars that stayed in the house', () => {
    const recall = tamarackRecall();
    const more: Recall = {
      ...recall,
      dispatches: [
        ...recall.dispatches,
        {
          ...(recall.dispatches[0] as Recall['dispatches'][number]),
          id: 'S20',
          jars: 5,
          contact: '802 555 0188',
          jarCodes: ['K7QM-3XWT'],
        },
      ],
    };
    expect(callsOf(more).map((call) => [call.to, call.jars, call.telephone])).toEqual([
      ['Millrace Green', 13, '802 555 0188'],
      ['Bracken Lane Sugarbush', 6, '802 555 0177'],
    ]);
  });

  test('reports jars that do not add up, too many or too few', async () => {
    const recall = tamarackRecall();
    const [lot] = recall.lots;
    if (!lot) throw new Error('no lot');
    const short = { ...lot, jarsOnHand: 55, unaccounted: 5 };
    expect(balanceOf([short, ...recall.lots.slice(1)]).unaccounted).toBe(5);
    expect(plain((await read({ ...recall, lots: [short] })).text)).toContain('= 55, 5 unaccounted for.');
    const over = { ...lot, jarsOnHand: 63, unaccounted: -3 };
    expect(plain((await read({ ...recall, lots: [over] })).text)).toContain(
      '3 more than were made. Count again, and check the number made.',
    );
    const wrong = { ...lot, jarsOnHand: 50, unaccounted: 5 };
    expect(plain((await read({ ...recall, lots: [wrong] })).text)).toContain('the numbers do not add up. Count again.');
  });

  test('runs over as many pages as it needs', async () => {
    const recall = tamarackRecall();
    const [lot] = recall.lots;
    const [sent] = recall.dispatches;
    if (!lot || !sent) throw new Error('no lot');
    const lots = Array.from({ length: 60 }, (_, n) => ({ ...lot, lot: `26078A-${n + 1}` }));
    const dispatches = Array.from({ length: 90 }, (_, n) => ({
      ...sent,
      id: `S${n}`,
      to: `stall ${n} ${'of the long road '.repeat(n % 9)}`,
      lot: `26078A-${(n % 60) + 1}`,
    }));
    const pdf = await read({ ...recall, lots, dispatches });
    expect(pdf.pages.flatMap((page) => overruns(page))).toEqual([]);
    for (const one of [...lots.map((each) => each.lot), 'stall 89']) expect(pdf.text).toContain(one);
  });
});
