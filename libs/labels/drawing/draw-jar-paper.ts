import type { Writable } from 'node:stream';
import { newDocument } from '#libs/pdf/new-document.js';
import type { JarPaper } from '../content/jar-paper.js';
import { logoImage } from '../content/label-images.js';
import { displayFace, type LabelLook } from '../content/label-look.js';
import type { LabelProblem } from '../content/label.js';
import { fitBreakingWords } from '../layout/break-long-words.js';
import type { TextToPlace } from '../layout/fit-text.js';
import { fitted } from '../layout/compose.js';
import { colourOperators, number, type PdfPen, pdfPenFor, pointsPerMm } from './pen.js';
import { withoutScaling } from './print-scaling.js';
import { roundedPath } from './rounded-path.js';
import { sealStripMm, sealStripOperators } from './seal-strip.js';
import { streamPages } from './stream-pages.js';
import { type Face, letterHeights, runsOf, widthEm } from './type-faces.js';

export interface PaperSheet {
  readonly paper: JarPaper;
  readonly count: number;
  readonly createdAt: Date;
}

/** The area common to Letter and A4: the smaller of each side; the rest is margin. */
const pageMm = { widthMm: 215.9, heightMm: 279.4 };

interface CutSheet {
  readonly title: string;
  readonly text: string;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly columns: number;
  readonly rows: number;
  readonly draw: (paper: JarPaper, pen: PdfPen) => string;
  /** A text that fits on the label at no size. */
  readonly tooLong: (paper: JarPaper) => LabelProblem | undefined;
}

/** Six to a letter page, each 2 1/2 × 4 in, folded in the middle over a string or a neck. */
const neckTag: CutSheet = {
  title: 'Neck tags',
  text: 'Print on stiff paper. Cut along the dotted lines, fold along the dashed line, and punch the ring for a string.',
  widthMm: 63.5,
  heightMm: 101.6,
  columns: 3,
  rows: 2,
  draw: neckTagOperators,
  tooLong: tooLongForTag,
};

/** Twenty-two to a letter page, each 3 3/4 × 3/4 in, over the lid and down both sides of the jar. */
const sealStrip: CutSheet = {
  title: 'Seal strips',
  text: 'Print on a sheet that is one large label. Cut along the dotted lines, cut the small V on both edges, and stick it over the lid and down both sides: it tears at the V when the lid is turned.',
  ...sealStripMm,
  columns: 2,
  rows: 11,
  draw: sealStripOperators,
  tooLong: () => undefined,
};

/** Draws a sheet of neck tags as PDF into `out`. */
export const drawNeckTags = (sheet: PaperSheet, out: Writable) => drawPaper(neckTag, sheet, out);
/** Draws a sheet of seal strips as PDF into `out`. */
export const drawSealStrips = (sheet: PaperSheet, out: Writable) => drawPaper(sealStrip, sheet, out);

