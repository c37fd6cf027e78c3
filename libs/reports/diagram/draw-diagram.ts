import { ink, write, type Paper } from '#libs/pdf/paper.js';
import { bandPath, edgePath, dotRadiusPt, diagramColours, threadPath } from './lot-diagram.js';
import { layoutDiagram } from './layout.js';
import { type LotDiagram, type DiagramLayout, type DiagramShape, type DiagramText } from './shape.js';
import { diagramText } from './description.js';

/**
 * Draws the same layout into a PDF with its top left at the paper's left edge and `paper.yPt`, as one figure with the
 * description as its alternate text; advances the paper.
 */
export function drawDiagram(
  paper: Paper,
  under: PDFKit.PDFStructureElement,
  diagram: LotDiagram,
  options: { readonly shape?: DiagramShape; readonly lengthPt?: number; readonly boldness?: number } = {},
): void {
  const layout = layoutDiagram(diagram, options.shape ?? 'across', options.lengthPt ?? paper.widthPt, options.boldness);
  const topPt = paper.yPt;
  under.add(
    paper.doc.struct('Figure', { alt: diagramText(diagram) }, () => {
      paper.doc.save().translate(paper.leftPt, topPt);
      drawBands(paper, layout, diagram.syrupColour ?? diagramColours.syrup);
      drawDots(paper, layout);
      for (const text of layout.texts) drawText(paper, text);
      paper.doc.restore();
    }),
  );
  paper.yPt = topPt + layout.heightPt;
}

function drawBands(paper: Paper, layout: DiagramLayout, syrupColour: string): void {
  const { doc } = paper;
  const { fromPt, toPt } = layout.turn;
  const gradient =
    layout.shape === 'down' ? doc.linearGradient(0, fromPt, 0, toPt) : doc.linearGradient(fromPt, 0, toPt, 0);
  gradient.stop(0, diagramColours.sap).stop(1, syrupColour);
  // All edges first and all fills over them, so that lines that meet have one outline.
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

function drawDots(paper: Paper, layout: DiagramLayout): void {
  for (const dot of layout.dots) {
    const colour = dot.stops ? ink.stamp : ink.black;
    paper.doc
      .circle(dot.xPt, dot.yPt, dotRadiusPt(layout.shape))
      .lineWidth(1)
      .fillAndStroke(dot.stops ? colour : '#ffffff', colour);
  }
}

function drawText(paper: Paper, text: DiagramText): void {
  const reading = text.kind === 'reading' || text.kind === 'stop';
  write(paper, text.text, text.xPt, text.yPt, {
    face: reading ? 'boldFigures' : 'words',
    sizePt: text.sizePt,
    anchor: text.anchor,
    colour: text.kind === 'stop' ? ink.stamp : text.kind === 'stage' ? ink.soft : ink.black,
  });
}
