import type { Writable } from 'node:stream';
import PDFDocument from 'pdfkit';
import { printedJarCode } from '#libs/syrup/jar-codes.js';
import { undrawable } from './cannot-draw.js';
import {
  type Jars,
  type LabelContent,
  type LabelJar,
  type LabelProblem,
  type PrinterDpi,
  printerDpis,
  type DesignName,
} from './label.js';
import { layoutLabel, type LabelLayout } from './layout.js';
import { faceOperators } from './pdf-face.js';
import { number, type Pen, penFor, pointsPerMm } from './pen.js';
import { streamPages, type PageStream } from './stream-pages.js';
import { checkStock, labelCorner, labelsPerPage, type Stock } from './stocks.js';
import { symbolModules, symbolRuns } from './symbol.js';
import { jarText, type SymbolKind } from './symbol-text.js';

export interface LabelRun {
  readonly content: LabelContent;
  readonly jars: Jars;
  readonly stock: Stock;
  readonly symbol: SymbolKind;
  readonly dpi: PrinterDpi;
  readonly design?: DesignName | undefined;
  /** Positions already used up on the first sheet. */
  readonly skip?: number | undefined;
  /** For a printer that is off: right and down in millimetres. */
  readonly nudge?: { readonly rightMm: number; readonly downMm: number } | undefined;
  /** Stands in the file as its date: the same run makes the same bytes. */
  readonly createdAt: Date;
}

export interface LabelsDrawn {
  readonly labels: number;
  readonly pages: number;
  /** Positions used on the last sheet: where the next run may start; 0 when the sheet is full. */
  readonly endedAt: number;
  readonly layout: LabelLayout;
  readonly bytes: number;
}

/**
 * Draws a label for each jar into `out` and ends it, page by page, at the pace at which `out` takes them. What stands
 * in the way is answered as a value before a byte is written.
 */
export async function drawLabels(
  run: LabelRun,
  out: Writable,
): Promise<{ drawn: LabelsDrawn } | { problem: LabelProblem }> {
  const problem = settingProblem(run);
  if (problem) return { problem };
  const jars = jarsOf(run.jars);
  const first = await jars.next();
  if (first.done) return { problem: { kind: 'no-jars' } };
  const { content, stock, dpi, design, symbol } = run;
  const placed = layoutLabel({ content, stock, dpi, design, symbolText: jarText(symbol, content, first.value.code) });
  if ('unfit' in placed) return { problem: { kind: 'does-not-fit', stock: stock.name, unfit: placed.unfit } };
  const document = labelDocument(run);
  const pages = streamPages(document, out);
  const sheets = sheetsFor(run, placed.layout, document, pages);
  await sheets.put(first.value);
  for await (const jar of { [Symbol.asyncIterator]: () => jars }) await sheets.put(jar);
  const ended = await sheets.finish();
  return { drawn: { ...ended, layout: placed.layout } };
}

function settingProblem({ content, stock, dpi, skip = 0, nudge, symbol }: LabelRun): LabelProblem | undefined {
  const { faults } = checkStock(stock);
  if (faults.length > 0) return { kind: 'bad-stock', stock: stock.name, faults };
  if (!printerDpis.includes(dpi)) return bad('Printer', `${printerDpis.join(', ')} dots an inch`, dpi);
  const most = labelsPerPage(stock) - 1;
  if (!Number.isInteger(skip) || skip < 0 || skip > most)
    return bad('Skip', most === 0 ? '0, for there is one label a page' : `a whole number from 0 to ${most}`, skip);
  for (const [side, by] of Object.entries(nudge ?? {}))
    if (!(Math.abs(by) <= mostNudgeMm)) return bad(`Nudge ${side}`, `no more than ${mostNudgeMm} mm either way`, by);
  if (symbol.kind === 'link' && symbol.address === '')
    return bad('Public address', 'an address like https://example.org', '');
  const cannot = undrawable(content);
  return cannot.length > 0 ? { kind: 'cannot-draw', undrawable: cannot } : undefined;
}

export const mostNudgeMm = 10;

const bad = (field: string, expected: string, got: unknown): LabelProblem => ({
  kind: 'bad-setting',
  field,
  expected,
  got: String(got),
});

async function* jarsOf(jars: Jars): AsyncGenerator<LabelJar, undefined> {
  yield* jars;
  return undefined;
}