async function drawPaper(
  cutSheet: CutSheet,
  { paper, count, createdAt }: PaperSheet,
  out: Writable,
): Promise<{ pages: number } | { problem: LabelProblem }> {
  const problem = paperProblem(paper, count) ?? cutSheet.tooLong(paper);
  if (problem) return { problem };
  const document = withoutScaling(
    newDocument({
      autoFirstPage: false,
      size: [pageMm.widthMm * pointsPerMm, pageMm.heightMm * pointsPerMm],
      margin: 0,
      lang: paper.productFr ? 'en-CA' : 'en-US',
      info: {
        Title: `${cutSheet.title} of ${paper.lot}`,
        Author: paper.maker,
        Creator: 'Boilbook',
        Producer: 'Boilbook',
        CreationDate: createdAt,
      },
    }),
  );
  const pages = streamPages(document, out);
  const pen = pdfPenFor(document);
  const operators = cutSheet.draw(paper, pen);
  const logo = paper.look.logo && logoImage(document, paper.look.logo, paper.look.colour);
  const perPage = cutSheet.columns * cutSheet.rows;
  const leftMm = (pageMm.widthMm - cutSheet.columns * cutSheet.widthMm) / 2;
  const topMm = (pageMm.heightMm - cutSheet.rows * cutSheet.heightMm) / 2;
  let pageCount = 0;
  for (let from = 0; from < count; from += perPage) {
    const parts = [headLine(cutSheet, pen, leftMm, topMm)];
    for (let position = 0; position < Math.min(perPage, count - from); position++) {
      const xMm = leftMm + (position % cutSheet.columns) * cutSheet.widthMm;
      const yMm = pageMm.heightMm - topMm - (Math.floor(position / cutSheet.columns) + 1) * cutSheet.heightMm;
      parts.push(`q 1 0 0 1 ${number(xMm)} ${number(yMm)} cm\n${cutLines(cutSheet)}${operators}Q\n`);
    }
    document.addPage();
    Object.assign(document.page.fonts, pen.fonts());
    if (logo) (document.page.xobjects as Record<string, unknown>)['Logo'] = logo;
    document.addContent(
      `1 0 0 -1 0 ${number(document.page.height)} cm\nq ${number(pointsPerMm)} 0 0 ${number(pointsPerMm)} 0 0 cm\n0 g 0 G\n${parts.join('')}Q`,
    );
    pageCount++;
    await pages.pageDone();
  }
  await pages.finish();
  return { pages: pageCount };
}

function paperProblem({ maker, product, story, look }: JarPaper, count: number): LabelProblem | undefined {
  if (count < 1) return { kind: 'no-jars' };
  const texts: readonly [string, string, Face][] = [
    ['Maker', maker, displayFace('semi', look)],
    ['Product', product, displayFace('heavy', look)],
    ...story.map((text): [string, string, Face] => ['Story', text, displayFace('text', look)]),
  ];
  const undrawable = texts.flatMap(([field, text, face]) => {
    const characters = runsOf(text, face).undrawable;
    return characters.length > 0 ? [{ field, characters }] : [];
  });
  return undrawable.length > 0 ? { kind: 'cannot-draw', undrawable } : undefined;
}

const headLine = ({ text }: CutSheet, pen: PdfPen, leftMm: number, topMm: number): string => {
  const room = pageMm.widthMm - 2 * leftMm;
  const emMm = Math.min(3, room / widthEm(text, 'words'));
  return pen.text(text, 'words', emMm, leftMm, pageMm.heightMm - topMm + 3);
};

const cutLines = ({ widthMm, heightMm }: CutSheet): string =>
  `q [0.2 1.2] 0 d 1 J 0.2 w 0.4 G 0 0 ${number(widthMm)} ${number(heightMm)} re S Q\n`;

/** The front on the lower half; the story on the upper half, upside down, so that it reads upright when folded. */
function neckTagOperators(paper: JarPaper, pen: PdfPen): string {
  const { widthMm, heightMm } = neckTag;
  const half = heightMm / 2;
  const ring = roundedPath(widthMm / 2 - 2.5, half - 2.5, 5, 5, 2.5);
  const side = (operators: string): string => `${frame(widthMm, half)}${operators}`;
  return [
    `q [1.6 1.2] 0 d 0.15 w 0.5 G 0 ${number(half)} m ${number(widthMm)} ${number(half)} l S Q\n`,
    `q 0.15 w 0.5 G ${ring} S Q\n`,
    `q ${colourOperators(paper.look)}${side(front(paper, pen, half))}Q\n`,
    `q -1 0 0 -1 ${number(widthMm)} ${number(heightMm)} cm ${colourOperators(paper.look)}${side(back(paper, pen, half))}Q\n`,
  ].join('');
}

const frame = (widthMm: number, highMm: number): string =>
  `0.4 w ${roundedPath(3, 3, widthMm - 6, highMm - 8.5, 1.5)} S 0.15 w ${roundedPath(3.9, 3.9, widthMm - 7.8, highMm - 10.3, 1)} S\n`;

