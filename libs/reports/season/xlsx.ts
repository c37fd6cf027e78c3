import type { Writable } from 'node:stream';
import { type Cell, writeWorkbook } from '../spreadsheet/workbook.js';
import { seasonSheets } from './sheets.js';
import type { Season } from './season.js';

/**
 * The season as a sortable workbook, streamed to `out` row by row: numbers as numbers, times as dates in the book's
 * local time, headings frozen and with a filter. Resolves when the file is complete; rejects where `out` fails.
 */
export async function writeSeasonXlsx(season: Season, out: Writable, createdAt: Date): Promise<void> {
  const failed = new Promise<never>((_, reject) => out.once('error', reject));
  failed.catch(() => undefined);
  const workbook = {
    creator: season.house.name,
    subject: `Times are those of ${season.house.zone}`,
    title: `${season.practice ? 'PRACTICE ' : ''}${season.house.name}, season ${season.year}`,
    createdAt,
    sheets: seasonSheets(season).map(({ name, columns, lines }) => ({
      name,
      columns,
      rows: lines.map((line) => line.map((value, index) => cellOf(value, columns[index]?.holds))),
    })),
  };
  await Promise.race([writeWorkbook(workbook, out), failed]);
}

/** A text is always a text cell, whatever it begins with: our sheets contain no formulas. */
function cellOf(value: string | number | null, holds: string | undefined): Cell {
  if (value === null || value === '') return null;
  if (holds === 'time' && typeof value === 'string') return wallTime(value) ?? value;
  return typeof value === 'string' ? value.slice(0, maxCellLetters) : value;
}

/** The most characters in a cell: ECMA-376 part 1, as spreadsheets enforce it. */
const maxCellLetters = 32_767;

/** A sheet has no zones: the local time as recorded, `2026-03-18T14:05-04:00` as 14:05. */
function wallTime(iso: string): Date | undefined {
  const match = /^(\d{4}-\d{2}-\d{2})(?:T(\d{2}:\d{2}(?::\d{2})?))?/.exec(iso);
  if (!match) return undefined;
  const clock = match[2] ?? '00:00';
  const wall = new Date(`${match[1] ?? ''}T${clock.length === 5 ? `${clock}:00` : clock}Z`);
  return Number.isNaN(wall.getTime()) ? undefined : wall;
}