function labelDocument({ stock, content, createdAt }: LabelRun): PDFKit.PDFDocument {
  return new PDFDocument({
    autoFirstPage: false,
    size: [stock.pageWidthMm * pointsPerMm, stock.pageHeightMm * pointsPerMm],
    margin: 0,
    lang: content.bilingual ? 'en-CA' : 'en-US',
    displayTitle: true,
    info: {
      Title: `Labels of ${content.lot}${content.practice ? ' (PRACTICE)' : ''}`,
      Author: content.maker.name,
      Creator: 'Boilbook',
      Producer: 'Boilbook',
      CreationDate: createdAt,
    },
  });
}

interface Sheets {
  put(jar: LabelJar): Promise<void>;
  finish(): Promise<{ labels: number; pages: number; endedAt: number; bytes: number }>;
}

/** Fills sheet after sheet; a sheet goes to the document when it is full. */
function sheetsFor(run: LabelRun, layout: LabelLayout, document: PDFKit.PDFDocument, pages: PageStream): Sheets {
  const perPage = labelsPerPage(run.stock);
  const pen = penFor(document);
  const face = faceOnce(document, layout, pen);
  const mark = jarMarker(run, layout, pen);
  let position = run.skip ?? 0;
  let labels = 0;
  let pageCount = 0;
  let content = '';
  const turn = async (): Promise<void> => {
    document.addPage();
    Object.assign(document.page.fonts, pen.fonts());
    document.page.xobjects['Face'] = face;
    document.addContent(`1 0 0 -1 0 ${number(document.page.height)} cm\n0 g\n${content}`);
    content = '';
    position = 0;
    pageCount++;
    await pages.turned();
  };
  return {
    async put(jar) {
      content += mark(jar, position);
      labels++;
      if (++position === perPage) await turn();
    },
    async finish() {
      const endedAt = position;
      if (content !== '') await turn();
      return { labels, pages: pageCount, endedAt: endedAt % perPage, bytes: await pages.finish() };
    },
  };
}

/** The face is written once into the file and only called for on each label. */
function faceOnce(document: PDFKit.PDFDocument, layout: LabelLayout, pen: Pen): unknown {
  const operators = faceOperators(layout, pen);
  const face = document.ref({
    Type: 'XObject',
    Subtype: 'Form',
    BBox: [0, 0, layout.widthMm, layout.heightMm],
    Resources: { Font: pen.fonts() },
  });
  face.end(Buffer.from(operators, 'latin1'));
  return face;
}

/** What differs from jar to jar: the symbol and the code in letters. The symbol's corner is laid on a printer dot. */
function jarMarker(run: LabelRun, layout: LabelLayout, pen: Pen): (jar: LabelJar, position: number) => string {
  const { stock, nudge, dpi } = run;
  const { symbol, code } = layout;
  const mm = number(pointsPerMm);
  const modulePt = number((symbol.dotsPerModule * 72) / dpi);
  const onDotPt = (lengthMm: number): number => (Math.round((lengthMm * dpi) / 25.4) * 72) / dpi;
  const glyph = glyphTable(pen, code.face);
  const codeAt = `1 0 0 1 ${number(code.xMm)} ${number(layout.heightMm - code.baselineMm)} Tm`;
  const codeFont = `/${glyph.font} ${number(code.emMm)} Tf`;
  return (jar, position) => {
    const corner = labelCorner(stock, position);
    const leftMm = corner.xMm + (nudge?.rightMm ?? 0);
    const topMm = corner.yMm + (nudge?.downMm ?? 0);
    const bottomPt = (stock.pageHeightMm - topMm - layout.heightMm) * pointsPerMm;
    const symbolX = onDotPt(leftMm + symbol.xMm);
    const symbolY = stock.pageHeightMm * pointsPerMm - onDotPt(topMm + symbol.yMm);
    const runs = symbolRuns(symbolModules(jarText(run.symbol, run.content, jar.code), symbol), symbol.modules);
    return (
      `q ${mm} 0 0 ${mm} ${number(leftMm * pointsPerMm)} ${number(bottomPt)} cm /Face Do\n` +
      `BT ${codeFont} ${codeAt} <${glyph.hex(printedJarCode(jar.code))}> Tj ET Q\n` +
      `q ${modulePt} 0 0 -${modulePt} ${number(symbolX)} ${number(symbolY)} cm\n${runs}f Q\n`
    );
  };
}

function glyphTable(pen: Pen, face: LabelLayout['code']['face']): { font: string; hex(text: string): string } {
  const { font } = pen.glyphs('0', face);
  const table = new Map<string, string>();
  const one = (letter: string): string => {
    const known = table.get(letter) ?? pen.glyphs(letter, face).hex;
    table.set(letter, known);
    return known;
  };
  return { font, hex: (text) => [...text].map(one).join('') };
}
