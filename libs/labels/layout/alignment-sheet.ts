import type { Writable } from 'node:stream';
import { newDocument } from '#libs/pdf/new-document.js';
import { number, pdfPenFor, type PdfPen, pointsPerMm } from '../drawing/pen.js';
import { roundedPath } from '../drawing/rounded-path.js';
import { withoutScaling } from '../drawing/print-scaling.js';
import { labelCorner, labelsPerPage, type Stock } from '../stocks/stocks.js';
import { streamPages } from '../drawing/stream-pages.js';

export interface AlignmentSheet {
  readonly stock: Stock;
  readonly nudge?: { readonly rightMm: number; readonly downMm: number } | undefined;
  readonly createdAt: Date;
}

/**
 * Outlines of every label on plain paper, with crosses and rulers, to hold behind a sheet of labels against the light.
 */
export async function drawAlignmentSheet(sheet: AlignmentSheet, out: Writable): Promise<void> {
  const { stock, createdAt } = sheet;
  const document = newDocument({
    autoFirstPage: false,
    size: [stock.pageWidthMm * pointsPerMm, stock.pageHeightMm * pointsPerMm],
    margin: 0,
    lang: 'en-US',
    info: {
      Title: `Alignment sheet, ${stock.name}`,
      Creator: 'Boilbook',
      Producer: 'Boilbook',
      CreationDate: createdAt,
    },
  });
  withoutScaling(document);
  const pages = streamPages(document, out);
  const pen = pdfPenFor(document);
  const operators = alignmentOperators(sheet, pen);
  document.addPage();
  Object.assign(document.page.fonts, pen.fonts());
  document.addContent(
    `1 0 0 -1 0 ${number(document.page.height)} cm\nq ${number(pointsPerMm)} 0 0 ${number(pointsPerMm)} 0 0 cm\n${operators}Q`,
  );
  await pages.finish();
}

/** In millimetres from the bottom left of the page. */
function alignmentOperators({ stock, nudge }: AlignmentSheet, pen: PdfPen): string {
  const { rightMm, downMm } = nudge ?? { rightMm: 0, downMm: 0 };
  const count = labelsPerPage(stock);
  const parts: string[] = ['0.1 w 0 G 0 g\n'];
  for (let position = 0; position < count; position++) {
    const corner = labelCorner(stock, position);
    const xMm = corner.xMm + rightMm;
    const yMm = stock.pageHeightMm - corner.yMm - downMm - stock.labelHeightMm;
    parts.push(roundedOutline(xMm, yMm, stock));
    if (position > 0) parts.push(cross(xMm + stock.labelWidthMm / 2, yMm + stock.labelHeightMm / 2));
    const text = position === 0 ? instructions(stock, rightMm, downMm) : [`${position + 1}`];
    const emMm = Math.min(2.4, stock.labelHeightMm / 12);
    text.forEach((line, index) => {
      parts.push(pen.text(line, 'words', emMm, xMm + 4, yMm + stock.labelHeightMm - 4 - index * emMm * 1.25));
    });
    if (position === 0 || position === count - 1) parts.push(rulers(xMm, yMm, stock));
  }
  return parts.join('');
}

const instructions = (stock: Stock, rightMm: number, downMm: number): string[] => [
  `1  ${stock.name}`,
  'Print at 100 %, never fitted to the page.',
  'Hold it behind a sheet of labels.',
  'Outline too far right: move the print left,',
  '1 mm for each tick. The same for up and down.',
  `Set now: ${signed(rightMm)} mm right, ${signed(downMm)} mm down.`,
];

const signed = (mm: number): string => (mm >= 0 ? `+${mm.toFixed(1)}` : `−${Math.abs(mm).toFixed(1)}`);

const cross = (xMm: number, yMm: number): string =>
  `${number(xMm - 3)} ${number(yMm)} m ${number(xMm + 3)} ${number(yMm)} l ${number(xMm)} ${number(yMm - 3)} m ${number(xMm)} ${number(yMm + 3)} l S\n`;

/** Millimetre ticks inwards from the label's left and top edge, every fifth longer. */
function rulers(xMm: number, yMm: number, stock: Stock): string {
  const top = yMm + stock.labelHeightMm;
  const ticks = Array.from({ length: 11 }, (_, mm) => {
    const long = mm % 5 === 0 ? 2.2 : 1.2;
    const across = stock.labelWidthMm - 14 + mm;
    const down = yMm + 2 + mm;
    return (
      `${number(xMm + across)} ${number(top)} m ${number(xMm + across)} ${number(top - long)} l ` +
      `${number(xMm)} ${number(down)} m ${number(xMm + long)} ${number(down)} l\n`
    );
  });
  return `${ticks.join('')}S\n`;
}

function roundedOutline(xMm: number, yMm: number, stock: Stock): string {
  const { labelWidthMm, labelHeightMm, cornerMm, shape } = stock;
  const [rx, ry] = shape === 'oval' ? [labelWidthMm / 2, labelHeightMm / 2] : [cornerMm, cornerMm];
  return `${roundedPath(xMm, yMm, labelWidthMm, labelHeightMm, rx, ry)} S\n`;
}
