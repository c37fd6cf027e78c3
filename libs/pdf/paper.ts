import { newDocument } from './new-document.js';
import { openFaces, type Face, type Faces } from './faces.js';
import { releaseFinishedPage } from './finished-page.js';
import type { PaperSize } from './paper-size.js';
import { openPageCount, type PageCount } from './page-count.js';

/** A document's title, and the text at the foot of each of its pages. */
export interface PaperTitle {
  readonly title: string;
  readonly subject: string;
  readonly author: string;
  readonly footer: string;
  /** The document's own creation date: the same season and date give the same bytes. */
  readonly createdAt: Date;
  readonly layout: 'portrait' | 'landscape';
  /** US letter by default. */
  readonly size?: PaperSize;
  /** Margin left and right, where a page needs more width than usual. */
  readonly sidePt?: number;
  /** The sentence printed on every page of a practice book; null for a real one. */
  readonly practice: string | null;
}

/** A document being drawn from the top of its first page to the foot of its last. */
export interface Paper {
  readonly doc: PDFKit.PDFDocument;
  readonly faces: Faces;
  readonly leftPt: number;
  readonly topPt: number;
  readonly widthPt: number;
  readonly bottomPt: number;
  /** The structure element that new sections belong to. */
  readonly root: PDFKit.PDFStructureElement;
  readonly title: PaperTitle;
  readonly pageCount: PageCount;
  /** Where the next line may begin, from the top of the page. */
  yPt: number;
  pages: number;
  /** Whether the document has its one first-level heading, above all others. */
  hasTitle: boolean;
}

/** Printed on every page of a practice book. */
export const practiceBook = 'PRACTICE: invented figures, nothing here was boiled';

export const ink = {
  black: '#1d1a16',
  soft: '#5c5348',
  rule: '#b3a793',
  hair: '#d9d0c0',
  paper: '#f6f1e6',
  spruce: '#1f5446',
  stamp: '#9b2418',
} as const;

export interface TextStyle {
  readonly face?: Face;
  readonly sizePt?: number;
  readonly colour?: string;
  /** Which part of the text `xPt` refers to. */
  readonly anchor?: 'left' | 'right' | 'centre';
  readonly strike?: boolean;
}

const footerDropPt = 24;
const pageCountWidthPt = 26;
const marginPt = { side: 40, top: 44, bottom: 46 };

/** Begins a tagged PDF with its title, language and fonts. */
export function openPaper(title: PaperTitle): Paper {
  const doc = newDocument({
    size: title.size ?? 'LETTER',
    layout: title.layout,
    margin: 0,
    autoFirstPage: false,
    pdfVersion: '1.7',
    tagged: true,
    displayTitle: true,
    lang: 'en-US',
    info: {
      Title: title.title,
      Subject: title.subject,
      Author: title.author,
      Creator: 'Boilbook',
      Producer: 'Boilbook',
      CreationDate: title.createdAt,
      ModDate: title.createdAt,
    },
  });
  const [shortPt, longPt] = title.size === 'A4' ? [595.28, 841.89] : [612, 792];
  const [widthPt, heightPt] = title.layout === 'landscape' ? [longPt, shortPt] : [shortPt, longPt];
  const sidePt = title.sidePt ?? marginPt.side;
  const root = doc.struct('Document');
  doc.addStructure(root);
  const faces = openFaces(doc);
  return {
    doc,
    faces,
    leftPt: sidePt,
    topPt: marginPt.top,
    widthPt: widthPt - 2 * sidePt,
    bottomPt: heightPt - marginPt.bottom,
    root,
    title,
    pageCount: openPageCount(doc, widthPt - sidePt - pageCountWidthPt, marginPt.bottom - footerDropPt),
    yPt: 0,
    pages: 0,
    hasTitle: false,
  };
}

/** Ends the page with its footer and begins another; in a practice book the word PRACTICE is set across it. */
export function startPage(paper: Paper): void {
  if (paper.pages > 0) {
    drawFooter(paper);
    releaseFinishedPage(paper.doc);
  }
  paper.doc.addPage();
  paper.pages += 1;
  paper.yPt = paper.topPt;
  if (paper.title.practice !== null) drawPracticeMark(paper, paper.title.practice);
}

