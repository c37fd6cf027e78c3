import { parse } from 'csv-parse/sync';
import { columnName, type Fields } from '../record/fields.js';
import type { Fault } from '../record/problem.js';

export interface CsvRow {
  /** The line on which the row begins, counted from 1 with the header. */
  readonly line: number;
  /** Texts by field name; blank cells are absent. */
  readonly cells: Readonly<Record<string, string>>;
}
export interface CsvFile {
  readonly rows: readonly CsvRow[];
  readonly faults: readonly Fault[];
  /** What was detected and is reported: another encoding, another delimiter. */
  readonly notes: readonly string[];
}

/**
 * Reads a file of one kind by RFC 4180: a header row, then one record per row. Recognises a byte-order mark,
 * Windows-1252 where it isn't UTF-8, and `;` as delimiter (lists inside a cell are then separated by `|`).
 */
export function readCsv(bytes: Uint8Array, fields: Fields): CsvFile {
  const decoded = decode(bytes);
  if ('fault' in decoded) return { rows: [], faults: [decoded.fault], notes: [] };
  const delimiter = delimiterOf(decoded.text);
  const tooLarge = sizeFault(decoded.text, delimiter);
  if (tooLarge) return { rows: [], faults: [tooLarge], notes: decoded.notes };
  const notes = [
    ...decoded.notes,
    ...(delimiter === ';' ? ['Cells are separated by ";", so lists inside a cell by "|".'] : []),
  ];
  let lines: { record: string[]; info: { lines: number } }[];
  try {
    lines = parse(decoded.text, {
      delimiter,
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
      bom: true,
    }) as unknown as typeof lines;
  } catch (fault) {
    return { rows: [], faults: [brokenFile(fault)], notes };
  }
  const [header, ...rest] = lines;
  if (!header)
    return { rows: [], faults: [wholeFile('a header row with the names of the columns', 'an empty file', 1)], notes };
  const columns = header.record.map((name) =>
    name
      .trim()
      .toLowerCase()
      .replace(/[\s-]+/g, '_'),
  );
  const faults = headerFaults(columns, fields);
  if (faults.length > 0) return { rows: [], faults, notes };
  return { ...rowsOf(rest, columns, fields, header.info.lines), notes };
}

/** A column has the name of its field, in snake_case. */
function headerFaults(columns: readonly string[], fields: Fields): Fault[] {
  const known = new Map(Object.keys(fields).map((name) => [columnName(name), name]));
  const all = [...known.keys()].join(', ');
  const inHeader = (expected: string, got: string): Fault => ({
    field: 'header',
    column: 'header',
    line: 1,
    expected,
    got,
  });
  return [
    ...columns.filter((name) => !known.has(name)).map((name) => inHeader(`one of the columns ${all}`, `"${name}"`)),
    ...columns
      .filter((name, at) => columns.indexOf(name) !== at && known.has(name))
      .map((name) => inHeader('each column once', `"${name}" twice`)),
    ...[...known]
      .filter(([column, name]) => fields[name]?.needed && !columns.includes(column))
      .map(([column]) => inHeader(`a column ${column}`, `${columns.join(', ') || 'nothing'}`)),
  ];
}

function rowsOf(
  lines: readonly { record: string[]; info: { lines: number } }[],
  columns: readonly string[],
  fields: Fields,
  headerEnds: number,
): { rows: CsvRow[]; faults: Fault[] } {
  const names = new Map(Object.keys(fields).map((name) => [columnName(name), name]));
  const rows: CsvRow[] = [];
  const faults: Fault[] = [];
  let ended = headerEnds;
  for (const { record, info } of lines) {
    const line = ended + 1;
    ended = info.lines;
    if (record.every((cell) => cell.trim() === '')) continue;
    if (record.length !== columns.length) {
      faults.push({
        field: 'row',
        column: 'row',
        line,
        expected: `${columns.length} cells, as in the header`,
        got: `${record.length}`,
      });
      continue;
    }
    const cells = columns.map(
      (column, at) => [names.get(column) ?? column, plainCell((record[at] ?? '').trim())] as const,
    );
    rows.push({ line, cells: Object.fromEntries(cells.filter(([, cell]) => cell !== '')) });
  }
  return { rows, faults };
}

