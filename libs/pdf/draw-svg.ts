import { createRequire } from 'node:module';
import type { Paper } from './paper.js';

type SvgToPdf = (
  doc: PDFKit.PDFDocument,
  svg: string,
  xPt: number,
  yPt: number,
  options: {
    readonly width: number;
    readonly height: number;
    readonly assumePt: boolean;
    readonly preserveAspectRatio: string;
    readonly fontCallback: (family: string, bold: boolean) => string;
    readonly warningCallback: () => void;
  },
) => void;

// The package is CommonJS and has no types.
const svgToPdf = createRequire(import.meta.url)('svg-to-pdfkit') as SvgToPdf;

/** Draws an SVG picture into a box, in our own fonts. */
export function drawSvg(
  paper: Paper,
  svg: string,
  box: { xPt: number; yPt: number; widthPt: number; heightPt: number },
): void {
  svgToPdf(paper.doc, svg, box.xPt, box.yPt, {
    width: box.widthPt,
    height: box.heightPt,
    assumePt: true,
    preserveAspectRatio: 'xMinYMin meet',
    fontCallback: (_family, bold) => (bold ? 'bold' : 'words'),
    warningCallback: () => undefined,
  });
}
