import type { SheetColumn } from '../lot/summary-columns.js';
import type { Season } from './season.js';

/** One sheet: its name, its headings, and its rows in the order of the headings. */
export interface Sheet {
  readonly name: string;
  readonly columns: readonly Pick<SheetColumn<never>, 'heading' | 'holds' | 'widthChars'>[];
  readonly lines: readonly (readonly (string | number | null)[])[];
}

/** A sheet of the workbook: its name, its columns and a row for each item. */
export function sheet<Row>(name: string, rows: readonly Row[], columns: readonly SheetColumn<Row>[]): Sheet {
  return {
    name,
    columns: columns.map(({ heading, holds, widthChars }) => ({ heading, holds, widthChars })),
    lines: rows.map((row) => columns.map((column) => column.of(row))),
  };
}

/** A sheet of the season's workbook, made from its records. */
export type SeasonSheet = (season: Season) => Sheet;

/** A text column of this width in characters. */
export const text = <Row>(heading: string, widthChars: number, of: (row: Row) => string | null): SheetColumn<Row> => ({
  heading,
  holds: 'text',
  widthChars,
  of,
});
/** A column of numbers; null leaves the cell empty. */
export const number = <Row>(heading: string, of: (row: Row) => number | null): SheetColumn<Row> => ({
  heading,
  holds: 'number',
  widthChars: 12,
  of,
});
/** A column of times, to the minute; null leaves the cell empty. */
export const time = <Row>(heading: string, of: (row: Row) => string | null): SheetColumn<Row> => ({
  heading,
  holds: 'time',
  widthChars: 17,
  of,
});

/** Litres to a millilitre. */
export const litres = (millilitres: number | null): number | null =>
  millilitres === null ? null : Math.round(millilitres) / 1000;
