import type { Writable } from 'node:stream';
import { setImmediate as nextTurn } from 'node:timers/promises';
import { zipStream } from './zip-stream.js';

/** A cell's text, number or local time (a Date whose UTC parts are shown); null omits it. */
export type Cell = string | number | Date | null;

export interface WorkbookSheet {
  readonly name: string;
  readonly columns: readonly { readonly heading: string; readonly widthChars: number }[];
  readonly rows: readonly (readonly Cell[])[];
}
export interface Workbook {
  readonly title: string;
  readonly subject: string;
  readonly creator: string;
  readonly createdAt: Date;
  readonly sheets: readonly WorkbookSheet[];
}

/**
 * Writes sheets as Office Open XML (ECMA-376), row by row: headings bold, frozen, repeated on each printed page and
 * with a filter; landscape, fitted to the page's width. No formula, no shared strings, no macro: records need none.
 */
export async function writeWorkbook({ sheets, ...about }: Workbook, out: Writable): Promise<void> {
  const zip = zipStream(out, about.createdAt);
  const numbered = sheets.map((sheet, n) => ({ sheet, part: `worksheets/sheet${n + 1}.xml`, id: `rId${n + 1}` }));
  await zip.entry('[Content_Types].xml', [contentTypes(numbered.map(({ part }) => part))]);
  await zip.entry('_rels/.rels', [
    relations([
      ['rId1', `${office}/officeDocument`, 'xl/workbook.xml'],
      [
        'rId2',
        'http://schemas.openxmlformats.org/package/2006/relationships/metadata/core-properties',
        'docProps/core.xml',
      ],
    ]),
  ]);
  await zip.entry('docProps/core.xml', [coreProperties(about)]);
  await zip.entry('xl/workbook.xml', [workbookPart(sheets)]);
  await zip.entry('xl/_rels/workbook.xml.rels', [
    relations([
      ...numbered.map(({ id, part }) => [id, `${office}/worksheet`, part] as const),
      [`rId${sheets.length + 1}`, `${office}/styles`, 'styles.xml'],
    ]),
  ]);
  await zip.entry('xl/styles.xml', [styles]);
  for (const { sheet, part } of numbered) await zip.entry(`xl/${part}`, sheetPart(sheet));
  await zip.end();
}

const rowsAtOnce = 200;
const header = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
const main = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
const office = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
/** Indexes into `cellXfs` below. */
const style = { heading: 1, time: 2 } as const;

async function* sheetPart({ columns, rows }: WorkbookSheet): AsyncGenerator<string> {
  const widths = columns.map(
    ({ widthChars }, n) => `<col min="${n + 1}" max="${n + 1}" width="${widthChars}" customWidth="1"/>`,
  );
  yield `${header}<worksheet xmlns="${main}"><sheetPr><pageSetUpPr fitToPage="1"/></sheetPr><sheetViews><sheetView workbookViewId="0"><pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews><sheetFormatPr defaultRowHeight="15"/><cols>${widths.join('')}</cols><sheetData>`;
  yield rowOf(
    columns.map(({ heading }) => heading),
    1,
    ` s="${style.heading}"`,
  );
  for (let first = 0; first < rows.length; first += rowsAtOnce) {
    yield rows
      .slice(first, first + rowsAtOnce)
      .map((row, n) => rowOf(row, first + n + 2))
      .join('');
    await nextTurn();
  }
  yield `</sheetData><autoFilter ref="${areaOf(columns.length, rows.length)}"/><pageMargins left="0.7" right="0.7" top="0.75" bottom="0.75" header="0.3" footer="0.3"/><pageSetup orientation="landscape" fitToWidth="1" fitToHeight="0"/><headerFooter><oddFooter>&amp;L&amp;A&amp;RPage &amp;P of &amp;N</oddFooter></headerFooter></worksheet>`;
}

const rowOf = (cells: readonly Cell[], row: number, look = ''): string =>
  `<row r="${row}">${cells.map((cell, n) => cellOf(cell, `${letters(n)}${row}`, look)).join('')}</row>`;

function cellOf(cell: Cell, place: string, look: string): string {
  if (cell === null || cell === '') return '';
  if (typeof cell === 'number') return `<c r="${place}"${look}><v>${cell}</v></c>`;
  if (cell instanceof Date) return `<c r="${place}" s="${style.time}"><v>${serialOf(cell)}</v></c>`;
  return `<c r="${place}" t="inlineStr"${look}><is><t xml:space="preserve">${escaped(cell)}</t></is></c>`;
}