/** Begins a new page where fewer than `heightPt` are left on this one. Returns whether it did. */
export function makeRoom(paper: Paper, heightPt: number): boolean {
  if (paper.pages > 0 && paper.yPt + heightPt <= paper.bottomPt) return false;
  startPage(paper);
  return true;
}

/** Draws the last footer and ends the document; its stream then ends too. */
export function closePaper(paper: Paper): void {
  drawFooter(paper);
  paper.root.end();
  paper.pageCount.close(paper.pages);
  paper.doc.end();
}

/**
 * One line of text with its baseline at `yPt`; returns its width. Never wraps. A space follows it, so that a screen
 * reader, or text copied from the document, separates it from the next line or cell.
 */
export function write(paper: Paper, text: string, xPt: number, yPt: number, style: TextStyle = {}): number {
  const face = style.face ?? 'words';
  const sizePt = style.sizePt ?? 9;
  const runs = paper.faces.runs(text, face);
  const widthPt = runs.reduce((sum, run) => sum + run.unitPt, 0) * sizePt;
  let x = style.anchor === 'right' ? xPt - widthPt : style.anchor === 'centre' ? xPt - widthPt / 2 : xPt;
  for (const [index, run] of runs.entries()) {
    const text = index === runs.length - 1 ? `${run.text} ` : run.text;
    paper.doc
      .font(run.font)
      .fontSize(sizePt)
      .fillColor(style.colour ?? ink.black)
      .text(text, x, yPt, { lineBreak: false, baseline: 'alphabetic' });
    x += run.unitPt * sizePt;
  }
  if (style.strike && widthPt > 0) {
    const start = x - widthPt;
    const middle = yPt - sizePt * 0.24;
    paper.doc.moveTo(start, middle).lineTo(x, middle).lineWidth(0.7).strokeColor(ink.black).stroke();
  }
  return widthPt;
}

/** Draws a rule across the text width at `yPt`. */
export function rule(paper: Paper, yPt: number, weightPt = 0.5, colour: string = ink.rule): void {
  paper.doc
    .moveTo(paper.leftPt, yPt)
    .lineTo(paper.leftPt + paper.widthPt, yPt)
    .lineWidth(weightPt)
    .strokeColor(colour)
    .stroke();
}

function drawFooter(paper: Paper): void {
  const baseline = paper.bottomPt + footerDropPt;
  const right = paper.leftPt + paper.widthPt;
  const number = `page ${paper.pages}`;
  const numberWidth = paper.faces.widthPt(number, 'figures', 8);
  const [line = ''] = paper.faces.wrap(
    paper.title.footer,
    'words',
    8,
    paper.widthPt - pageCountWidthPt - numberWidth - 20,
  );
  const style = { sizePt: 8, colour: ink.soft } as const;
  paper.doc.markContent('Artifact', { type: 'Pagination' });
  rule(paper, paper.bottomPt + 12, 0.4);
  write(paper, line, paper.leftPt, baseline, style);
  write(paper, number, right - pageCountWidthPt - numberWidth, baseline, { ...style, face: 'figures' });
  paper.doc.endMarkedContent();
  paper.pageCount.addToPage();
}

function drawPracticeMark(paper: Paper, text: string): void {
  const { doc } = paper;
  doc.markContent('Artifact', { type: 'Pagination' });
  const centreX = paper.leftPt + paper.widthPt / 2;
  const centreY = (paper.topPt + paper.bottomPt) / 2;
  doc
    .save()
    .rotate(-24, { origin: [centreX, centreY] })
    .fillOpacity(0.1);
  write(paper, 'PRACTICE', centreX, centreY + 40, {
    face: 'bold',
    sizePt: paper.widthPt / 5.6,
    colour: ink.stamp,
    anchor: 'centre',
  });
  doc.restore();
  doc.fillOpacity(1);
  write(paper, text, paper.leftPt, paper.topPt - 18, {
    face: 'bold',
    sizePt: 8,
    colour: ink.stamp,
  });
  doc.endMarkedContent();
}
