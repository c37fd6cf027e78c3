import { columnWidths } from './column-widths.js';
import { ascent, type Face } from './faces.js';
import { artifact, type Section } from './flow.js';
import { ink, makeRoom, startPage, write, type TextStyle, type Paper } from './paper.js';
import { yieldWhileDrawing } from './stream-paper.js';

export interface TableColumn<Row> {
  readonly heading: string;
  readonly of: (row: Row) => string;
  readonly align?: 'left' | 'right';
  readonly face?: Face;
  /** Keeps a cell on one line as long as the page has room for it. */
  readonly unbroken?: boolean;
  readonly style?: (row: Row) => TextStyle;
}

interface PlacedColumn<Row> {
  readonly column: TableColumn<Row>;
  readonly xPt: number;
  readonly widthPt: number;
  readonly setting: TableSetting;
}

/** Sizes and spacing of a table. No text is smaller than 8 pt. */
export interface TableSetting {
  readonly sizePt: number;
  readonly leadPt: number;
  readonly padPt: { readonly side: number; readonly top: number; readonly bottom: number };
  readonly headingSizePt: number;
  readonly headingLeadPt: number;
}

export const roomy: TableSetting = {
  sizePt: 8.5,
  leadPt: 11,
  padPt: { side: 4.5, top: 2.2, bottom: 2.6 },
  headingSizePt: 8,
  headingLeadPt: 9.4,
};
/** For a page that has to hold a whole season. */
export const compact: TableSetting = {
  sizePt: 8,
  leadPt: 9.2,
  padPt: { side: 2.6, top: 1.3, bottom: 1.5 },
  headingSizePt: 8,
  headingLeadPt: 8.8,
};

/**
 * A table of any length: headings at the top of each page, every cell wrapped inside its column, a row unbroken unless
 * it is taller than a page; the last row is not left alone on a page. Yields between pages.
 */
export async function table<Row>(
  section: Section,
  columns: readonly TableColumn<Row>[],
  rows: readonly Row[],
  setting: TableSetting = roomy,
): Promise<void> {
  const { paper } = section;
  const { leadPt } = setting;
  const placed = placeColumns(paper, columns, rows, setting);
  const element = paper.doc.struct('Table');
  section.element.add(element);
  makeRoom(paper, Math.min(4 * leadPt, rowsThatFit(paper, columns, rows.slice(0, 1), Infinity, setting).heightPt - 4));
  drawHeadings(paper, placed, element);
  for (const [index, row] of rows.entries()) {
    if (index > 0 && index === rows.length - 2) await keepLastTwoTogether(paper, placed, rows.slice(index));
    await drawRow(paper, placed, element, row, cellsOf(paper, placed, row));
  }
  element.end();
  paper.yPt += 4;
}

/** How many of the rows, from the first, fit into a height with their headings, and their height. */
export function rowsThatFit<Row>(
  paper: Paper,
  columns: readonly TableColumn<Row>[],
  rows: readonly Row[],
  availablePt: number,
  setting: TableSetting = roomy,
): { readonly rows: number; readonly heightPt: number } {
  const placed = placeColumns(paper, columns, rows, setting);
  let heightPt = headingCells(paper, placed).lines * setting.headingLeadPt + 3 + 4;
  let fitting = 0;
  for (const row of rows) {
    const lines = Math.max(1, ...cellsOf(paper, placed, row).map((cell) => cell.length));
    const rowPt = setting.padPt.top + lines * setting.leadPt + setting.padPt.bottom;
    if (heightPt + rowPt > availablePt) break;
    heightPt += rowPt;
    fitting += 1;
  }
  // Column widths depend on the rows drawn, so fewer rows may wrap differently and be higher.
  if (fitting > 0 && fitting < rows.length)
    return rowsThatFit(paper, columns, rows.slice(0, fitting), availablePt, setting);
  return { rows: fitting, heightPt };
}

