import type { LabelLayout } from '../layout/layout.js';
import { type NetBand, netFace, tallFace, tallLetterScale, tallWidthEm } from '../layout/net-band.js';
import { outlineOperators } from '../layout/letter-outline.js';
import { number, type LogAppender } from './pen.js';
import { widthEm } from './type-faces.js';

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
    netOperators(layout.net, layout.heightMm, appender),
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

/**
 * The statement is one text, so that it reads back as `8 FL OZ (236 mL)`; each small m in it is left unpainted and drawn
 * as an outline as high as a capital, so that the least height holds whichever letter is measured.
 */
function netOperators(net: NetBand, heightMm: number, appender: LogAppender): string {
  return net.lines
    .map(({ text, xMm, baselineMm }) => {
      const y = heightMm - baselineMm;
      const [shown, tall] = withTallLetters(text, net, appender);
      const outlines = tall.map((offsetMm) => {
        const scale = number(net.emMm * tallLetterScale);
        return `q ${scale} 0 0 ${scale} ${number(xMm + offsetMm)} ${number(y)} cm\n${outlineOperators('m', tallFace)}\nf Q\n`;
      });
      return `BT 1 0 0 1 ${number(xMm)} ${number(y)} Tm\n${shown}ET\n${outlines.join('')}`;
    })
    .join('');
}

function withTallLetters(text: string, net: NetBand, appender: LogAppender): [string, number[]] {
  const parts = text.split(/(m)/).filter((part) => part !== '');
  const offsets: number[] = [];
  let atMm = 0;
  const shown = parts.map((part) => {
    const { font, hex } = appender.glyphs(part, netFace);
    const wide = widthEm(part, netFace);
    if (part !== 'm') {
      atMm += wide * net.emMm;
      return `/${font} ${number(net.emMm)} Tf <${hex}> Tj\n`;
    }
    offsets.push(atMm);
    atMm += tallWidthEm() * net.emMm;
    const extra = Math.round((tallWidthEm() - wide) * 1000);
    return `/${font} ${number(net.emMm)} Tf 3 Tr [<${hex}> ${-extra}] TJ 0 Tr\n`;
  });
  return [shown.join(''), offsets];
}

function practiceAcross({ practice, heightMm }: LabelLayout, appender: LogAppender): string {
  const { word, emMm, turn, xMm, yMm } = practice!;
  const matrix = [Math.cos(turn), Math.sin(turn), -Math.sin(turn), Math.cos(turn), xMm, heightMm - yMm];
  return `q 0.15 w 0.45 G ${matrix.map(number).join(' ')} cm 1 Tr\n${appender.text(word, 'words-heavy', emMm, 0, 0)}0 Tr Q\n`;
}
