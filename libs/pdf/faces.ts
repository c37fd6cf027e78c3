import { loadFonts, rarerFontOf, type Face } from './fonts.js';
import { clearLayoutCaches, registerFontFile } from './pdfkit-internals.js';

export type { Face };

/** A run of text that one font file can draw, with its width at a size of one point. */
export interface Run {
  readonly text: string;
  readonly font: string;
  readonly unitPt: number;
}

export interface Faces {
  /** Splits a text into measured runs. */
  readonly runs: (text: string, face: Face) => readonly Run[];
  readonly widthPt: (text: string, face: Face, sizePt: number) => number;
  /** Lines no wider than `widthPt`; a single word that is wider is broken. */
  readonly wrap: (text: string, face: Face, sizePt: number, widthPt: number) => readonly string[];
}

/** Ascent of Atkinson Hyperlegible (in which 0 and O, 1, I and l can't be confused), as a fraction of the em. */
export const ascent = 0.984;

/**
 * Registers the fonts with a document and returns functions that measure with them. Throws where a font file is
 * missing.
 */
export function openFaces(doc: PDFKit.PDFDocument): Faces {
  for (const [name, font] of Object.entries(loadFonts())) registerFontFile(doc, name, font);
  // Texts repeat, so each is split and measured once; the cache is bounded for documents that don't repeat.
  const cache = new Map<string, readonly Run[]>();
  const runs = (text: string, face: Face): readonly Run[] => {
    const key = `${face}|${text}`;
    const found = cache.get(key);
    if (found) return found;
    const split = splitByFont(text, face).map((run) => ({
      ...run,
      unitPt: doc.font(run.font).fontSize(100).widthOfString(run.text) / 100,
    }));
    if (cache.size > maxCached) {
      cache.clear();
      clearLayoutCaches(doc);
    }
    cache.set(key, split);
    return split;
  };
  const unitPt = (text: string, face: Face): number => runs(text, face).reduce((sum, run) => sum + run.unitPt, 0);
  return {
    runs,
    widthPt: (text, face, sizePt) => unitPt(text, face) * sizePt,
    wrap: (text, face, sizePt, widthPt) =>
      text.split('\n').flatMap((line) => wrapLine(line, (part) => unitPt(part, face), widthPt / sizePt)),
  };
}

/** Some ten pages of lots: what repeats is on each of them, and the rest would be kept to the document's end. */
const maxCached = 1000;

/** Replacements for characters that neither font file has. */
const replacements: Readonly<Record<string, string>> = {
  '≥': '>=',
  '≤': '<=',
  '→': '->',
  '☐': '[ ]',
  '✓': 'v',
  '\t': ' ',
};

function splitByFont(text: string, face: Face): { text: string; font: string }[] {
  // Nearly all text is plain ASCII, which the main file always has.
  if (/^[ -~]*$/.test(text)) return text === '' ? [] : [{ text, font: face }];
  const fonts = loadFonts();
  const rarer = rarerFontOf[face];
  const runs: { text: string; font: string }[] = [];
  for (const character of text.normalize('NFC')) {
    const point = character.codePointAt(0) ?? 0;
    const inMain = fonts[face]?.hasGlyphForCodePoint(point) ?? false;
    const inRarer = !inMain && (fonts[rarer]?.hasGlyphForCodePoint(point) ?? false);
    const font = inRarer ? rarer : face;
    const drawn = inMain || inRarer ? character : (replacements[character] ?? '?');
    const last = runs.at(-1);
    if (last?.font === font) last.text += drawn;
    else runs.push({ text: drawn, font });
  }
  return runs;
}

function wrapLine(line: string, width: (part: string) => number, lineWidth: number): string[] {
  if (line.length < 200 && width(line) <= lineWidth) return [line];
  const lines: string[] = [];
  const space = width(' ');
  let current: string[] = [];
  let used = 0;
  const endLine = (): void => {
    if (current.length > 0) lines.push(current.join(' '));
    current = [];
    used = 0;
  };
  for (const word of line.split(/ +/).filter((part) => part !== '')) {
    const needed = width(word);
    if (current.length > 0 && used + space + needed > lineWidth) endLine();
    if (needed <= lineWidth) {
      used += needed + (current.length > 0 ? space : 0);
      current.push(word);
      continue;
    }
    const pieces = breakWord(word, width, lineWidth);
    lines.push(...pieces.slice(0, -1));
    const last = pieces.at(-1) ?? '';
    current = [last];
    used = width(last);
  }
  endLine();
  return lines.length === 0 ? [''] : lines;
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