const cellsOf = <Row>(paper: Paper, placed: readonly PlacedColumn<Row>[], row: Row): (readonly string[])[] =>
  placed.map(({ column, widthPt, setting: { sizePt, padPt } }) =>
    paper.faces.wrap(column.of(row), faceOf(column, row), sizePt, widthPt - 2 * padPt.side),
  );

function placeColumns<Row>(
  paper: Paper,
  columns: readonly TableColumn<Row>[],
  rows: readonly Row[],
  setting: TableSetting,
): PlacedColumn<Row>[] {
  const { sizePt, padPt } = setting;
  const needs = columns.map((column) => {
    const heading = headingNeedPt(paper, column.heading, setting);
    let naturalPt = heading;
    let minPt = heading;
    for (const row of rows) {
      const text = column.of(row);
      const face = faceOf(column, row);
      naturalPt = Math.max(naturalPt, paper.faces.widthPt(text, face, sizePt));
      for (const word of isUnbroken(column) ? [text] : text.split(' '))
        minPt = Math.max(minPt, Math.min(longestWordPt, paper.faces.widthPt(word, face, sizePt)));
    }
    const sides = 2 * padPt.side + 0.5;
    return { naturalPt: naturalPt + sides, minPt: minPt + sides };
  });
  const widths = columnWidths(needs, paper.widthPt);
  let xPt = paper.leftPt;
  return columns.map((column, index) => {
    const widthPt = widths[index] ?? 0;
    const positioned = { column, xPt, widthPt, setting };
    xPt += widthPt;
    return positioned;
  });
}

/** A word longer than this is broken, so that the other columns keep their width. */
const longestWordPt = 120;
/** Headings may take up to three lines, so a column need not be as wide as its heading. */
const headingNeedPt = (paper: Paper, heading: string, { headingSizePt }: TableSetting): number =>
  Math.max(...heading.split(' ').map((word) => paper.faces.widthPt(word, 'bold', headingSizePt)));

/** The face of a cell, needed for measuring too: bold text is wider. */
const faceOf = <Row>(column: TableColumn<Row>, row: Row): Face =>
  column.style?.(row).face ?? column.face ?? (column.align === 'right' ? 'figures' : 'words');

/** Not broken between a number and its unit, or a date and its time. */
const isUnbroken = <Row>(column: TableColumn<Row>): boolean =>
  column.unbroken === true || column.align === 'right' || column.face === 'figures';

/** The first headings are part of the table's structure; those repeated on later pages are decoration. */
function drawHeadings<Row>(
  paper: Paper,
  placed: readonly PlacedColumn<Row>[],
  element?: PDFKit.PDFStructureElement,
): void {
  const { cells, lines } = headingCells(paper, placed);
  const { headingSizePt, headingLeadPt } = placed[0]?.setting ?? roomy;
  const draw = (index: number): void => {
    const cell = cells[index] ?? [];
    const column = placed[index];
    if (!column) return;
    cell.forEach((line, lineIndex) => {
      const baseline = paper.yPt + (lines - cell.length + lineIndex) * headingLeadPt + headingSizePt * ascent;
      writeInColumn(paper, column, line, baseline, { face: 'bold', sizePt: headingSizePt, colour: ink.soft });
    });
  };
  if (element) {
    const row = paper.doc.struct('TR');
    element.add(row);
    placed.forEach((_, index) => {
      const heading = { scope: 'Column' } as PDFKit.Mixins.StructureElementOptions;
      row.add(paper.doc.struct('TH', heading, () => draw(index)));
    });
    row.end();
  } else artifact(paper, () => placed.forEach((_, index) => draw(index)));
  paper.yPt += lines * headingLeadPt + 3;
  lineAcross(paper, placed, 0.9, ink.black);
}

