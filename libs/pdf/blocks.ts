import { ascent, type Face } from './faces.js';
import { ink, write, type Paper } from './paper.js';

/** A short list under a title, set close, in a column of its own or one after the other. */
export interface Block {
  readonly title: string;
  readonly lines: readonly BlockLine[];
}
/** A line in bold capitals stands out in black and white too. */
export type BlockLine = string | { readonly text: string; readonly bold: true };

const sizePt = 8;
const leadPt = 9.6;
const betweenPt = 5;
const gutterPt = 14;

interface SetLine {
  readonly text: string;
  readonly face: Face;
  readonly indentPt: number;
  /** Room above it. */
  readonly abovePt: number;
  /** First line of an entry: omissions are counted in entries. */
  readonly begins: boolean;
  /** First line of an entry or title: one paragraph or heading in the document's structure. */
  readonly starts: boolean;
  readonly title?: boolean;
}

/** The height of stacked blocks in one of this many columns. */
const stackPt = (paper: Paper, blocks: readonly Block[], columns: number): number =>
  blocks
    .flatMap((block, at) => setBlock(paper, block, columnPt(paper, columns), at === 0))
    .reduce((pt, line) => pt + line.abovePt + leadPt, 0);

/** The height of a block at the top of one of this many columns, with room for the line that counts omissions. */
export const heightWhereCutPt = (paper: Paper, block: Block, columns: number): number =>
  stackPt(paper, [block], columns) + leadPt;

/** The columns with further blocks, each under the column that is then shortest: none is cut while another has room. */
export function underShortest(
  paper: Paper,
  columns: readonly (readonly Block[])[],
  further: readonly Block[],
): readonly (readonly Block[])[] {
  return further.reduce<readonly (readonly Block[])[]>((before, block) => {
    const heights = before.map((blocks) => stackPt(paper, blocks, before.length));
    const shortest = heights.indexOf(Math.min(...heights));
    return before.map((blocks, at) => (at === shortest ? [...blocks, block] : blocks));
  }, columns);
}

const columnPt = (paper: Paper, columns: number): number => (paper.widthPt - gutterPt * (columns - 1)) / columns;

/**
 * Columns side by side from `paper.yPt`, each at most `heightPt` high; what does not fit is counted in its last line.
 */
export function drawColumns(
  paper: Paper,
  under: PDFKit.PDFStructureElement,
  columns: readonly (readonly Block[])[],
  heightPt: number,
  more: string,
): void {
  const widthPt = columnPt(paper, columns.length);
  columns.forEach((blocks, index) => {
    const lines = blocks.flatMap((block, at) => setBlock(paper, block, widthPt, at === 0));
    const xPt = paper.leftPt + index * (widthPt + gutterPt);
    drawLines(paper, under, placedFrom(paper, cut(lines, heightPt, more), xPt), 'H2');
  });
  paper.yPt += heightPt;
}

/**
 * Blocks flowing from column to column, at most `heightPt` high. Returns the titles of the blocks of which something
 * was omitted.
 */
export function flowBlocks(
  paper: Paper,
  under: PDFKit.PDFStructureElement,
  blocks: readonly Block[],
  heightPt: number,
  columns = 3,
): readonly string[] {
  const widthPt = columnPt(paper, columns);
  const all = blocks.flatMap((block) =>
    setBlock(paper, block, widthPt, false).map((line) => ({ ...line, block: block.title })),
  );
  let [column, usedPt, at] = [0, 0, 0];
  const put: { line: SetLine; column: number; yPt: number }[] = [];
  for (; at < all.length; at += 1) {
    const line = all[at];
    if (!line) break;
    const above = usedPt === 0 ? 0 : line.abovePt;
    // A title is never alone at the foot of a column.
    const neededPt = above + leadPt * (line.face === 'bold' && line.abovePt > 0 ? 2 : 1);
    if (usedPt + neededPt > heightPt) {
      column += 1;
      usedPt = 0;
      if (column >= columns) break;
    }
    usedPt += (usedPt === 0 ? 0 : above) + leadPt;
    put.push({ line, column, yPt: paper.yPt + usedPt - leadPt });
  }
  drawLines(
    paper,
    under,
    put.map(({ line, column: of, yPt }) => ({ line, xPt: paper.leftPt + of * (widthPt + gutterPt), yPt })),
    'H3',
  );
  paper.yPt += heightPt;
  return [...new Set(all.slice(at).map((line) => line.block))];
}

function setBlock(paper: Paper, { title, lines }: Block, widthPt: number, first: boolean): SetLine[] {
  const set = (text: string, face: Face, indentPt: number): SetLine[] =>
    paper.faces.wrap(text, face, sizePt, widthPt - indentPt).map((part, at) => ({
      text: part,
      face,
      indentPt: at === 0 ? 0 : indentPt,
      abovePt: 0,
      begins: at === 0,
      starts: at === 0,
    }));
  const [heading, ...rest] = set(title, 'bold', 0);
  return [
    ...(heading ? [{ ...heading, abovePt: first ? 0 : betweenPt, begins: false, title: true }] : []),
    ...rest,
    ...lines.flatMap((line) =>
      typeof line === 'string' ? set(line, 'words', indentPt) : set(line.text, 'bold', indentPt),
    ),
  ];
}
const indentPt = 7;

/** The lines that fit; where some don't, the last says how many entries are on later pages. */
function cut(lines: readonly SetLine[], heightPt: number, more: string): readonly SetLine[] {
  let usedPt = 0;
  const fit: SetLine[] = [];
  for (const line of lines) {
    if (usedPt + line.abovePt + leadPt > heightPt) break;
    usedPt += line.abovePt + leadPt;
    fit.push(line);
  }
  if (fit.length === lines.length) return fit;
  // Cut at the beginning of an entry, so that none ends in mid-sentence.
  do fit.pop();
  while (fit.length > 1 && lines[fit.length]?.begins === false);
  // A title without lines is dropped.
  while (fit.length > 1 && fit.at(-1)?.title) fit.pop();
  const left = lines.slice(fit.length).filter((line) => line.begins).length;
  return [
    ...fit,
    { text: `and ${left} more, ${more}`, face: 'words', indentPt: 0, abovePt: 0, begins: true, starts: true },
  ];
}

interface PlacedLine {
  readonly line: SetLine;
  readonly xPt: number;
  readonly yPt: number;
}

function placedFrom(paper: Paper, lines: readonly SetLine[], xPt: number): PlacedLine[] {
  let yPt = paper.yPt;
  return lines.map((line) => {
    yPt += line.abovePt + leadPt;
    return { line, xPt, yPt: yPt - leadPt };
  });
}

/** The lines of one entry are one paragraph in the document's structure. */
function drawLines(
  paper: Paper,
  under: PDFKit.PDFStructureElement,
  placed: readonly PlacedLine[],
  heading: 'H2' | 'H3',
): void {
  let element: PDFKit.PDFStructureElement | undefined;
  for (const { line, xPt, yPt } of placed) {
    if (!element || line.starts) {
      element?.end();
      element = paper.doc.struct(line.title ? heading : 'P');
      under.add(element);
    }
    const { text, face, indentPt } = line;
    element.add(() => {
      write(paper, text, xPt + indentPt, yPt + sizePt * ascent, { face, sizePt, colour: ink.black });
    });
  }
  element?.end();
}
