import { Writable } from 'node:stream';
import { describe, expect, test } from '@jest/globals';
import ExcelJS from 'exceljs';
import { seasonSheets } from '#libs/reports/season/sheets.js';
import { writeSeasonXlsx } from '#libs/reports/season/xlsx.js';
import { bytesOf } from '../support/read-pdf.js';
import { longSeason, tamarackSeason } from './tamarack-season.js';

const createdAt = new Date('2026-06-01T13:00:00Z');

async function opened(bytes: Buffer): Promise<ExcelJS.Workbook> {
  const book = new ExcelJS.Workbook();
  await book.xlsx.load(bytes as unknown as ExcelJS.Buffer);
  return book;
}

describe('the season as a sortable sheet', () => {
  test('holds every cell of the book, numbers as numbers and times as dates', async () => {
    const season = tamarackSeason();
    const book = await opened(await bytesOf((out) => writeSeasonXlsx(season, out, createdAt)));
    const sheets = seasonSheets(season);
    expect(book.worksheets.map((page) => page.name)).toEqual(sheets.map((sheet) => sheet.name));
    let cells = 0;
    for (const sheet of sheets) {
      const page = book.getWorksheet(sheet.name);
      expect(page?.rowCount).toBe(sheet.lines.length + 1);
      sheet.columns.forEach((column, at) => {
        expect(page?.getRow(1).getCell(at + 1).value).toBe(column.heading);
        sheet.lines.forEach((line, row) => {
          const expected = line[at] ?? null;
          const found = page?.getRow(row + 2).getCell(at + 1).value;
          cells += 1;
          if (expected === null || expected === '') expect(found).toBeNull();
          else if (column.holds === 'time') {
            expect(found).toBeInstanceOf(Date);
            expect((found as Date).toISOString().slice(0, 16)).toBe(String(expected).slice(0, 16));
          } else expect(found).toBe(expected);
        });
      });
    }
    expect(cells).toBeGreaterThan(600);
  });

  test('can be sorted and filtered immediately, and states its units', async () => {
    const book = await opened(await bytesOf((out) => writeSeasonXlsx(tamarackSeason(), out, createdAt)));
    for (const page of book.worksheets) {
      expect(page.views[0]).toMatchObject({ state: 'frozen', ySplit: 1 });
      expect(page.autoFilter).toBeTruthy();
    }
    const headings = (book.getWorksheet('Lots')?.getRow(1).values as string[]).join(' | ');
    expect(headings).toContain('Lowest fill (deg F)');
    expect(headings).toContain('Syrup (L)');
    expect(headings).toContain('Made (jars)');
  });

  test('prints landscape, as wide as the page, with headings on each, and states the zone of its times', async () => {
    const book = await opened(await bytesOf((out) => writeSeasonXlsx(tamarackSeason(), out, createdAt)));
    for (const page of book.worksheets)
      expect(page.pageSetup).toMatchObject({
        orientation: 'landscape',
        fitToPage: true,
        fitToWidth: 1,
        fitToHeight: 0,
        printTitlesRow: '1:1',
      });
    const key = book.worksheets.at(-1)?.getSheetValues().flat().map(String).join('\n');
    expect(key).toContain('Times without an offset are those of America/New_York.');
  });

  test('begins with a sheet that says so where the book is a practice book', async () => {
    const practice = { ...tamarackSeason(), practice: true };
    const book = await opened(await bytesOf((out) => writeSeasonXlsx(practice, out, createdAt)));
    expect(book.worksheets[0]?.name).toBe('PRACTICE');
    expect(book.worksheets[0]?.getCell('A2').value).toContain('nothing here was boiled');
    expect(seasonSheets(tamarackSeason())[0]?.name).toBe('Lots');
  });

  test('repeats input and output on each line of the flows', async () => {
    const book = await opened(await bytesOf((out) => writeSeasonXlsx(tamarackSeason(), out, createdAt)));
    const page = book.getWorksheet('Inputs and outputs');
    const pairs: string[] = [];
    page?.eachRow((row, number) => {
      if (number > 1) pairs.push(`${row.getCell(1).text} > ${row.getCell(4).text}`);
    });
    expect(pairs).toEqual(
      expect.arrayContaining(['G043 > 26078A', 'R007 > 26078A', '26077A > 26081X-1', '26078A > 26081X-1']),
    );
  });

  test('keeps text that looks like a formula as text', async () => {
    const book = await opened(await bytesOf((out) => writeSeasonXlsx(tamarackSeason(), out, createdAt)));
    const cell = book.getWorksheet('Dispatches')?.getRow(5).getCell(6);
    expect(cell?.value).toBe('=SUM(A1) stall');
    expect(cell?.type).toBe(ExcelJS.ValueType.String);
  });

  test('streams a long season, and reports an output stream that closes', async () => {
    const book = await opened(await bytesOf((out) => writeSeasonXlsx(longSeason(500), out, createdAt)));
    expect(book.getWorksheet('Lots')?.rowCount).toBe(501);
    const gone = new Writable({ write: (_chunk, _encoding, done) => done(new Error('the reader went away')) });
    await expect(writeSeasonXlsx(longSeason(500), gone, createdAt)).rejects.toThrow('the reader went away');
  });
});