/** Turns the page before the last row but one where only that one has room left. */
async function keepLastTwoTogether<Row>(
  paper: Paper,
  placed: readonly PlacedColumn<Row>[],
  rows: readonly Row[],
): Promise<void> {
  const { padPt, leadPt } = placed[0]?.setting ?? roomy;
  const heights = rows.map(
    (row) => padPt.top + Math.max(1, ...cellsOf(paper, placed, row).map((cell) => cell.length)) * leadPt + padPt.bottom,
  );
  const bothPt = heights.reduce((sum, each) => sum + each, 0);
  const availablePt = paper.bottomPt - paper.yPt;
  // Two very high rows would leave most of a page blank.
  if ((heights[0] ?? 0) > availablePt || bothPt <= availablePt || bothPt > (paper.bottomPt - paper.topPt) / 3) return;
  await yieldWhileDrawing(paper);
  startPage(paper);
  drawHeadings(paper, placed);
}

function headingCells<Row>(paper: Paper, placed: readonly PlacedColumn<Row>[]) {
  const cells = placed.map(({ column, widthPt, setting: { headingSizePt, padPt } }) =>
    paper.faces.wrap(column.heading, 'bold', headingSizePt, widthPt - 2 * padPt.side),
  );
  return { cells, lines: Math.max(1, ...cells.map((cell) => cell.length)) };
}

async function drawRow<Row>(
  paper: Paper,
  placed: readonly PlacedColumn<Row>[],
  element: PDFKit.PDFStructureElement,
  row: Row,
  cells: readonly (readonly string[])[],
): Promise<void> {
  const { padPt, leadPt, headingLeadPt } = placed[0]?.setting ?? roomy;
  const lines = Math.max(1, ...cells.map((cell) => cell.length));
  const pageLines = Math.floor((paper.bottomPt - paper.topPt - 4 * headingLeadPt) / leadPt) - 1;
  const line = paper.doc.struct('TR');
  element.add(line);
  const boxes = cells.map(() => paper.doc.struct('TD'));
  for (const box of boxes) line.add(box);
  for (let from = 0; from < lines; from += pageLines) {
    const to = Math.min(lines, from + pageLines);
    const heightPt = padPt.top + (to - from) * leadPt + padPt.bottom;
    if (paper.yPt + heightPt > paper.bottomPt) {
      await yieldWhileDrawing(paper);
      startPage(paper);
      drawHeadings(paper, placed);
    }
    boxes.forEach((box, index) => {
      const column = placed[index];
      const part = (cells[index] ?? []).slice(from, to);
      if (column && part.some((text) => text !== '')) box.add(() => drawCell(paper, column, row, part));
    });
    paper.yPt += heightPt;
    lineAcross(paper, placed, 0.35, ink.rule);
  }
  line.end();
}

function drawCell<Row>(paper: Paper, placed: PlacedColumn<Row>, row: Row, lines: readonly string[]): void {
  const { sizePt, leadPt, padPt } = placed.setting;
  const style = { face: faceOf(placed.column, row), sizePt, ...placed.column.style?.(row) };
  lines.forEach((line, index) => {
    writeInColumn(paper, placed, line, paper.yPt + padPt.top + index * leadPt + sizePt * ascent, style);
  });
}

function writeInColumn<Row>(
  paper: Paper,
  placed: PlacedColumn<Row>,
  text: string,
  baselinePt: number,
  style: TextStyle,
): void {
  const { padPt } = placed.setting;
  if (placed.column.align === 'right')
    write(paper, text, placed.xPt + placed.widthPt - padPt.side, baselinePt, { ...style, anchor: 'right' });
  else write(paper, text, placed.xPt + padPt.side, baselinePt, style);
}

function lineAcross<Row>(paper: Paper, placed: readonly PlacedColumn<Row>[], weightPt: number, colour: string): void {
  const first = placed[0];
  const last = placed.at(-1);
  if (!first || !last) return;
  artifact(paper, () => {
    paper.doc
      .moveTo(first.xPt, paper.yPt)
      .lineTo(last.xPt + last.widthPt, paper.yPt)
      .lineWidth(weightPt)
      .strokeColor(colour)
      .stroke();
  });
}
