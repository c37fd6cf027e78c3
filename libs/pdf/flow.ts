import { ascent, type Face } from './faces.js';
import { ink, makeRoom, rule, startPage, write, type Paper } from './paper.js';

/** A part of the document with its heading, its bookmark and its place in the structure tree. */
export interface Section {
  readonly paper: Paper;
  readonly element: PDFKit.PDFStructureElement;
  readonly bookmark: PDFKit.PDFOutline;
}

const headingSizePt = { 1: 20, 2: 12.5 } as const;

/**
 * Opens a section: heading, bookmark and rule. The first one of a document without a title becomes the title (H1).
 * `needsPt` is the room that its first lines need.
 */
export function openSection(
  paper: Paper,
  text: string,
  options: { level?: 1 | 2; needsPt?: number; newPage?: boolean; under?: PDFKit.PDFOutline } = {},
): Section {
  const level = options.level ?? 1;
  const sizePt = headingSizePt[level];
  if (options.newPage) startPage(paper);
  else {
    if (paper.pages > 0 && paper.yPt > paper.topPt) paper.yPt += level === 1 ? 22 : 14;
    makeRoom(paper, sizePt * 1.6 + (options.needsPt ?? 70));
  }
  const element = paper.doc.struct('Sect');
  paper.root.add(element);
  const bookmark = (options.under ?? paper.doc.outline).addItem(text, { expanded: level === 1 });
  const baseline = paper.yPt + sizePt * ascent;
  element.add(
    paper.doc.struct(paper.hasTitle ? `H${level + 1}` : 'H1', {}, () => {
      write(paper, text, paper.leftPt, baseline, { face: 'bold', sizePt });
    }),
  );
  paper.hasTitle = true;
  paper.yPt = baseline + sizePt * 0.36;
  if (level === 1) artifact(paper, () => rule(paper, paper.yPt, 1.2, ink.black));
  paper.yPt += level === 1 ? 8 : 4;
  return { paper, element, bookmark };
}

/** Ends a section in the document's structure tree. */
export function closeSection(section: Section): void {
  section.element.end();
}

/** A paragraph across the page, broken over pages line by line. Advances the paper. */
export function paragraph(
  section: Section,
  text: string,
  options: {
    face?: Face;
    sizePt?: number;
    colour?: string;
    widthPt?: number;
    indentPt?: number;
    afterPt?: number;
  } = {},
): void {
  const { paper } = section;
  const sizePt = options.sizePt ?? 9.5;
  const leadPt = sizePt * 1.36;
  const left = paper.leftPt + (options.indentPt ?? 0);
  const width = options.widthPt ?? Math.min(readingWidthPt, paper.widthPt - (options.indentPt ?? 0));
  const lines = paper.faces.wrap(text, options.face ?? 'words', sizePt, width);
  const element = paper.doc.struct('P');
  section.element.add(element);
  let next = 0;
  while (next < lines.length) {
    makeRoom(paper, leadPt);
    const fits = Math.max(1, Math.floor((paper.bottomPt - paper.yPt) / leadPt));
    const part = lines.slice(next, next + fits);
    element.add(() => {
      for (const line of part) {
        const { face, colour } = options;
        write(paper, line, left, paper.yPt + sizePt * ascent, {
          sizePt,
          ...(face ? { face } : {}),
          ...(colour ? { colour } : {}),
        });
        paper.yPt += leadPt;
      }
    });
    next += part.length;
  }
  element.end();
  paper.yPt += options.afterPt ?? 4;
}

/** About 95 characters: longer lines are hard to read. */
const readingWidthPt = 470;

/** Draws what is decorative, outside the reading order. */
export function artifact(paper: Paper, draw: () => void): void {
  paper.doc.markContent('Artifact', { type: 'Layout' });
  draw();
  paper.doc.endMarkedContent();
}
