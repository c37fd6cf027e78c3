import { expect, test } from '@jest/globals';
import { closeSection, openSection } from '#libs/pdf/flow.js';
import { closePaper, openPaper, startPage } from '#libs/pdf/paper.js';
import { streamPaper } from '#libs/pdf/stream-paper.js';
import { table } from '#libs/pdf/table.js';
import { bytesOf, readPdf } from '../support/read-pdf.js';

/** How many rows of a table of so many rows stand on each page. */
async function rowsOnPages(count: number): Promise<number[]> {
  const bytes = await bytesOf(async (out) => {
    const paper = openPaper({
      title: 'Rows',
      subject: 'Rows',
      author: 'Tamarack Hollow Sugarhouse',
      footer: 'Rows',
      createdAt: new Date('2026-06-01T13:00:00Z'),
      layout: 'landscape',
      practice: null,
    });
    await streamPaper(paper, out, async () => {
      startPage(paper);
      const section = openSection(paper, 'Rows');
      const rows = Array.from({ length: count }, (_, index) => `row-${index + 1}`);
      await table(section, [{ heading: 'Name', of: (row: string) => row }], rows);
      closeSection(section);
      closePaper(paper);
    });
  });
  return (await readPdf(bytes)).pages.map(({ text }) => (text.match(/row-\d+/g) ?? []).length);
}

test('the last row of a table never stands alone on a page, and no row is lost or printed twice', async () => {
  const [onFirst = 0] = await rowsOnPages(60);
  expect(onFirst).toBeGreaterThan(10);
  expect(await rowsOnPages(onFirst)).toEqual([onFirst]);
  expect(await rowsOnPages(onFirst + 1)).toEqual([onFirst - 1, 2]);
  expect(await rowsOnPages(onFirst + 2)).toEqual([onFirst, 2]);
});
