import type { LabelLayout } from '../layout/layout.js';
import { netFace } from '../layout/net-band.js';
import { number, type LogAppender } from './pen.js';

/** Everything that is the same on each label of a run, as PDF operators in millimetres from the label's bottom left. */
export function faceOperators(layout: LabelLayout, appender: LogAppender): string {
  const up = (yMm: number): number => layout.heightMm - yMm;
  return [
    '0 g\n',
    layout.practice ? practiceAcross(layout, appender) : '',
    layout.bar
      ? `0 ${number(up(layout.bar.heightMm))} ${number(layout.widthMm)} ${number(layout.bar.heightMm)} re f\n`
      : '',
    taper(layout),
    ...layout.texts.map((line) => {
      const shown = appender.text(line.text, line.face, line.emMm, line.xMm, up(line.baselineMm));
      return line.paper ? `1 g\n${shown}0 g\n` : shown;
    }),
    ...layout.net.lines.map(({ text, xMm, baselineMm }) =>
      appender.text(text, netFace, layout.net.emMm, xMm, up(baselineMm)),
    ),
  ].join('');
}

/** From a hand's breadth of sap to a thread of syrup: it narrows from half a millimetre to a tenth. */
export const diagramEndsMm = [0.5, 0.1] as const;

function taper({ taper: line, heightMm }: LabelLayout): string {
  if (!line) return '';
  const { xMm, yMm, widthMm } = line;
  const [thick, thin] = diagramEndsMm;
  const y = heightMm - yMm;
  const corners = [
    [xMm, y + thick / 2],
    [xMm + widthMm, y + thin / 2],
    [xMm + widthMm, y - thin / 2],
    [xMm, y - thick / 2],
  ];
  return `${corners.map(([x, at], index) => `${number(x!)} ${number(at!)} ${index === 0 ? 'm' : 'l'}`).join(' ')} h f\n`;
}

function practiceAcross({ practice, heightMm }: LabelLayout, appender: LogAppender): string {
  const { word, emMm, turn, xMm, yMm } = practice!;
  const matrix = [Math.cos(turn), Math.sin(turn), -Math.sin(turn), Math.cos(turn), xMm, heightMm - yMm];
  return `q 0.15 w 0.45 G ${matrix.map(number).join(' ')} cm 1 Tr\n${appender.text(word, 'words-heavy', emMm, 0, 0)}0 Tr Q\n`;
}
