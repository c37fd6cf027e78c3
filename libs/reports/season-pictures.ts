import { closeSection, openSection, type Section } from './pdf-flow.js';
import type { PictureName } from './picture-plans.js';
import { pictureTables, type PictureTable } from './picture-tables.js';
import { makeRoom, write, type Paper } from './pdf-paper.js';
import { table, type TableColumn } from './pdf-table.js';
import type { Season } from './season.js';
import { drawSvg } from './svg-pdf.js';

/** A picture with its title and, for whoever cannot see it, what it shows. */
export interface Picture {
  readonly title: string;
  readonly words: string;
  readonly svg: string;
}
export type Pictures = Readonly<Record<PictureName, Picture>>;

const titlePt = { size: 11, height: 20 } as const;
const pictureHeightPt = 206;
const leastTablePt = 70;

/** Each picture with the figures that it was drawn from under it; where jars went has a section of its own. */
export async function drawPictures(paper: Paper, season: Season, pictures: Pictures): Promise<void> {
  const section = openSection(paper, 'The season in pictures', { needsPt: pictureHeightPt + leastTablePt + 40 });
  const tables = pictureTables(season);
  for (const name of ['fillTemperatures', 'density', 'syrupByDay', 'sapToSyrup'] as const) {
    makeRoom(paper, pictureHeightPt + leastTablePt);
    drawPicture(section, pictures[name], paper.widthPt, pictureHeightPt);
    const { columns, lines } = tables[name];
    if (lines.length > 0) await table(section, columns.map(columnOf), lines);
    paper.yPt += 14;
  }
  closeSection(section);
}

const columnOf = (
  { heading, isNumber, isCode, isVerdict }: PictureTable['columns'][number],
  index: number,
): TableColumn<readonly string[]> => ({
  heading,
  of: (line) => line[index] ?? '',
  ...(isNumber ? { align: 'right' as const } : {}),
  ...(isVerdict
    ? { mark: (line: readonly string[]) => (isAgainst(line[index]) ? { face: 'bold' as const } : {}) }
    : {}),
  ...(isCode ? { face: 'boldCode' as const } : {}),
});

const isAgainst = (verdict = ''): boolean => /^[A-Z]{2}/.test(verdict);

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
