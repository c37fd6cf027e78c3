/**
 * All that Boilbook uses of pdfkit beyond its published types (read in the source of 0.20.2). Each function checks the parts
 * that it returns, so that an update of pdfkit which moves one throws `PdfkitInternalsMoved` with its name, and not a
 * fault from the middle of a drawing. Other files need no cast on a document.
 */

/** A part of pdfkit that this module reads isn't where it was. `part` is its path on the document. */
export class PdfkitInternalsMoved extends Error {
  constructor(readonly part: string) {
    super(`pdfkit no longer has document.${part}: compare libs/pdf/pdfkit-internals.ts with the installed version`);
    this.name = 'PdfkitInternalsMoved';
  }
}

/** A font file as fontkit, pdfkit's font library, reads it. It belongs to no document, so many may share it. */
export interface FontFile {
  readonly postscriptName: string;
  readonly unitsPerEm: number;
  /** Code points that it has a glyph for, in ascending order. */
  readonly characterSet: readonly number[];
  glyphForCodePoint(point: number): unknown;
  hasGlyphForCodePoint(point: number): boolean;
  layout(text: string, features?: readonly string[]): GlyphRun;
}

/** A laid-out text: its outlines, and each glyph's advance and offset in font units. */
export interface GlyphRun {
  readonly glyphs: readonly { readonly path: { readonly commands: readonly PathCommand[] } }[];
  readonly positions: readonly { readonly xAdvance: number; readonly xOffset: number; readonly yOffset: number }[];
}

/** A step of an outline, such as `lineTo`, with its coordinates in font units. */
export interface PathCommand {
  readonly command: string;
  readonly args: readonly number[];
}

/** A font as one document embeds it. */
export interface EmbeddedFont {
  /** The font's name in the resources of a page, such as F1. */
  readonly id: string;
  readonly font: FontFile;
  /** The width in points of a text of `sizePt`. */
  widthOfString(text: string, sizePt: number): number;
  /** Glyphs as hexadecimal numbers, and how far each advances, in thousandths of the em. */
  encode(text: string): [string[], { readonly xAdvance: number; readonly advanceWidth: number }[]];
  /** The object to put into a page's font resources. */
  ref(): unknown;
  /** Absent where the document was opened with `fontLayoutCache: false`. */
  layoutCache?: object;
}

/** The references to the tagged content of each page, by the page's key. */
export interface ParentTree {
  get(key: number): unknown;
  add(key: number, value: unknown): void;
}

/**
 * The font that `document.font()` chose last. Needed to write text operators directly (pdfkit's `text()` lays each line
 * out anew) and to ask which characters a font file has.
 */
export function selectedFont(document: PDFKit.PDFDocument): EmbeddedFont {
  const { _font: font } = internalsOf(document);
  check(typeof font?.id === 'string', '_font.id');
  check(typeof font.encode === 'function', '_font.encode()');
  check(typeof font.ref === 'function', '_font.ref()');
  check(typeof font.widthOfString === 'function', '_font.widthOfString()');
  check(typeof font.font?.hasGlyphForCodePoint === 'function', '_font.font.hasGlyphForCodePoint()');
  check(typeof font.font.layout === 'function', '_font.font.layout()');
  return font as EmbeddedFont;
}

/**
 * Names a font file that is already read. pdfkit accepts one (anything with `layout()`), its types a path or bytes only; from
 * bytes each document would read the file again, which takes longer than drawing a page.
 */
export function registerFontFile(document: PDFKit.PDFDocument, name: string, font: FontFile): void {
  internalsOf(document).registerFont(name, font);
}

/** Drops the glyphs that pdfkit keeps of each word it has set, without a bound, until the document ends. */
export function clearLayoutCaches(document: PDFKit.PDFDocument): void {
  const { _fontFamilies: fonts } = internalsOf(document);
  check(typeof fonts === 'object', '_fontFamilies');
  // pdfkit looks texts up as properties, so that an inherited name such as `constructor` must not be found.
  for (const font of Object.values(fonts)) if (font.layoutCache) font.layoutCache = Object.create(null) as object;
}

/** The dictionary of the current page: `Contents` and the like. pdfkit's types allow only the keys that pdfkit writes. */
export function pageDictionary(document: PDFKit.PDFDocument): Record<string, unknown> {
  const data = internalsOf(document).page?.dictionary?.data;
  check(typeof data === 'object', 'page.dictionary.data');
  return data;
}

/** The structure tree's references to the content of each page; undefined where nothing has been tagged. */
export function parentTree(document: PDFKit.PDFDocument): ParentTree | undefined {
  const root = catalog(document)['StructTreeRoot'];
  if (root === undefined) return undefined;
  const tree = (root as Partial<Dictionary<{ ParentTree?: Partial<ParentTree> }>>).data?.ParentTree;
  check(typeof tree?.get === 'function' && typeof tree.add === 'function', '_root.data.StructTreeRoot.data.ParentTree');
  return tree as ParentTree;
}

/** How a reader should show or print the document. pdfkit writes only the preferences that it has options for. */
export function viewerPreferences(document: PDFKit.PDFDocument): Record<string, unknown> {
  const preferences = (catalog(document)['ViewerPreferences'] ??= document.ref({})) as Partial<Dictionary>;
  check(typeof preferences.data === 'object', '_root.data.ViewerPreferences.data');
  return preferences.data;
}

/** The document's catalogue, the root of a PDF. */
function catalog(document: PDFKit.PDFDocument): Record<string, unknown> {
  const data = internalsOf(document)._root?.data;
  check(typeof data === 'object', '_root.data');
  return data;
}

interface Dictionary<T = Record<string, unknown>> {
  readonly data: T;
}

/** All optional: whether they exist is what the functions above check. */
interface Internals {
  readonly _font?: Partial<Omit<EmbeddedFont, 'font'>> & { readonly font?: Partial<FontFile> };
  readonly _fontFamilies?: Readonly<Record<string, { layoutCache?: object }>>;
  readonly _root?: Partial<Dictionary>;
  readonly page?: { readonly dictionary?: Partial<Dictionary> } | null;
  registerFont(name: string, font: FontFile): void;
}

const internalsOf = (document: PDFKit.PDFDocument): Internals => document as unknown as Internals;

function check(present: boolean, part: string): asserts present {
  if (!present) throw new PdfkitInternalsMoved(part);
}