/** Days since 30 December 1899, as spreadsheets count them. */
const serialOf = (wall: Date): number => wall.getTime() / 86_400_000 + 25_569;

/** `A`, `Z`, `AA` for the columns from 0. */
const letters = (n: number): string =>
  (n < 26 ? '' : letters(Math.floor(n / 26) - 1)) + String.fromCharCode(65 + (n % 26));

const areaOf = (columns: number, rows: number, fixed = ''): string =>
  `${fixed}A${fixed}1:${fixed}${letters(columns - 1)}${fixed}${rows + 1}`;

function workbookPart(sheets: readonly WorkbookSheet[]): string {
  const names = sheets.map(({ name }, n) => `<sheet name="${escaped(name)}" sheetId="${n + 1}" r:id="rId${n + 1}"/>`);
  const quoted = (name: string): string => escaped(`'${name.replaceAll("'", "''")}'`);
  const defined = sheets.flatMap(({ name, columns, rows }, n) => [
    `<definedName name="_xlnm._FilterDatabase" localSheetId="${n}" hidden="1">${quoted(name)}!${areaOf(columns.length, rows.length, '$')}</definedName>`,
    `<definedName name="_xlnm.Print_Titles" localSheetId="${n}">${quoted(name)}!$1:$1</definedName>`,
  ]);
  return `${header}<workbook xmlns="${main}" xmlns:r="${office}"><bookViews><workbookView/></bookViews><sheets>${names.join('')}</sheets><definedNames>${defined.join('')}</definedNames></workbook>`;
}

const styles = `${header}<styleSheet xmlns="${main}"><numFmts count="1"><numFmt numFmtId="164" formatCode="yyyy-mm-dd hh:mm"/></numFmts><fonts count="2"><font><sz val="11"/><name val="Calibri"/></font><font><b/><sz val="11"/><name val="Calibri"/></font></fonts><fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills><borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders><cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs><cellXfs count="3"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/><xf numFmtId="0" fontId="1" fillId="0" borderId="0" xfId="0" applyFont="1" applyAlignment="1"><alignment vertical="top" wrapText="1"/></xf><xf numFmtId="164" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/></cellXfs><cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>`;

function contentTypes(sheetParts: readonly string[]): string {
  const spreadsheet = 'application/vnd.openxmlformats-officedocument.spreadsheetml';
  const parts = [
    ['/xl/workbook.xml', `${spreadsheet}.sheet.main+xml`],
    ['/xl/styles.xml', `${spreadsheet}.styles+xml`],
    ['/docProps/core.xml', 'application/vnd.openxmlformats-package.core-properties+xml'],
    ...sheetParts.map((part) => [`/xl/${part}`, `${spreadsheet}.worksheet+xml`] as const),
  ].map(([part, type]) => `<Override PartName="${part}" ContentType="${type}"/>`);
  return `${header}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/>${parts.join('')}</Types>`;
}

const relations = (all: readonly (readonly [id: string, type: string, target: string])[]): string =>
  `${header}<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">${all
    .map(([id, type, target]) => `<Relationship Id="${id}" Type="${type}" Target="${target}"/>`)
    .join('')}</Relationships>`;

function coreProperties({ title, subject, creator, createdAt }: Omit<Workbook, 'sheets'>): string {
  const at = `${createdAt.toISOString().slice(0, 19)}Z`;
  return `${header}<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"><dc:title>${escaped(title)}</dc:title><dc:subject>${escaped(subject)}</dc:subject><dc:creator>${escaped(creator)}</dc:creator><dcterms:created xsi:type="dcterms:W3CDTF">${at}</dcterms:created><dcterms:modified xsi:type="dcterms:W3CDTF">${at}</dcterms:modified></cp:coreProperties>`;
}

const entities: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };

/**
 * XML allows no control characters except tab and line ends; a spreadsheet reads `_x0041_` in a text as the letter A.
 */
const escaped = (text: string): string =>
  text
    .replace(/[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g, '\ufffd')
    .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, '')
    .replace(/_(?=x[0-9A-Fa-f]{4}_)/g, '_x005F_')
    .replace(/[&<>"]/g, (character) => entities[character] ?? character);
