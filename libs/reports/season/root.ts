import { artifact } from '#libs/pdf/flow.js';
import { ink, rule, write, type Paper } from '#libs/pdf/paper.js';
import type { Season } from './season.js';
import { grouped, rootText, whole } from '#libs/format/format.js';

/** At the foot of a page: the number of entries, the root, and what it means. */
export function drawRoot(paper: Paper, section: PDFKit.PDFStructureElement, season: Season): void {
  const { record } = season;
  const text = paper.faces.wrap(rootText(record), 'words', 9, paper.widthPt);
  const heightPt = 12 + 14 + 15 + text.length * 12.4;
  paper.yPt = Math.max(paper.yPt + 8, paper.bottomPt - heightPt);
  artifact(paper, () => rule(paper, paper.yPt, 0.5));
  section.add(
    paper.doc.struct('P', {}, () => {
      write(paper, `Record: ${whole(record.entries)} entries, root`, paper.leftPt, paper.yPt + 15, {
        face: 'bold',
        sizePt: 9.5,
      });
    }),
  );
  section.add(
    paper.doc.struct('P', { actual: record.root }, () => {
      const sizePt = fittedSizePt(paper, grouped(record.root), paper.widthPt, 11, 'code');
      write(paper, grouped(record.root), paper.leftPt, paper.yPt + 30, { face: 'code', sizePt });
    }),
  );
  section.add(
    paper.doc.struct('P', {}, () => {
      text.forEach((line, index) =>
        write(paper, line, paper.leftPt, paper.yPt + 44 + index * 12.4, { sizePt: 9, colour: ink.soft }),
      );
    }),
  );
}

/** The size at which a text is at most `widthPt` wide, and at most `most`. */
export function fittedSizePt(
  paper: Paper,
  text: string,
  widthPt: number,
  most: number,
  face: 'bold' | 'code' = 'bold',
): number {
  return Math.min(most, widthPt / Math.max(0.1, paper.faces.widthPt(text, face, 1)));
}
