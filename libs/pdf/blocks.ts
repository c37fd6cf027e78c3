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
const gapPt = 5;
const gutterPt = 14;

interface TypesetLine {
  readonly text: string;
  readonly face: Face;
  readonly indentPt: number;
  /** Room above it. */
  readonly abovePt: number;
  /** First line of an entry: omissions are counted in entries. */
  readonly beginsEntry: boolean;
  /** First line of an entry or title: one paragraph or heading in the document's structure. */
  readonly beginsParagraph: boolean;
  readonly title?: boolean;
}

/** The height of stacked blocks in one of this many columns. */
const stackPt = (paper: Paper, blocks: readonly Block[], columns: number): number =>
  blocks
    .flatMap((block, at) => typesetBlock(paper, block, columnPt(paper, columns), at === 0))
    .reduce((pt, line) => pt + line.abovePt + leadPt, 0);

/** The height of a block at the top of one of this many columns, with room for the line that counts omissions. */
export const minBlockHeightPt = (paper: Paper, block: Block, columns: number): number =>
  stackPt(paper, [block], columns) + leadPt;

/** The columns with further blocks, each under the column that is then shortest: none is cut while another has room. */
export function addToShortest(
  paper: Paper,
  columns: readonly (readonly Block[])[],
  added: readonly Block[],
): readonly (readonly Block[])[] {
  return added.reduce<readonly (readonly Block[])[]>((before, block) => {
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
  parent: PDFKit.PDFStructureElement,
  columns: readonly (readonly Block[])[],
  heightPt: number,
  more: string,
): void {
  const widthPt = columnPt(paper, columns.length);
  columns.forEach((blocks, index) => {
    const lines = blocks.flatMap((block, at) => typesetBlock(paper, block, widthPt, at === 0));
    const xPt = paper.leftPt + index * (widthPt + gutterPt);
    drawLines(paper, parent, stackLines(paper, cutToHeight(lines, heightPt, more), xPt), 'H2');
  });
  paper.yPt += heightPt;
}

/**
 * Blocks flowing from column to column, at most `heightPt` high. Returns the titles of the blocks of which something
 * was omitted.
 */
export function flowBlocks(
  paper: Paper,
  parent: PDFKit.PDFStructureElement,
  blocks: readonly Block[],
  heightPt: number,
  columns = 3,
): readonly string[] {
  const widthPt = columnPt(paper, columns);
  const all = blocks.flatMap((block) =>
    typesetBlock(paper, block, widthPt, false).map((line) => ({ ...line, block: block.title })),
  );
  let [column, usedPt, at] = [0, 0, 0];
  const placed: { line: TypesetLine; column: number; yPt: number }[] = [];
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
    placed.push({ line, column, yPt: paper.yPt + usedPt - leadPt });
  }
  drawLines(
    paper,
    parent,
    placed.map(({ line, column: of, yPt }) => ({ line, xPt: paper.leftPt + of * (widthPt + gutterPt), yPt })),
    'H3',
  );
  paper.yPt += heightPt;
  return [...new Set(all.slice(at).map((line) => line.block))];
}

function typesetBlock(paper: Paper, { title, lines }: Block, widthPt: number, first: boolean): TypesetLine[] {
  const typeset = (text: string, face: Face, indentPt: number): TypesetLine[] =>
    paper.faces.wrap(text, face, sizePt, widthPt - indentPt).map((part, at) => ({
      text: part,
      face,
      indentPt: at === 0 ? 0 : indentPt,
      abovePt: 0,
      beginsEntry: at === 0,
      beginsParagraph: at === 0,
    }));
  const [heading, ...rest] = typeset(title, 'bold', 0);
  return [
    ...(heading ? [{ ...heading, abovePt: first ? 0 : gapPt, beginsEntry: false, title: true }] : []),
    ...rest,
    ...lines.flatMap((line) =>
      typeof line === 'string' ? typeset(line, 'words', indentPt) : typeset(line.text, 'bold', indentPt),
    ),
  ];
}
const indentPt = 7;

/** The lines that fit; where some don't, the last says how many entries are on later pages. */
function cutToHeight(lines: readonly TypesetLine[], heightPt: number, more: string): readonly TypesetLine[] {
  let usedPt = 0;
  const fitting: TypesetLine[] = [];
  for (const line of lines) {
    if (usedPt + line.abovePt + leadPt > heightPt) break;
    usedPt += line.abovePt + leadPt;
    fitting.push(line);
  }
  if (fitting.length === lines.length) return fitting;
  // Cut at the beginning of an entry, so that none ends in mid-sentence.
  do fitting.pop();
  while (fitting.length > 1 && lines[fitting.length]?.beginsEntry === false);
  // A title without lines is dropped.
  while (fitting.length > 1 && fitting.at(-1)?.title) fitting.pop();
  const omitted = lines.slice(fitting.length).filter((line) => line.beginsEntry).length;
  return [
    ...fitting,
    {
      text: `and ${omitted} more, ${more}`,
      face: 'words',
      indentPt: 0,
      abovePt: 0,
      beginsEntry: true,
      beginsParagraph: true,
    },
  ];
}

interface PlacedLine {
  readonly line: TypesetLine;
  readonly xPt: number;
  readonly yPt: number;
}

function stackLines(paper: Paper, lines: readonly TypesetLine[], xPt: number): PlacedLine[] {
  let yPt = paper.yPt;
  return lines.map((line) => {
    yPt += line.abovePt + leadPt;
    return { line, xPt, yPt: yPt - leadPt };
  });
}

/** The lines of one entry are one paragraph in the document's structure. */
function drawLines(
  paper: Paper,
  parent: PDFKit.PDFStructureElement,
  placed: readonly PlacedLine[],
  heading: 'H2' | 'H3',
): void {
  let element: PDFKit.PDFStructureElement | undefined;
  for (const { line, xPt, yPt } of placed) {
    if (!element || line.beginsParagraph) {
      element?.end();
      element = paper.doc.struct(line.title ? heading : 'P');
      parent.add(element);
    }
    const { text, face, indentPt } = line;
    element.add(() => {
      write(paper, text, xPt + indentPt, yPt + sizePt * ascent, { face, sizePt, colour: ink.black });
    });
  }
  element?.end();
}
