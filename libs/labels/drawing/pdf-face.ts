import type { PracticeMark } from '../content/practice-mark.js';
import type { LabelLayout } from '../layout/label-layout.js';
import { netFace } from '../layout/net-band.js';
import { colourParts } from '../content/label-look.js';
import type { Shape } from '../layout/frames.js';
import { number, type PdfPen } from './pen.js';
import { roundedPath } from './rounded-path.js';

/** Everything that is the same on each label of a run, as PDF operators in millimetres from the label's bottom left. */
export function faceOperators(layout: LabelLayout, pen: PdfPen): string {
  const up = (yMm: number): number => layout.heightMm - yMm;
  const tint = colourParts(layout.look).map(number).join(' ');
  const isBlack = layout.look.colour === 'black';
  const tinted = (operators: string): string =>
    isBlack || operators === '' ? operators : `${tint} rg ${tint} RG\n${operators}0 g 0 G\n`;
  return [
    '0 g\n',
    layout.practice ? practiceAcross(layout.practice, layout.heightMm, pen) : '',
    tinted(
      [
        layout.bar
          ? `0 ${number(up(layout.bar.heightMm))} ${number(layout.widthMm)} ${number(layout.bar.heightMm)} re f\n`
          : '',
        ...layout.frame.map((shape) => outline(shape, layout.heightMm)),
        rule(layout),
        logo(layout),
      ].join(''),
    ),
    ...layout.texts.map((line) => {
      const shown = pen.text(line.text, line.face, line.emMm, line.xMm, up(line.baselineMm));
      if (line.paper) return `1 g\n${shown}0 g\n`;
      return line.tinted ? tinted(shown) : shown;
    }),
    ...layout.net.lines.map(({ text, xMm, baselineMm }) =>
      pen.text(text, netFace, layout.net.emMm, xMm, up(baselineMm)),
    ),
  ].join('');
}

function outline(shape: Shape, labelHeightMm: number): string {
  const { xMm, yMm, widthMm, heightMm, strokeMm } = shape;
  const [rx, ry] =
    shape.kind === 'ellipse'
      ? [widthMm / 2, heightMm / 2]
      : [Math.max(shape.cornerMm, 0.01), Math.max(shape.cornerMm, 0.01)];
  return `${number(strokeMm)} w ${roundedPath(xMm, labelHeightMm - yMm - heightMm, widthMm, heightMm, rx, ry)} S\n`;
}

/** The drawing as an image named Logo, painted in the current fill colour or, on a colour printer, in its own. */
function logo({ logo: box, heightMm }: LabelLayout): string {
  if (!box) return '';
  const at = [box.widthMm, 0, 0, box.heightMm, box.xMm, heightMm - box.yMm - box.heightMm];
  return `q ${at.map(number).join(' ')} cm /Logo Do Q\n`;
}

/** A rule that narrows from half a millimetre to a tenth, as sap reduces to syrup. */
export const diagramEndsMm = [0.5, 0.1] as const;

function rule({ rule: line, heightMm }: LabelLayout): string {
  if (!line) return '';
  const { xMm, yMm, widthMm } = line;
  const [thick, thin] = diagramEndsMm;
  const y = heightMm - yMm;
  const corners: readonly (readonly [number, number])[] = [
    [xMm, y + thick / 2],
    [xMm + widthMm, y + thin / 2],
    [xMm + widthMm, y - thin / 2],
    [xMm, y - thick / 2],
  ];
  return `${corners.map(([x, at], index) => `${number(x)} ${number(at)} ${index === 0 ? 'm' : 'l'}`).join(' ')} h f\n`;
}

function practiceAcross({ word, emMm, turn, xMm, yMm }: PracticeMark, heightMm: number, pen: PdfPen): string {
  const matrix = [Math.cos(turn), Math.sin(turn), -Math.sin(turn), Math.cos(turn), xMm, heightMm - yMm];
  return `q 0.15 w 0.45 G ${matrix.map(number).join(' ')} cm 1 Tr\n${pen.text(word, 'words-heavy', emMm, 0, 0)}0 Tr Q\n`;
}
