import { ink, write, type Paper } from '#libs/pdf/paper.js';
import { layoutStamp, type StampWord } from './stamp.js';

/** Draws the stamp with its centre at `xPt`, `yPt`; screen readers read its text. */
export function drawStamp(
  paper: Paper,
  under: PDFKit.PDFStructureElement,
  word: StampWord,
  beneath: string,
  at: { readonly xPt: number; readonly yPt: number; readonly scale?: number },
): void {
  const { doc } = paper;
  const layout = layoutStamp(word, beneath);
  const colour = word === 'RELEASED' ? ink.spruce : ink.stamp;
  under.add(
    doc.struct('P', {}, () => {
      doc
        .save()
        .translate(at.xPt, at.yPt)
        .scale(at.scale ?? 0.8)
        .rotate(layout.turnDegrees)
        .translate(-layout.width / 2, -layout.height / 2);
      doc
        .roundedRect(2, 2, layout.width - 4, layout.height - 4, 7)
        .lineWidth(3)
        .stroke(colour);
      doc
        .roundedRect(6, 6, layout.width - 12, layout.height - 12, 4)
        .lineWidth(0.9)
        .stroke(colour);
      const style = { face: 'bold', colour, anchor: 'centre' } as const;
      write(paper, word, layout.width / 2, layout.wordBaseline, { ...style, sizePt: layout.wordSize });
      if (beneath !== '') write(paper, beneath, layout.width / 2, layout.beneathBaseline, { ...style, sizePt: 11 });
      doc.restore();
    }),
  );
}
