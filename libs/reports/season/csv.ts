import { stringify } from 'csv-stringify/sync';
import { lotColumns, type SheetColumn } from '../lot/summary-columns.js';
import type { Season } from './season.js';

/** One line per lot, every field quoted (RFC 4180), nothing that a spreadsheet would run. */
export const seasonCsv = (season: Season): string => safeCsv(lotColumns(season.lots), season.lots);

/** Any rows as CSV that is safe to open in a spreadsheet. */
export function safeCsv<Row>(columns: readonly SheetColumn<Row>[], rows: readonly Row[]): string {
  const lines = rows.map((row) => columns.map((column) => safeCell(column.of(row))));
  return stringify([columns.map((column) => safeCell(column.heading)), ...lines], {
    quoted: true,
    quoted_empty: true,
    record_delimiter: 'windows',
  });
}

/** One line of a file too long to build at once; escaped in the same way. */
export const safeLine = (cells: readonly (string | number | null)[]): string =>
  `${cells.map((cell) => `"${safeCell(cell).replaceAll('"', '""')}"`).join(',')}\r\n`;

/**
 * A text that begins like a formula gets a leading apostrophe; a number stays as it is. Source: OWASP, CSV injection.
 */
export function safeCell(value: string | number | null): string {
  if (value === null) return '';
  if (typeof value === 'number') return Number.isFinite(value) ? String(value) : '';
  return /^[=+\-@\t\r\n]/.test(value) ? `'${value}` : value;
}
