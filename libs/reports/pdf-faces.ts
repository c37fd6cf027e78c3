import { join } from 'node:path';
import { packageRoot } from '#libs/records/package-root.js';

/** `figures` are words with every digit as wide as the next, for columns of numbers. */
export type Face = 'words' | 'bold' | 'figures' | 'boldFigures' | 'code' | 'boldCode';

/** A stretch of text that one font file can draw. */
export interface Run {
  readonly text: string;
  readonly font: string;
  readonly widthPt: number;
}

export interface Faces {
  /** Splits a text into runs at a size, each measured. */
  readonly runs: (text: string, face: Face, sizePt: number) => readonly Run[];
  readonly widthPt: (text: string, face: Face, sizePt: number) => number;
  /** Lines no wider than `widthPt`; a word that is wider alone is broken where it must be. */
  readonly wrap: (text: string, face: Face, sizePt: number, widthPt: number) => readonly string[];
  readonly features: (face: Face) => PDFKit.Mixins.OpenTypeFeatures[] | undefined;
}

/** Atkinson Hyperlegible: 0 and O, 1, I and l can't be confused. Part of the height above the baseline. */
export const ascent = 0.984;
export const capHeight = 0.668;

/** Registers the fonts with a document and answers how to measure with them. Faults: a font file is missing. */
export function openFaces(doc: PDFKit.PDFDocument): Faces {
  for (const [name, file] of Object.entries(fontFiles)) doc.registerFont(name, file);
  const widths = new Map<string, number>();
  const features = (face: Face): PDFKit.Mixins.OpenTypeFeatures[] | undefined =>
    face === 'figures' || face === 'boldFigures' ? ['tnum'] : undefined;

  /** Width at one point; texts repeat, so each is measured once. */
  const unitWidth = (text: string, font: string, face: Face): number => {
    const key = `${font}|${features(face) ? 'n' : ''}|${text}`;
    let width = widths.get(key);
    if (width === undefined) {
      const asked = features(face);
      width =
        doc
          .font(font)
          .fontSize(100)
          .widthOfString(text, asked ? { features: asked } : {}) / 100;
      widths.set(key, width);
    }
    return width;
  };
  const hasGlyph = glyphFinder(doc);
  const runs = (text: string, face: Face, sizePt: number): readonly Run[] =>
    splitByFont(text, face, hasGlyph).map((run) => ({ ...run, widthPt: unitWidth(run.text, run.font, face) * sizePt }));
  const widthPt = (text: string, face: Face, sizePt: number): number =>
    runs(text, face, sizePt).reduce((sum, run) => sum + run.widthPt, 0);
  const wrap = (text: string, face: Face, sizePt: number, lineWidthPt: number): readonly string[] =>
    text.split('\n').flatMap((line) => wrapLine(line, (part) => widthPt(part, face, sizePt), lineWidthPt));
  return { runs, widthPt, wrap, features };
}

const fontFolder = (family: string): string => join(packageRoot, 'node_modules/@fontsource', family, 'files');
const fontFile = (family: string, part: string): string => join(fontFolder(family), `${family}-${part}-normal.woff`);
const next = 'atkinson-hyperlegible-next';
const mono = 'atkinson-hyperlegible-mono';

const fontFiles: Readonly<Record<string, string>> = {
  words: fontFile(next, 'latin-400'),
  bold: fontFile(next, 'latin-700'),
  code: fontFile(mono, 'latin-400'),
  boldCode: fontFile(mono, 'latin-700'),
  'words-ext': fontFile(next, 'latin-ext-400'),
  'bold-ext': fontFile(next, 'latin-ext-700'),
  'code-ext': fontFile(mono, 'latin-ext-400'),
  'boldCode-ext': fontFile(mono, 'latin-ext-700'),
};
const fileOf: Readonly<Record<Face, string>> = {
  words: 'words',
  figures: 'words',
  bold: 'bold',
  boldFigures: 'bold',
  code: 'code',
  boldCode: 'boldCode',
};

/** Signs that neither font file draws, said another way. */
const spelled: Readonly<Record<string, string>> = { '≥': '>=', '≤': '<=', '→': '->', '☐': '[ ]', '✓': 'v', '\t': ' ' };

type GlyphFinder = (font: string, codePoint: number) => boolean;

function glyphFinder(doc: PDFKit.PDFDocument): GlyphFinder {
  const known = new Map<string, { hasGlyphForCodePoint(point: number): boolean }>();
  return (font, codePoint) => {
    let file = known.get(font);
    if (!file) {
      doc.font(font);
      file = (doc as unknown as { _font: { font: { hasGlyphForCodePoint(point: number): boolean } } })._font.font;
      known.set(font, file);
    }
    return file.hasGlyphForCodePoint(codePoint);
  };
}

function splitByFont(text: string, face: Face, hasGlyph: GlyphFinder): { text: string; font: string }[] {
  const main = fileOf[face];
  const clean = text.normalize('NFC');
  // Nearly all text is plain ASCII, which the main file always draws.
  if (/^[ -~]*$/.test(clean)) return clean === '' ? [] : [{ text: clean, font: main }];
  const runs: { text: string; font: string }[] = [];
  for (const character of clean) {
    const point = character.codePointAt(0) ?? 0;
    const inMain = hasGlyph(main, point);
    const inExtension = !inMain && hasGlyph(`${main}-ext`, point);
    const font = inExtension ? `${main}-ext` : main;
    const drawn = inMain || inExtension ? character : (spelled[character] ?? '?');
    const last = runs.at(-1);
    if (last?.font === font) last.text += drawn;
    else runs.push({ text: drawn, font });
  }
  return runs;
}

function wrapLine(line: string, width: (part: string) => number, lineWidth: number): string[] {
  const lines: string[] = [];
  let current = '';
  for (const word of line.split(/ +/).filter((part) => part !== '')) {
    const longer = current === '' ? word : `${current} ${word}`;
    if (width(longer) <= lineWidth) {
      current = longer;
      continue;
    }
    if (current !== '') lines.push(current);
    const pieces = breakWord(word, width, lineWidth);
    lines.push(...pieces.slice(0, -1));
    current = pieces.at(-1) ?? '';
  }
  lines.push(current);
  return lines;
}

function breakWord(word: string, width: (part: string) => number, lineWidth: number): string[] {
  const pieces: string[] = [];
  let piece = '';
  for (const character of word) {
    if (piece !== '' && width(piece + character) > lineWidth) {
      pieces.push(piece);
      piece = character;
    } else piece += character;
  }
  return [...pieces, piece];
}
