import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from '@jest/globals';
import { parse } from 'csv-parse/sync';
import { safeCell, safeCsv, seasonCsv } from '#libs/reports/season/csv.js';
import { seasonJson, seasonSummary } from '#libs/reports/season/json.js';
import { seasonTotals } from '#libs/reports/season/totals.js';
import ExcelJS from 'exceljs';
import { packageRoot } from '#libs/package-root.js';
import { writeSeasonPdf } from '#libs/reports/season/pdf.js';
import { writeSeasonXlsx } from '#libs/reports/season/xlsx.js';
import { bytesOf, readPdf } from '../support/read-pdf.js';
import { tamarackSeason } from './tamarack-season.js';

describe('the season as JSON', () => {
  test('has the promised names in the promised order, and more after them', () => {
    const summary = JSON.parse(seasonJson(tamarackSeason())) as Record<string, unknown>;
    expect(Object.keys(summary).slice(0, 4)).toEqual(['year', 'lots', 'totals', 'record']);
    const [first] = summary['lots'] as Record<string, unknown>[];
    expect(Object.keys(first ?? {}).slice(0, 19)).toEqual(
      (
        'lot boils packedAt container jarsMade jarsOnHand jarsSentOut jarsReturned jarsDestroyed jarsOther unaccounted ' +
        'lowestFillF lowestFillTyped brix colour syrupLitres status lateEntries findings'
      ).split(' '),
    );
    expect(Object.keys(summary['totals'] as object).slice(0, 5)).toEqual(
      'boils packs jarsMade syrupGallons held'.split(' '),
    );
    expect(summary['record']).toEqual({ entries: 212, root: tamarackSeason().record.root });
  });

  test('keeps what was not read as null and what was read as it was typed', () => {
    const lots = seasonSummary(tamarackSeason()).lots;
    const blend = lots.find((line) => line.lot === '26081X-1');
    expect(blend).toMatchObject({ lowestFillF: null, lowestFillTyped: null, unaccounted: null, status: 'held' });
    expect(lots.find((line) => line.lot === '26077A-1')).toMatchObject({
      lowestFillTyped: '83 C',
      unaccounted: 3,
      lateEntries: 1,
    });
  });

  test('has the same totals as a calculation by hand', () => {
    // jars: 72 + 80 + 60 + 24 + 20 = 256
    // syrup: 5.5 + 6 + 10 = 21.5 gal drawn; what 26076A left in its pans for 26077A was never drawn from 26076A.
    // sap: 220 + 192 + 410 = 822 gal
    expect(seasonTotals(tamarackSeason())).toMatchObject({
      boils: 3,
      packs: 5,
      jarsMade: 256,
      syrupGallons: 21.5,
      held: 1,
      sapGallons: 822,
      boilsWithoutSap: 0,
    });
  });
});

describe('the season as CSV', () => {
  test('reads back as one line per lot with that lot’s values', () => {
    const rows = parse<Record<string, string>>(seasonCsv(tamarackSeason()), { columns: true });
    expect(rows.map((row) => row['Lot'])).toEqual(tamarackSeason().lots.map((lot) => lot.lot));
    expect(rows[1]).toMatchObject({
      'Made (jars)': '80',
      'Unaccounted (jars)': '3',
      'Lowest fill as read': '83 C',
      'Sent out by place': 'Millrace Green 24; =SUM(A1) stall 10; June Pascoe 2 (gift)',
    });
    expect(rows[3]).toMatchObject({ 'Lowest fill (deg F)': '', 'Unaccounted (jars)': '', Status: 'held' });
  });

  test('lets no cell be a formula', () => {
    const column = { heading: 'x', holds: 'text', widthChars: 9, of: (row: string) => row } as const;
    expect(safeCsv([column], ['=1+2";=1+2'])).toBe('"x"\r\n"\'=1+2"";=1+2"\r\n');
    for (const opener of ['=', '+', '-', '@', '\t', '\r', '\n']) expect(safeCell(`${opener}1`)).toBe(`'${opener}1`);
    expect(safeCell(-3)).toBe('-3');
  });
});

describe('the sheet calculated by hand', () => {
  const byHand = parse<Record<string, string>>(readFileSync(join(packageRoot, 'tests/reports/tamarack-by-hand.csv')), {
    columns: true,
  });
  const lines = byHand.filter((line) => line['lot'] !== 'all');
  const columns = ['made', 'on hand', 'sent out', 'destroyed', 'other', 'unaccounted'] as const;
  const createdAt = new Date('2026-06-01T13:00:00Z');

  test('adds up by itself', () => {
    for (const column of columns) {
      const sum = lines.reduce((total, line) => total + Number(line[column]), 0);
      expect({ column, sum }).toEqual({ column, sum: Number(byHand.at(-1)?.[column]) });
    }
    for (const line of byHand) {
      const parts = columns.slice(1).reduce((total, column) => total + Number(line[column]), 0);
      expect({ lot: line['lot'], parts }).toEqual({ lot: line['lot'], parts: Number(line['made']) });
    }
  });

  test('matches JSON, CSV, sheet and page', async () => {
    const season = tamarackSeason();
    const json = seasonSummary(season);
    const csv = parse<Record<string, string>>(seasonCsv(season), { columns: true });
    const book = new ExcelJS.Workbook();
    await book.xlsx.load(
      (await bytesOf((out) => writeSeasonXlsx(season, out, createdAt))) as unknown as ExcelJS.Buffer,
    );
    const sheet = book.getWorksheet('Lots');
    const headings = (sheet?.getRow(1).values ?? []) as string[];
    const page = (await readPdf(await bytesOf((out) => writeSeasonPdf(season, out, { createdAt })))).text;
    lines.forEach((line, index) => {
      const hand = columns.map((column) => line[column] ?? '');
      const formatted = json.lots[index];
      expect(
        [formatted?.jarsMade, formatted?.jarsOnHand, formatted?.jarsSentOut, formatted?.jarsDestroyed].map(String),
      ).toEqual(hand.slice(0, 4));
      expect(String(formatted?.unaccounted ?? '')).toBe(hand[5]);
      const named = ['Made', 'On hand', 'Sent out', 'Destroyed', 'Kept, samples, broken', 'Unaccounted'].map(
        (word) => `${word} (jars)`,
      );
      expect(named.map((name) => csv[index]?.[name])).toEqual(hand);
      expect(named.map((name) => sheet?.getRow(index + 2).getCell(headings.indexOf(name)).text)).toEqual(hand);
      const row = page.slice(page.indexOf(line['lot'] ?? '', page.indexOf('Lot Syrup of'))).replace(/\s+/g, ' ');
      const tail = [...hand.slice(0, 5), hand[5] || 'not counted'].join(' ');
      expect(row.slice(0, 260)).toContain(` ${tail} `);
    });
    expect(json.totals.jarsMade).toBe(Number(byHand.at(-1)?.['made']));
  });
});
