import { describe, expect, test } from '@jest/globals';
import { parse } from 'csv-parse/sync';
import { safeCell, safeCsv, seasonCsv } from '#libs/reports/season-csv.js';
import { seasonJson, seasonSummary } from '#libs/reports/season-json.js';
import { seasonTotals } from '#libs/reports/season-totals.js';
import { tamarackSeason } from './tamarack-season.js';

describe('the season as JSON', () => {
  test('has the promised names in the promised order, and nothing more', () => {
    const summary = JSON.parse(seasonJson(tamarackSeason())) as Record<string, unknown>;
    expect(Object.keys(summary)).toEqual(['year', 'lots', 'totals', 'record']);
    const [first] = summary['lots'] as Record<string, unknown>[];
    expect(Object.keys(first ?? {})).toEqual(
      (
        'lot boils packedAt container jarsMade jarsOnHand jarsSentOut jarsDestroyed unaccounted lowestFillF ' +
        'lowestFillTyped brix colour syrupLitres status lateEntries findings'
      ).split(' '),
    );
    expect(Object.keys(summary['totals'] as object)).toEqual(['boils', 'packs', 'jarsMade', 'syrupGallons', 'held']);
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

  test('counts the season as a sheet of paper does', () => {
    // jars: 72 + 80 + 60 + 24 + 20 = 256
    // syrup: 5.5 + 6 + 10 = 21.5 gal drawn; what 26076A left in its pans for 26077A was never drawn from 26076A.
    expect(seasonTotals(tamarackSeason())).toEqual({ boils: 3, packs: 5, jarsMade: 256, syrupGallons: 21.5, held: 1 });
  });
});

describe('the season as CSV', () => {
  test('reads back as one line a lot with the lots own values', () => {
    const rows = parse(seasonCsv(tamarackSeason()), { columns: true }) as Record<string, string>[];
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
