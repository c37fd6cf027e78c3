import { closeSection, openSection, type Section } from './pdf-flow.js';
import { makeRoom, type Paper } from './pdf-paper.js';
import type { Season } from './season.js';
import { drawSvg } from './svg-pdf.js';

/** The pictures of a season, each an SVG. */
export interface Pictures {
  readonly fillTemperatures: string;
  readonly density: string;
  readonly syrupByDay: string;
  readonly sapToSyrup: string;
  readonly jarsByPlace: string;
}

/** Four pictures on one page, two by two. */
export function drawPictures(paper: Paper, season: Season, pictures: Pictures): void {
  const section = openSection(paper, 'The season in pictures', { newPage: true });
  const gapPt = 22;
  const widthPt = (paper.widthPt - gapPt) / 2;
  const heightPt = (paper.bottomPt - paper.yPt - gapPt) / 2;
  const four: readonly [string, string][] = [
    [pictures.fillTemperatures, `Lowest fill temperature of each lot. Limit: ${season.house.fillLimit.words}.`],
    [pictures.density, `Density of each lot. Limit: ${season.house.densityLimit.words}.`],
    [pictures.syrupByDay, 'Syrup packed by day, by colour class.'],
    [pictures.sapToSyrup, 'Sap boiled for each gallon of syrup, boil by boil.'],
  ];
  four.forEach(([svg, alt], index) => {
    const xPt = paper.leftPt + (index % 2) * (widthPt + gapPt);
    const yPt = paper.yPt + Math.floor(index / 2) * (heightPt + gapPt);
    section.element.add(
      paper.doc.struct('Figure', { alt }, () => drawSvg(paper, svg, { xPt, yPt, widthPt, heightPt })),
    );
  });
  paper.yPt = paper.bottomPt;
  closeSection(section);
}

/** One picture in the flow of a section. */
export function drawPicture(
  section: Section,
  svg: string,
  size: { readonly widthPt: number; readonly heightPt: number; readonly alt: string },
): void {
  const { paper } = section;
  makeRoom(paper, size.heightPt);
  section.element.add(
    paper.doc.struct('Figure', { alt: size.alt }, () =>
      drawSvg(paper, svg, { xPt: paper.leftPt, yPt: paper.yPt, widthPt: size.widthPt, heightPt: size.heightPt }),
    ),
  );
  paper.yPt += size.heightPt + 8;
}
