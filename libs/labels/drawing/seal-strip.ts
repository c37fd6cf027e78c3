import type { JarPaper } from '../content/jar-paper.js';
import { displayFace } from '../content/label-look.js';
import { breakText } from '../layout/fit-text.js';
import { colourOperators, number, type PdfPen } from './pen.js';
import { type Face, widthEm } from './type-faces.js';

/** 3 3/4 × 3/4 in: over the lid and down both sides of the jar. */
export const sealStripMm = { widthMm: 95.25, heightMm: 19.05 } as const;

/** The operators of one strip: both ends stick to the glass, the part between the two V marks lies on the lid. */
export function sealStripOperators(paper: JarPaper, pen: PdfPen): string {
  const { widthMm, heightMm } = sealStripMm;
  const ends = [24, widthMm - 24];
  const snips = ends.map(
    (x) =>
      [0, heightMm]
        .map((y) => {
          const tip = y === 0 ? 4.5 : heightMm - 4.5;
          return `${number(x - 2)} ${number(y)} m ${number(x)} ${number(tip)} l ${number(x + 2)} ${number(y)} l S\n`;
        })
        .join('') + `[0.6 0.9] 0 d ${number(x)} 4.5 m ${number(x)} ${number(heightMm - 4.5)} l S [] 0 d\n`,
  );
  const both = paper.productFr !== undefined;
  const middle = widthMm / 2;
  const centred = (text: string, face: Face, emMm: number, xMm: number, yMm: number, roomMm: number): string => {
    const em = Math.min(emMm, roomMm / widthEm(text, face));
    return pen.text(text, face, em, xMm - (widthEm(text, face) * em) / 2, yMm);
  };
  const broken = both ? ['If broken, do not use', 'Si brisé, ne pas consommer'] : ['If this is broken,', 'do not use'];
  return [
    `q ${colourOperators(paper.look)}0.25 w\n${snips.join('')}`,
    ...stripMakerLines(paper).map(({ text, emMm, yMm }) =>
      centred(text, displayFace('heavy', paper.look), emMm, middle, yMm, lidWidthMm),
    ),
    centred(both ? 'SEALED · SCELLÉ' : 'SEALED', 'words-bold', 3, middle, 6.6, lidWidthMm),
    centred(`${paper.practice ? 'PRACTICE ' : ''}LOT ${paper.lot}`, 'code-bold', 2.3, middle, 3, lidWidthMm),
    ...[12, widthMm - 12].flatMap((x) =>
      broken.map((text, row) => centred(text, 'words', 2.4, x, 10.4 - row * 3.2, 20)),
    ),
    'Q\n',
  ].join('');
}

/** The width of text that lies on the lid. */
const lidWidthMm = 42;
/** Below this its small letters would be lower than a millimetre, the least that labels print (`label-text.ts`). */
const minMakerEmMm = 2.3;

/**
 * The maker's name on the lid: on one line where that stays easy to read, else on two, and cut with an ellipsis where
 * not even two lines in the smallest size hold it. Baselines in mm from the strip's lower edge.
 */
function stripMakerLines({ maker, look }: JarPaper): { text: string; emMm: number; yMm: number }[] {
  const face = displayFace('heavy', look);
  const oneLineEmMm = Math.min(4.4, lidWidthMm / widthEm(maker, face));
  if (oneLineEmMm >= 2.6) return [{ text: maker, emMm: oneLineEmMm, yMm: sealStripMm.heightMm - 7.4 }];
  const inTwo = (emMm: number, text = maker): string[] | undefined => {
    const lines = breakText(text, face, lidWidthMm / emMm);
    return lines && lines.length <= 2 ? lines : undefined;
  };
  const emMm = [2.9, 2.6, minMakerEmMm].find((each) => inTwo(each)) ?? minMakerEmMm;
  let lines = inTwo(emMm);
  for (let end = maker.length - 1; !lines && end > 0; end--) lines = inTwo(emMm, `${maker.slice(0, end).trimEnd()}…`);
  return (lines ?? []).map((text, index, all) => ({
    text,
    emMm,
    yMm: sealStripMm.heightMm - 7.4 + (all.length === 2 ? 2.2 - index * 3.1 : 0),
  }));
}
