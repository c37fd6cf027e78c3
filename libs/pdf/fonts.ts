import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { newDocument } from './new-document.js';
import { type FontFile, selectedFont } from './pdfkit-internals.js';
import { packageRoot } from '#libs/package-root.js';
import { unpackWoff } from './woff.js';

/** `figures` is `words` with digits of equal width, for columns of numbers. */
export type Face = 'words' | 'bold' | 'figures' | 'boldFigures' | 'code' | 'boldCode';

/** Characters that the main file lacks, such as ő or Ł, are in another file. */
export const rarerFontOf: Readonly<Record<Face, string>> = {
  words: 'words-ext',
  figures: 'words-ext',
  bold: 'bold-ext',
  boldFigures: 'bold-ext',
  code: 'code-ext',
  boldCode: 'boldCode-ext',
};

let loaded: Readonly<Record<string, FontFile>> | undefined;

/** Reads the font files once for all documents: unpacking them takes longer than drawing a page. */
export function loadFonts(): Readonly<Record<string, FontFile>> {
  if (loaded) return loaded;
  const text = readFont(next, 'latin-400');
  const bold = readFont(next, 'latin-700');
  loaded = {
    words: text,
    bold,
    figures: withTabularFigures(text),
    boldFigures: withTabularFigures(bold),
    code: readFont(mono, 'latin-400'),
    boldCode: readFont(mono, 'latin-700'),
    'words-ext': readFont(next, 'latin-ext-400'),
    'bold-ext': readFont(next, 'latin-ext-700'),
    'code-ext': readFont(mono, 'latin-ext-400'),
    'boldCode-ext': readFont(mono, 'latin-ext-700'),
  };
  return loaded;
}

const next = 'atkinson-hyperlegible-next';
const mono = 'atkinson-hyperlegible-mono';

function readFont(family: string, part: string): FontFile {
  const file = join(packageRoot, 'node_modules/@fontsource', family, 'files', `${family}-${part}-normal.woff`);
  const reader = newDocument({ autoFirstPage: false });
  reader.font(unpackWoff(readFileSync(file)));
  const { font } = selectedFont(reader);
  // The library keeps the characters of a glyph from its first use. Used first as part of another, as E is of É, it would
  // have none, and every later document would lose its E for a search or a screen reader.
  for (const point of font.characterSet) font.glyphForCodePoint(point);
  return font;
}

/** The same font under its own name, so that a document doesn't reuse layouts cached without tabular digits. */
function withTabularFigures(font: FontFile): FontFile {
  return Object.create(font, {
    postscriptName: { value: `${font.postscriptName}-Figures` },
    layout: { value: (text: string) => font.layout(text, ['tnum']) },
  }) as FontFile;
}
