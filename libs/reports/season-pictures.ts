import { closeSection, openSection, type Section } from './pdf-flow.js';
import type { PictureName } from './picture-plans.js';
import { makeRoom, write, type Paper } from './pdf-paper.js';
import { drawSvg } from './svg-pdf.js';

/** A picture with its title and, for whoever cannot see it, what it shows. */
export interface Picture {
  readonly title: string;
  readonly words: string;
  readonly svg: string;
}
export type Pictures = Readonly<Record<PictureName, Picture>>;

const titlePt = { size: 11, height: 20 } as const;

/** Four pictures on one page, two by two. */
export function drawPictures(paper: Paper, pictures: Pictures): void {
  const section = openSection(paper, 'The season in pictures', { newPage: true });
  const gapPt = 20;
  const widthPt = (paper.widthPt - gapPt) / 2;
  const heightPt = (paper.bottomPt - paper.yPt - gapPt) / 2;
  const top = paper.yPt;
  const four = [pictures.fillTemperatures, pictures.density, pictures.syrupByDay, pictures.sapToSyrup];
  four.forEach((picture, index) => {
    const xPt = paper.leftPt + (index % 2) * (widthPt + gapPt);
    const yPt = top + Math.floor(index / 2) * (heightPt + gapPt);
    drawTitled(section, picture, { xPt, yPt, widthPt, heightPt });
  });
  paper.yPt = paper.bottomPt;
  closeSection(section);
}

/** One picture in the flow of a section. */
export function drawPicture(section: Section, picture: Picture, widthPt: number, heightPt: number): void {
  const { paper } = section;
  makeRoom(paper, heightPt);
  drawTitled(section, picture, { xPt: paper.leftPt, yPt: paper.yPt, widthPt, heightPt });
  paper.yPt += heightPt + 8;
}

function drawTitled(
  section: Section,
  picture: Picture,
  box: { readonly xPt: number; readonly yPt: number; readonly widthPt: number; readonly heightPt: number },
): void {
  const { paper } = section;
  section.element.add(
    paper.doc.struct('P', {}, () => {
      write(paper, picture.title, box.xPt, box.yPt + titlePt.size, { face: 'bold', sizePt: titlePt.size });
    }),
  );
  const inner = { ...box, yPt: box.yPt + titlePt.height, heightPt: box.heightPt - titlePt.height };
  section.element.add(paper.doc.struct('Figure', { alt: picture.words }, () => drawSvg(paper, picture.svg, inner)));
}