function front(paper: JarPaper, pen: PdfPen, half: number): string {
  const { look } = paper;
  const logo = fittedLogo(look, half);
  const drawing = logo
    ? `q ${[logo.widthMm, 0, 0, logo.heightMm, logo.xMm, half - logo.yMm - logo.heightMm].map(number).join(' ')} cm /Logo Do Q\n`
    : '';
  return drawing + column(frontTexts(paper), pen, frontColumn(look, half), half);
}

const fittedLogo = (look: LabelLook, half: number) =>
  look.logo && fitted(look.logo, { xMm: 12, yMm: 7.5, widthMm: neckTag.widthMm - 24, heightMm: half * 0.3 });

/** From the top of the half; below the logo, where there is one. */
function frontColumn(look: LabelLook, half: number): TagColumn {
  const logo = fittedLogo(look, half);
  return { topMm: logo ? logo.yMm + logo.heightMm + 1.5 : 9, bottomMm: half - 5 };
}

function frontTexts(paper: JarPaper): TextToPlace[] {
  const { look } = paper;
  return [
    tagText('Maker', paper.maker, displayFace('semi', look), 3.6),
    // Both languages in one size, as on the label.
    tagText('Product', paper.product, displayFace('heavy', look), paper.productFr ? 5.2 : 6, 0.8),
    ...(paper.productFr ? [tagText('Product in French', paper.productFr, displayFace('heavy', look), 5.2)] : []),
    tagText('Lot', `${paper.practice ? 'PRACTICE · ' : ''}${paper.packed} · ${paper.lot}`, 'words', 2.3, 1.4),
  ];
}

const back = (paper: JarPaper, pen: PdfPen, half: number): string =>
  column(backTexts(paper), pen, backColumn(half), half);

const backColumn = (half: number): TagColumn => ({ topMm: 9, bottomMm: half - 5 });

function backTexts({ look, story, storyFr }: JarPaper): TextToPlace[] {
  const sentences = story.length > 0 ? story : ['Pure maple syrup, boiled from sap.'];
  return [
    tagText('Story', sentences.join(' '), displayFace('text', look), 3.4),
    ...(storyFr?.length ? [tagText('Story in French', storyFr.join(' '), displayFace('text', look), 3.4, 1.6)] : []),
  ];
}

const tagText = (item: string, text: string, face: Face, emMm: number, gapBeforeMm = 0): TextToPlace => ({
  item,
  text,
  face,
  emMm,
  minLetterMm: 0.9,
  gapBeforeMm,
});

interface TagColumn {
  readonly topMm: number;
  readonly bottomMm: number;
}

const insetMm = 6;

const fitColumn = (toPlace: readonly TextToPlace[], { topMm, bottomMm }: TagColumn) =>
  fitBreakingWords(toPlace, {
    widthMm: neckTag.widthMm - 2 * insetMm,
    heightMm: bottomMm - topMm,
    align: 'centre',
    maxScale: 1.3,
  });

function tooLongForTag(paper: JarPaper): LabelProblem | undefined {
  const half = neckTag.heightMm / 2;
  const [first] = [
    { texts: frontTexts(paper), column: frontColumn(paper.look, half) },
    { texts: backTexts(paper), column: backColumn(half) },
  ].flatMap(({ texts, column: room }) => {
    const set = fitColumn(texts, room);
    return 'tooMuch' in set ? texts.filter(({ item }) => item === set.tooMuch[0]) : [];
  });
  return (
    first && { kind: 'bad-setting', field: first.item, expected: 'a text that fits on a neck tag', got: first.text }
  );
}

function column(toPlace: readonly TextToPlace[], pen: PdfPen, { topMm, bottomMm }: TagColumn, half: number): string {
  const heightMm = bottomMm - topMm;
  const set = fitColumn(toPlace, { topMm, bottomMm });
  // What is too much was refused before the document was begun.
  const last = 'tooMuch' in set ? undefined : set.lines.at(-1);
  if ('tooMuch' in set || !last) return '';
  const downMm = (heightMm - last.baselineMm - letterHeights(last.face).descent * last.emMm) / 2;
  return set.lines
    .map((line) =>
      pen.text(line.text, line.face, line.emMm, insetMm + line.xMm, half - topMm - downMm - line.baselineMm),
    )
    .join('');
}
