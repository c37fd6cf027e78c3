import { lotColumns } from '../lot/summary-columns.js';
import { findingSheets } from './finding-sheets.js';
import { keyLines } from './key.js';
import { recordSheets } from './record-sheets.js';
import type { Season } from './season.js';
import { number, sheet, text, type SeasonSheet, type Sheet } from './sheet.js';
import { supportingRecordSheets } from './supporting-record-sheets.js';
import { seasonTotals } from './totals.js';
import { readingSheet, transformationSheet } from './transformation-sheets.js';

/** One sheet per kind of record, each complete for sorting on its own, and the key to the codes last. */
export const seasonSheets = (season: Season): readonly Sheet[] => [
  ...(season.practice ? [practiceSheet] : []),
  sheet('Lots', season.lots, lotColumns(season.lots)),
  transformationSheet(season),
  ...recordSheets.map((sheetOf) => sheetOf(season)),
  readingSheet(season),
  ...findingSheets.map((sheetOf) => sheetOf(season)),
  totalsSheet(season),
  ...supportingRecordSheets(season),
  keySheet(season),
];

/** Comes first, so that a workbook of the practice book can't be taken for a record. */
const practiceSheet: Sheet = sheet(
  'PRACTICE',
  ['Invented figures of a practice book: nothing here was boiled, packed or sold.'],
  [text('PRACTICE', 80, (line) => line)],
);

const totalsSheet: SeasonSheet = (season) =>
  sheet('Totals', Object.entries({ ...seasonTotals(season) }), [
    text('Total', 20, ([name]) => name),
    number('Amount', ([, amount]) => amount),
  ]);

const keySheet: SeasonSheet = (season) =>
  sheet('Key to the codes', keyLines(season), [
    text('Code', 14, (line) => line.code),
    text('Meaning', 70, (line) => line.means),
  ]);