function decode(bytes: Uint8Array): { text: string; notes: string[] } | { fault: Fault } {
  const [first, second, third] = bytes;
  if ((first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff) || bytes.includes(0))
    return { fault: wholeFile('a text file in UTF-8 or Windows-1252', 'UTF-16 or something that is not text', 1) };
  const hasByteOrderMark = first === 0xef && second === 0xbb && third === 0xbf;
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return { text, notes: hasByteOrderMark ? ['The file begins with a byte-order mark, which was skipped.'] : [] };
  } catch {
    const text = new TextDecoder('windows-1252').decode(bytes);
    return { text, notes: ['The file is not UTF-8: it was read as Windows-1252.'] };
  }
}

/** The delimiter is the one found in the header; column names contain neither. */
function delimiterOf(text: string): ',' | ';' {
  const header = (text.slice(0, mostHeaderLetters).split(/\r\n|\n|\r/, 1)[0] ?? '').split('');
  const count = (delimiter: string): number => header.filter((letter) => letter === delimiter).length;
  return count(';') > count(',') ? ';' : ',';
}
const mostHeaderLetters = 20_000;

/** Far more than any kind has columns, or a sugarhouse rows of a kind in a season. */
const mostColumns = 200;
const mostRowLetters = 1_000_000;
/**
 * Copying this many rows holds the write lock for about ten seconds (measured with 8,000 and 30,000 rows); other writes
 * give up at twenty.
 */
const mostRows = 50_000;

/**
 * Our exports put an apostrophe before a text that a spreadsheet would take for a formula (`'=…`, `'-3 F`); reading
 * removes it.
 */
const plainCell = (cell: string): string => cell.replace(/^'(?=[=+\-@\t\r\n])/, '');

/**
 * Cells are counted before any is cut out: a megabyte of commas is a million cells, each far larger in memory than its
 * character.
 */
function sizeFault(text: string, delimiter: string): Fault | undefined {
  const [parts, quote, newline, carriage] = [delimiter.charCodeAt(0), 34, 10, 13];
  let [cells, rows, line, began, quoted] = [1, 1, 1, 0, false];
  for (let at = 0; at < text.length; at++) {
    const typed = text.charCodeAt(at);
    // Rows may end in CR, LF or both together.
    const letter = typed === carriage && text.charCodeAt(at + 1) !== newline ? newline : typed;
    if (letter === newline) line++;
    if (letter === quote) quoted = !quoted;
    else if (letter === newline && !quoted) [cells, rows, began] = [1, rows + 1, at];
    else if (at - began > (rows === 1 ? mostHeaderLetters : mostRowLetters))
      return wholeFile(
        `a row of at most ${(rows === 1 ? mostHeaderLetters : mostRowLetters).toLocaleString('en-US')} letters`,
        quoted ? 'more, or a quote that is never closed' : 'more',
        line,
      );
    else if (quoted) continue;
    else if (letter === parts && ++cells > mostColumns)
      return wholeFile(`at most ${mostColumns} columns`, 'more than that in one row', line);
    if (rows > mostRows + 1)
      return wholeFile(`at most ${mostRows.toLocaleString('en-US')} rows: split it into several files`, 'more', line);
  }
  return undefined;
}

const wholeFile = (expected: string, got: string, line: number): Fault => ({
  field: 'file',
  column: 'file',
  line,
  expected,
  got,
});

function brokenFile(fault: unknown): Fault {
  const input = fault as { code?: string; lines?: number };
  const got = input.code === 'CSV_QUOTE_NOT_CLOSED' ? 'a quote that is never closed' : 'a quote in the wrong place';
  return wholeFile(
    'rows as RFC 4180 has them: a cell with a quote, comma or line break in it is in quotes',
    got,
    input.lines ?? 1,
  );
}
