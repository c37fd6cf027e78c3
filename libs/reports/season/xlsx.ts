import type { Writable } from 'node:stream';
import { setImmediate as nextTurn } from 'node:timers/promises';
import ExcelJS from 'exceljs';
import { seasonSheets } from './sheets.js';
import type { Season } from './season.js';
import type { Sheet } from './sheet.js';

/**
 * The season as a sortable sheet, streamed to `out` row by row: numbers as numbers, times as dates in the book's own
 * wall time, headings frozen and with a filter. Resolves when the file is whole; rejects where `out` fails.
 */
export async function writeSeasonXlsx(season: Season, out: Writable, createdAt: Date): Promise<void> {
  const failed = new Promise<never>((_, reject) => out.once('error', reject));
  failed.catch(() => undefined);
  const book = new ExcelJS.stream.xlsx.WorkbookWriter({ stream: out, useStyles: true, useSharedStrings: false });
  book.creator = season.house.name;
  book.subject = `Times are those of ${season.house.zone}`;
  book.title = `${season.practice ? 'PRACTICE ' : ''}${season.house.name}, season ${season.year}`;
  book.created = createdAt;
  book.modified = createdAt;
  await Promise.race([writeSheets(book, seasonSheets(season)), failed]);
}

async function writeSheets(book: ExcelJS.stream.xlsx.WorkbookWriter, sheets: readonly Sheet[]): Promise<void> {
  for (const sheet of sheets) await writeSheet(book, sheet);
  await book.commit();
}

const rowsBetweenTurns = 200;

async function writeSheet(book: ExcelJS.stream.xlsx.WorkbookWriter, sheet: Sheet): Promise<void> {
  const page = book.addWorksheet(sheet.name, {
    views: [{ state: 'frozen', ySplit: 1 }],
    pageSetup: {
      orientation: 'landscape',
      fitToPage: true,
      fitToWidth: 1,
      fitToHeight: 0,
      printTitlesRow: '1:1',
    },
    headerFooter: { oddFooter: '&L&A&RPage &P of &N' },
  });
  page.columns = sheet.columns.map((column) => ({
    header: column.heading,
    width: column.widthChars,
    ...(column.holds === 'time' ? { style: { numFmt: 'yyyy-mm-dd hh:mm' } } : {}),
  }));
  page.autoFilter = {
    from: { row: 1, column: 1 },
    to: { row: Math.max(1, sheet.lines.length + 1), column: sheet.columns.length },
  };
  const headings = page.getRow(1);
  headings.font = { bold: true };
  headings.alignment = { wrapText: true, vertical: 'top' };
  headings.commit();
  let written = 0;
  for (const line of sheet.lines) {
    page.addRow(line.map((value, index) => cellOf(value, sheet.columns[index]?.holds))).commit();
    written += 1;
    if (written % rowsBetweenTurns === 0) await nextTurn();
  }
  page.commit();
}

/** A text is always a text cell, whatever it begins with: nothing in a sheet of ours is a formula. */
function cellOf(value: string | number | null, holds: string | undefined): string | number | Date | null {
  if (value === null || value === '') return null;
  if (holds === 'time' && typeof value === 'string') return wallTime(value) ?? value;
  return typeof value === 'string' ? withoutControls(value).slice(0, mostCellLetters) : value;
}

/** The most a cell holds: ECMA-376 part 1, as spreadsheets enforce it. */
const mostCellLetters = 32_767;

/** A sheet has no zones: the wall time as it was written, `2026-03-18T14:05-04:00` as 14:05. */
function wallTime(iso: string): Date | undefined {
  const match = /^(\d{4}-\d{2}-\d{2})(?:T(\d{2}:\d{2}(?::\d{2})?))?/.exec(iso);
  if (!match) return undefined;
  const clock = match[2] ?? '00:00';
  const wall = new Date(`${match[1] ?? ''}T${clock.length === 5 ? `${clock}:00` : clock}Z`);
  return Number.isNaN(wall.getTime()) ? undefined : wall;
}

/** XML allows no control character but tab and line ends. */
const withoutControls = (text: string): string => text.replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f]/g, '');
