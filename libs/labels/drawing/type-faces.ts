import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { newDocument } from '#libs/pdf/new-document.js';
import { clearLayoutCaches, type EmbeddedFont, selectedFont } from '#libs/pdf/pdfkit-internals.js';
import { packageRoot } from '#libs/package-root.js';
import { unpackWoff } from '#libs/pdf/woff.js';

/**
 * The family of labels, pages and documents: Atkinson Hyperlegible Next for text and Mono for codes, in which 0 and O,
 * 1, I and l can't be confused. Only the maker's name, the product and a tag's story may use another: Fraunces, an
 * old-style serif, or Zilla Slab (all SIL Open Font License; its text ships in each package). Latin and Latin with
 * rarer accents are separate files, so a text is split into runs, each drawn from the file that has its letters.
 */
export type Face =
  | 'words'
  | 'words-semi'
  | 'words-bold'
  | 'words-heavy'
  | 'code'
  | 'code-bold'
  | 'serif'
  | 'serif-semi'
  | 'serif-heavy'
  | 'slab'
  | 'slab-semi'
  | 'slab-heavy';

export interface Run {
  readonly text: string;
  readonly font: string;
}

/** Heights of Atkinson's letters as a fraction of the em, the same in every weight (read from the font files). */
export const capHeightEm = 0.668;
export const xHeightEm = 0.496;
export const descentEm = 0.21;
/** Brackets, a slash and l are taller than the capitals. */
export const tallEm = 0.709;

/** Heights of a face's letters as a fraction of the em; for a family the lowest of its weights. */
export interface LetterHeights {
  readonly cap: number;
  readonly x: number;
  readonly descent: number;
}

/** The heights of a face's capitals and small letters, as a fraction of its size. */
export const letterHeights = (face: Face): LetterHeights =>
  face.startsWith('serif') ? serifHeights : face.startsWith('slab') ? slabHeights : atkinsonHeights;

/**
 * How far a text extends above the height of its capitals, as a fraction of the em: letters such as l by up to 0.07, an
 * accented capital by up to 0.24 (read from the font files, the highest of the three families).
 */
export function aboveCapitalsEm(text: string, face: Face): number {
  if (/\p{Lu}\p{M}/u.test(text.normalize('NFD'))) return 0.24;
  return /[bdfhkl()/]/.test(text) ? (face.startsWith('s') ? 0.07 : 0.05) : 0.02;
}

const atkinsonHeights: LetterHeights = { cap: capHeightEm, x: xHeightEm, descent: descentEm };
const serifHeights: LetterHeights = { cap: 0.7, x: 0.469, descent: 0.245 };
const slabHeights: LetterHeights = { cap: 0.65, x: 0.445, descent: 0.223 };

/** Runs of a text, or the characters that no file of the face can draw. */
export function runsOf(text: string, face: Face): MeasuredText {
  const cached = measuredTexts.get(face + text);
  if (cached) return cached;
  const runs: { text: string; font: string }[] = [];
  const undrawable = new Set<string>();
  for (const character of text.normalize('NFC')) {
    const font = fontsOf(face).find((name) =>
      loadedFont(name).font.hasGlyphForCodePoint(character.codePointAt(0) ?? 0),
    );
    const last = runs.at(-1);
    if (!font) undrawable.add(character);
    else if (last?.font === font) last.text += character;
    else runs.push({ text: character, font });
  }
  const found: MeasuredText = { runs, undrawable: [...undrawable] };
  if (measuredTexts.size > 2000) forgetMeasured();
  measuredTexts.set(face + text, found);
  return found;
}

interface MeasuredText {
  readonly runs: readonly Run[];
  readonly undrawable: readonly string[];
  /** Set when it is first asked for: fitting a label to each stock measures the same words many times. */
  widthEm?: number;
}

/** Width of a text as a multiple of its em, kerning included. */
export function widthEm(text: string, face: Face): number {
  const measured = runsOf(text, face);
  measured.widthEm ??= measured.runs.reduce((sum, run) => sum + loadedFont(run.font).widthOfString(run.text, 1), 0);
  return measured.widthEm;
}

/** A server prints for months: neither these texts nor the glyphs of their words may accumulate. */
function forgetMeasured(): void {
  measuredTexts.clear();
  if (measuringDocument) clearLayoutCaches(measuringDocument);
}

/** The path of a font file out of its package; `font` is family/subset/weight. */
export const fontPath = (font: string): string => {
  const [family, subset, weight] = font.split('/') as [string, string, string];
  const name = ['next', 'mono'].includes(family) ? `atkinson-hyperlegible-${family}` : family;
  return join(packageRoot, 'node_modules/@fontsource', name, 'files', `${name}-${subset}-${weight}-normal.woff`);
};

/** Opens a font in a PDF document. Unpacked, since the font library unpacks a packed table again for each glyph. */
export function fontIn(document: PDFKit.PDFDocument, font: string): EmbeddedFont {
  const bytes = unpacked.get(font) ?? unpackWoff(readFileSync(fontPath(font)));
  unpacked.set(font, bytes);
  document.registerFont(font, bytes);
  return selectedFont(document.font(font));
}

/** A font opened once for measuring, whatever document is drawn. */
export function loadedFont(font: string): EmbeddedFont {
  const cached = measured.get(font);
  if (cached) return cached;
  const opened = fontIn((measuringDocument ??= newDocument({ autoFirstPage: false })), font);
  measured.set(font, opened);
  return opened;
}

function fontsOf(face: Face): readonly string[] {
  const [family, weight] = files[face];
  return [`${family}/latin/${weight}`, `${family}/latin-ext/${weight}`];
}

const files: Readonly<Record<Face, readonly [string, number]>> = {
  words: ['next', 400],
  'words-semi': ['next', 600],
  'words-bold': ['next', 700],
  'words-heavy': ['next', 800],
  code: ['mono', 400],
  'code-bold': ['mono', 700],
  serif: ['fraunces', 400],
  'serif-semi': ['fraunces', 600],
  'serif-heavy': ['fraunces', 800],
  slab: ['zilla-slab', 400],
  'slab-semi': ['zilla-slab', 600],
  'slab-heavy': ['zilla-slab', 700],
};

/** Never output: used only to measure text widths. */
let measuringDocument: PDFKit.PDFDocument | undefined;
const unpacked = new Map<string, Buffer>();
const measured = new Map<string, EmbeddedFont>();
const measuredTexts = new Map<string, MeasuredText>();
