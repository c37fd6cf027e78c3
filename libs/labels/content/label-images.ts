import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import type { LabelJar } from './label.js';
import type { LabelRun } from '../drawing/label-run.js';
import type { LabelLogo, LabelLook } from './label-look.js';
import type { LabelLayout } from '../layout/label-layout.js';
import { faceOperators } from '../drawing/pdf-face.js';
import { number, type PdfPen, pointsPerMm } from '../drawing/pen.js';
import { labelCorner } from '../stocks/stocks.js';
import { symbolModules, symbolRuns } from '../symbol/symbol.js';
import { jarText } from '../symbol/symbol-text.js';

/** The face is written into the file once and referenced on each label. */
export function sharedFace(document: PDFKit.PDFDocument, layout: LabelLayout, pen: PdfPen): unknown {
  const operators = faceOperators(layout, pen);
  const { logo, colour } = layout.look;
  const face = document.ref({
    Type: 'XObject',
    Subtype: 'Form',
    BBox: [0, 0, layout.widthMm, layout.heightMm],
    Resources: {
      Font: pen.fonts(),
      ...(layout.logo && logo ? { XObject: { Logo: logoImage(document, logo, colour) } } : {}),
    },
  });
  face.end(Buffer.from(operators, 'latin1'));
  return face;
}

/** In its own colours on a colour printer; else an image mask painted in the current fill colour. */
export function logoImage(
  document: PDFKit.PDFDocument,
  { widthPx, heightPx, ink, rgb }: LabelLogo,
  colour: LabelLook['colour'],
): unknown {
  const dictionary = { Type: 'XObject', Subtype: 'Image', Width: widthPx, Height: heightPx };
  const image =
    colour === 'black'
      ? document.ref({ ...dictionary, ImageMask: true, BitsPerComponent: 1, Decode: [0, 1] })
      : document.ref({ ...dictionary, ColorSpace: 'DeviceRGB', BitsPerComponent: 8 });
  image.end(Buffer.from(colour === 'black' ? ink : rgb));
  return image;
}

/**
 * Draws what differs from jar to jar: the symbol and the printed code. The symbol's corner is aligned to a printer dot.
 */
export function jarDrawer(
  run: LabelRun,
  layout: LabelLayout,
  pen: PdfPen,
): (jar: LabelJar, position: number) => string {
  const { stock, nudge, dpi } = run;
  const { symbol, code } = layout;
  const mm = number(pointsPerMm);
  const modulePt = number((symbol.dotsPerModule * 72) / dpi);
  const onDotPt = (lengthMm: number): number => (Math.round((lengthMm * dpi) / 25.4) * 72) / dpi;
  const glyph = glyphTable(pen, code.face);
  const codeAt = `1 0 0 1 ${number(code.xMm)} ${number(layout.heightMm - code.baselineMm)} Tm`;
  const codeFont = `/${glyph.font} ${number(code.emMm)} Tf`;
  return (jar, position) => {
    const corner = labelCorner(stock, position);
    const leftMm = corner.xMm + (nudge?.rightMm ?? 0);
    const topMm = corner.yMm + (nudge?.downMm ?? 0);
    const bottomPt = (stock.pageHeightMm - topMm - layout.heightMm) * pointsPerMm;
    const symbolX = onDotPt(leftMm + symbol.xMm);
    const symbolY = stock.pageHeightMm * pointsPerMm - onDotPt(topMm + symbol.yMm);
    const runs = symbolRuns(symbolModules(jarText(run.symbol, run.content, jar.code), symbol), symbol.modules);
    return (
      `q ${mm} 0 0 ${mm} ${number(leftMm * pointsPerMm)} ${number(bottomPt)} cm /Face Do\n` +
      `BT ${codeFont} ${codeAt} <${glyph.hex(printedJarCode(jar.code))}> Tj ET Q\n` +
      `q ${modulePt} 0 0 -${modulePt} ${number(symbolX)} ${number(symbolY)} cm\n${runs}f Q\n`
    );
  };
}

function glyphTable(pen: PdfPen, face: LabelLayout['code']['face']): { font: string; hex(text: string): string } {
  const { font } = pen.glyphs('0', face);
  const table = new Map<string, string>();
  const hexOf = (letter: string): string => {
    const known = table.get(letter) ?? pen.glyphs(letter, face).hex;
    table.set(letter, known);
    return known;
  };
  return { font, hex: (text) => [...text].map(hexOf).join('') };
}
