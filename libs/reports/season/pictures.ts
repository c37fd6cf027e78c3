import { closeSection, openSection, type Section } from '#libs/pdf/flow.js';
import type { PictureName } from '../charts/chart-plans.js';
import { write, type Paper } from '#libs/pdf/paper.js';
import { drawSvg } from '#libs/pdf/draw-svg.js';
import type { Season } from './season.js';
import { seasonUnit } from '#libs/format/format-volume.js';

/** A picture with its title and its text alternative. */
export interface Picture {
  readonly title: string;
  readonly caption: string;
  readonly svg: string;
}
export type Pictures = Readonly<Record<PictureName, Picture>>;

const titlePt = { size: 11, height: 18 } as const;
const gapPt = 16;

/** Six pictures on a page, each at the size it was drawn for, so that its text has its nominal size on paper. */
const onThePage: readonly PictureName[] = [
  'fillTemperatures',
  'density',
  'syrupByDay',
  'sapToSyrup',
  'panTemperature',
  'besideEarlier',
];

/** Draws the season's pictures, two side by side, as figures with a text alternative. */
export function drawPictures(paper: Paper, season: Season, pictures: Pictures): void {
  const section = openSection(paper, `The season in pictures, volumes in ${seasonUnit(season)}`, { newPage: true });
  const widthPt = (paper.widthPt - gapPt) / 2;
  const heightPt = (paper.bottomPt - paper.yPt) / 3;
  const top = paper.yPt;
  onThePage.forEach((name, index) => {
    const box = {
      xPt: paper.leftPt + (index % 2) * (widthPt + gapPt),
      yPt: top + Math.floor(index / 2) * heightPt,
      widthPt,
      heightPt,
    };
    drawTitled(section, pictures[name], box);
  });
  paper.yPt = paper.bottomPt;
  closeSection(section);
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
  section.element.add(paper.doc.struct('Figure', { alt: picture.caption }, () => drawSvg(paper, picture.svg, inner)));
}
