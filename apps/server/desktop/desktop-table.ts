import { pipeline } from 'node:stream/promises';
import { safeCsv } from '#libs/reports/season/csv.js';
import type { Part } from '#libs/store/queries/lists.js';
import type { DesktopTable } from '#pages/parts/desktop-table.js';
import { firstText, type Posted } from '../forms/field-view.js';
import { type Download, download } from '../http/responses.js';
import { rowsPerPage, firstRow } from '../text/paged-rows.js';
import { maxRowsRead } from './cached-rows.js';

/** A column of a table on a desktop: a cell's text, and its sort key where that isn't the text. */
export interface DesktopColumn<Row> {
  /** Its name in the address: `?sort=jars`, or `?sort=-jars` for descending order. */
  readonly name: string;
  readonly heading: string;
  readonly text: (row: Row) => string;
  readonly order?: (row: Row) => string | number;
  readonly style?: 'number' | 'code' | 'state';
}

export interface DesktopRows<Row> {
  /** The same array for the same texts: what a row says in them is remembered. */
  readonly columns: readonly DesktopColumn<Row>[];
  readonly rows: readonly Row[];
  /** The page of a row, linked from its first cell. */
  readonly href: (row: Row) => string;
  /** The plural noun for the rows, such as `boils`; also the name of the exported file. */
  readonly noun: string;
  readonly address: string;
}

/** How many rows of a table are drawn at once; the exported file has all of them. */
const maxRowsDrawn = 500;

/** The part of a list that the address asks for; every row where it asks to sort, filter or export them. */
export const requestedPart = (query: Posted): Part =>
  wantsAllRows(query)
    ? { from: 1, most: maxRowsRead }
    : { from: firstRow(firstText(query['from'])), most: rowsPerPage };

/** Whether the address asks to sort, filter or export every row. */
export const wantsAllRows = (query: Posted): boolean =>
  ['q', 'sort', 'as'].some((name) => firstText(query[name]) !== '');

/** The rows that hold every word of `q`, in the order of `sort`. */
function matchingRows<Row extends object>({ columns, rows }: DesktopRows<Row>, query: Posted): readonly Row[] {
  const terms = firstText(query['q']).toLowerCase().split(/\s+/).filter(Boolean);
  const texts = searchTexts(columns);
  const matches = (row: Row): boolean => {
    let text = texts.get(row);
    if (text === undefined) texts.set(row, (text = columns.map((column) => column.text(row).toLowerCase()).join('\n')));
    return terms.every((each) => text.includes(each));
  };
  const found = terms.length === 0 ? rows : rows.filter(matches);
  const { column, down: descending } = sortColumn(columns, query);
  if (!column) return found;
  const key = column.order ?? column.text;
  const keyed = found.map((row) => ({ row, key: key(row) }));
  return keyed.sort((a, b) => compare(a.key, b.key) * (descending ? -1 : 1)).map(({ row }) => row);
}

/** The text of each row in these columns, as it is searched; kept rows are searched again and again. */
function searchTexts<Row extends object>(columns: readonly DesktopColumn<Row>[]): WeakMap<Row, string> {
  const cached = rowTexts.get(columns) ?? new WeakMap<object, string>();
  rowTexts.set(columns, cached);
  return cached;
}
const rowTexts = new WeakMap<readonly unknown[], WeakMap<object, string>>();

const compare = (a: string | number, b: string | number): number =>
  typeof a === 'number' && typeof b === 'number' ? a - b : collator.compare(String(a), String(b));
const collator = new Intl.Collator('en', { numeric: true, sensitivity: 'base' });

function sortColumn<Row>(columns: readonly DesktopColumn<Row>[], query: Posted) {
  const text = firstText(query['sort']);
  const descending = text.startsWith('-');
  return { column: columns.find(({ name }) => name === (descending ? text.slice(1) : text)), down: descending };
}

/** A table for a page: sorted and filtered by its address, so that it needs no script. */
export function desktopTable<Row extends object>(desktop: DesktopRows<Row>, query: Posted): DesktopTable {
  const { columns, rows, href, noun, address } = desktop;
  const found = matchingRows(desktop, query);
  const { column: sortedColumn, down: descending } = sortColumn(columns, query);
  const q = firstText(query['q']);
  const link = (more: Readonly<Record<string, string>>): string =>
    `${address}?${new URLSearchParams({ ...(q ? { q } : {}), ...(sortedColumn ? { sort: firstText(query['sort']) } : {}), ...more }).toString()}`;
  const cutNote = found.length > maxRowsDrawn ? `, the first ${maxRowsDrawn} shown: filter to see others` : '';
  return {
    noun,
    address,
    q,
    sort: sortedColumn ? firstText(query['sort']) : '',
    countText:
      q === ''
        ? `${rows.length === 1 ? '1 row' : `${rows.length} ${noun}`}${cutNote}`
        : `${found.length} of ${rows.length} ${noun}${cutNote}`,
    csv: link({ as: 'csv' }),
    columns: columns.map((column) => ({
      heading: column.heading,
      href: link({ sort: column === sortedColumn && !descending ? `-${column.name}` : column.name }),
      look: column.style ?? '',
      sorted: column === sortedColumn ? (descending ? 'descending' : 'ascending') : undefined,
    })),
    rows: found.slice(0, maxRowsDrawn).map((row) => ({
      href: href(row),
      cells: columns.map((column) => ({ text: column.text(row), look: column.style ?? '' })),
    })),
  };
}

/** All rows with the same columns, as a file. */
export function desktopFile<Row extends object>(desktop: DesktopRows<Row>, query: Posted): Download {
  const columns = desktop.columns.map((column) => ({
    heading: column.heading,
    holds: 'text' as const,
    widthChars: 16,
    of: column.text,
  }));
  const csv = safeCsv(columns, matchingRows(desktop, query));
  return download(`${desktop.noun}.csv`, 'text/csv; charset=utf-8', (out) => pipeline([csv], out));
}
