import { colourParts, type LabelLook } from '../content/label-look.js';
import type { EmbeddedFont } from '#libs/pdf/pdfkit-internals.js';
import { type Face, fontIn, runsOf } from './type-faces.js';

/** Points in a millimetre. */
export const pointsPerMm = 72 / 25.4;

/**
 * Writes PDF operators for one document, in millimetres from the bottom left of the current transformation matrix.
 * pdfkit's own text() lays out every line anew; a label's lines are laid out once and then only repeated.
 */
export interface PdfPen {
  text(text: string, face: Face, emMm: number, xMm: number, yMm: number): string;
  /** Glyphs of a text in a face without kerning (the mono), for repeating at one place. */
  glyphs(text: string, face: Face): { font: string; hex: string };
  /** The fonts used so far, as a resource dictionary. */
  fonts(): Record<string, unknown>;
}

/** A pen for drawing labels on a PDF; each font is opened once per document. */
export function pdfPenFor(document: PDFKit.PDFDocument): PdfPen {
  const opened = new Map<string, EmbeddedFont>();
  const font = (name: string): EmbeddedFont => {
    const known = opened.get(name);
    if (known) return known;
    const added = fontIn(document, name);
    opened.set(name, added);
    return added;
  };
  return {
    text(text, face, emMm, xMm, yMm) {
      const shown = runsOf(text, face).runs.map((run) => {
        const loaded = font(run.font);
        return `/${loaded.id} ${number(emMm)} Tf ${kernedArray(loaded, run.text)} TJ\n`;
      });
      return `BT 1 0 0 1 ${number(xMm)} ${number(yMm)} Tm\n${shown.join('')}ET\n`;
    },
    glyphs(text, face) {
      const loaded = font(runsOf(text, face).runs[0]!.font);
      return { font: loaded.id, hex: loaded.encode(text)[0].join('') };
    },
    fonts: () => Object.fromEntries([...opened.values()].map((loaded) => [loaded.id, loaded.ref()])),
  };
}

/** Numbers in PDF syntax: no exponent, no more decimals than a printer can resolve. */
export const number = (value: number): string => String(Math.round(value * 1e5) / 1e5);

function kernedArray(loaded: EmbeddedFont, text: string): string {
  const [hex, positions] = loaded.encode(text);
  let array = '';
  let open = '';
  hex.forEach((glyph, index) => {
    open += glyph;
    const position = positions[index]!;
    const tighter = position.advanceWidth - position.xAdvance;
    if (Math.abs(tighter) < 0.5) return;
    array += `<${open}> ${Math.round(tighter)} `;
    open = '';
  });
  return `[${array}${open ? `<${open}>` : ''}]`;
}

/** Operators that set the fill and stroke colour to that of a look. */
export function colourOperators(look: LabelLook): string {
  const parts = colourParts(look).map(number).join(' ');
  return `${parts} rg ${parts} RG\n`;
}
