import { ink, write, type Paper } from '#libs/pdf/paper.js';
import { bandPath, edgePath, knotRadiusPt, taperColours, threadPath } from './lot-diagram.js';
import { layTaper } from './layout.js';
import { type Taper, type TaperLayout, type TaperShape, type TaperWords } from './shape.js';
import { taperWords } from './description.js';

/**
 * Draws the same layout into a PDF with its top left at the paper's left edge and `paper.yPt`, as one figure whose
 * alternate text says the same; moves the paper on.
 */
export function drawTaper(
  paper: Paper,
  under: PDFKit.PDFStructureElement,
  taper: Taper,
  manner: { readonly shape?: TaperShape; readonly lengthPt?: number; readonly boldness?: number } = {},
): void {
  const layout = layTaper(taper, manner.shape ?? 'across', manner.lengthPt ?? paper.widthPt, manner.boldness);
  const topPt = paper.yPt;
  under.add(
    paper.doc.struct('Figure', { alt: taperWords(taper) }, () => {
      paper.doc.save().translate(paper.leftPt, topPt);
      drawBands(paper, layout, taper.syrupColour ?? taperColours.syrup);
      drawKnots(paper, layout);
      for (const words of layout.words) drawWords(paper, words);
      paper.doc.restore();
    }),
  );
  paper.yPt = topPt + layout.heightPt;
}

function drawBands(paper: Paper, layout: TaperLayout, syrupColour: string): void {
  const { doc } = paper;
  const { fromPt, toPt } = layout.turn;
  const gradient =
    layout.shape === 'down' ? doc.linearGradient(0, fromPt, 0, toPt) : doc.linearGradient(fromPt, 0, toPt, 0);
  gradient.stop(0, taperColours.sap).stop(1, syrupColour);
  // Every edge first and every filling over it, so that lines that meet have one outline between them.
  const done = layout.bands.filter((band) => band.happened);
  for (const band of done) doc.path(edgePath(band, layout.shape)).lineWidth(1.5).stroke(ink.black);
  for (const band of done) doc.path(bandPath(band, layout.shape)).lineWidth(0.5).fillAndStroke(gradient, gradient);
  for (const band of layout.bands.filter((one) => !one.happened))
    doc
      .path(threadPath(band, layout.shape))
      .lineWidth(1.5)
      .lineCap('round')
      .dash(0.1, { space: 4 })
      .stroke(ink.black)
      .undash();
}

function drawKnots(paper: Paper, layout: TaperLayout): void {
  for (const knot of layout.knots) {
    const colour = knot.stops ? ink.stamp : ink.black;
    paper.doc
      .circle(knot.xPt, knot.yPt, knotRadiusPt(layout.shape))
      .lineWidth(1)
      .fillAndStroke(knot.stops ? colour : '#ffffff', colour);
  }
}

function drawWords(paper: Paper, words: TaperWords): void {
  const reading = words.kind === 'reading' || words.kind === 'stop';
  write(paper, words.text, words.xPt, words.yPt, {
    face: reading ? 'boldFigures' : 'words',
    sizePt: words.sizePt,
    anchor: words.anchor,
    colour: words.kind === 'stop' ? ink.stamp : words.kind === 'stage' ? ink.soft : ink.black,
  });
}
