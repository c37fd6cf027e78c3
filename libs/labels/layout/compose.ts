import { type FramedDesign, type Box, compositions, type Composition, type Zone } from '../content/framed-designs.js';
import { displayFace, type LabelLook } from '../content/label-look.js';
import { codeStyle, labelText } from '../content/label-text.js';
import type { MinNetHeight } from '../content/net-quantity.js';
import { practiceText } from '../content/practice-mark.js';
import type { LabelContent } from '../content/label.js';
import { aboveCapitalsEm, capHeightEm, letterHeights, widthEm } from '../drawing/type-faces.js';
import type { Stock } from '../stocks/stocks.js';
import type { SymbolChoice } from '../symbol/symbol.js';
import { type Column, fitText, letterEm, type PlacedLine, type PlacedText, type TextToPlace } from './fit-text.js';
import type { NetBand } from './net-band.js';

export interface Composed {
  readonly composition: Composition;
  readonly texts: readonly PlacedText[];
  readonly code: PlacedText;
  readonly logo: Box | undefined;
}

interface ComposeJob {
  readonly content: LabelContent;
  readonly stock: Stock;
  readonly look: LabelLook;
  readonly practiceAsLine?: boolean;
}

/** Lays out a framed label around one choice of symbol, or returns what has no room. */
export function compose(
  job: ComposeJob,
  design: FramedDesign,
  { choice, net, least }: { choice: SymbolChoice; net: NetBand; least: MinNetHeight },
): Composed | { unfit: readonly string[] } {
  const toPlace = zoneTexts(job, least);
  const { logo } = job.look;
  let unfit: readonly string[] = ['Symbol'];
  for (const composition of compositions(design, { stock: job.stock, choice, net, logo: logo !== undefined })) {
    const code = placeCode(composition, job.content.country === 'CA');
    const filled = code && fillZones(composition, toPlace);
    if (!code) unfit = ['Jar code'];
    else if (filled && 'tooMuch' in filled) unfit = filled.tooMuch;
    else if (filled)
      return {
        composition,
        code,
        texts: filled.texts,
        logo: logo && composition.logo && fitted(logo, composition.logo),
      };
  }
  return { unfit };
}

/**
 * The em at which small letters are 1/16 in high, as the address must be; the telephone beside it has the same size.
 */
const requiredTextMm = 3.2;

type TextsOfZones = Readonly<Record<Zone['holds'], readonly TextToPlace[]>>;

/**
 * Of the product, alone and in two languages: those have one size, since in Quebec no language may be more prominent than
 * French (Charter of the French language, s. 51; from memory, not verified).
 */
const productEmMm = { alone: 7, bilingual: 6 } as const;

/** The name and the product large and in the look's typeface; texts with a legal height as everywhere else. */
function zoneTexts({ content, look, practiceAsLine }: ComposeJob, least: MinNetHeight): TextsOfZones {
  const { maker, text, lot } = labelText(content, least.millimetres);
  const canada = content.country === 'CA';
  const isGrade = ({ item }: TextToPlace): boolean => item.startsWith('Grade');
  const isProduct = ({ item }: TextToPlace): boolean => item.startsWith('Product');
  const name = maker.slice(0, 1).map((wanted) => ({ ...wanted, face: displayFace('semi', look), emMm: 4 }));
  const products = text.filter(isProduct).map(({ sharesLine: _sharesLine, ...wanted }, index, { length }) => ({
    ...wanted,
    face: displayFace('heavy', look),
    emMm: length === 1 ? productEmMm.alone : productEmMm.bilingual,
    gapBeforeMm: index === 0 ? 0.8 : 0.2,
  }));
  const grades = text.filter(isGrade).map((wanted, index) => ({ ...wanted, gapBeforeMm: index === 0 ? 0.9 : 0 }));
  const care = text.filter((wanted) => !isGrade(wanted) && !isProduct(wanted));
  const address = maker.slice(1);
  const inSmallSize = (wanted: TextToPlace): TextToPlace => ({
    ...wanted,
    emMm: /^(Address|Phone)$/.test(wanted.item) ? requiredTextMm : 2.6,
  });
  const foot: TextToPlace[] = [
    ...address,
    ...care,
    ...lot.map((wanted) => (wanted.item === 'Packed date' ? { ...wanted, gapBeforeMm: 0.8 } : wanted)),
    ...(practiceAsLine ? [practiceText(codeStyle(canada).minLetterMm)] : []),
  ].map(inSmallSize);
  const head = [...name, ...products, ...grades];
  const all = [...head, ...foot.map((wanted, index) => (index === 0 ? { ...wanted, gapBeforeMm: 1.2 } : wanted))];
  return {
    name: name.map((wanted) => ({ ...wanted, emMm: 5 })),
    product: [...products, ...grades],
    care,
    head,
    foot,
    all,
  };
}

function fillZones({ zones }: Composition, toPlace: TextsOfZones): { texts: PlacedText[] } | { tooMuch: string[] } {
  const texts: PlacedText[] = [];
  for (const { holds, column, verticalAlign, paper } of zones) {
    const isAtFrame = holds !== 'foot' && holds !== 'care';
    const filled = fillColumn(toPlace[holds], column, verticalAlign, isAtFrame);
    if ('tooMuch' in filled) return filled;
    for (const line of filled.lines)
      texts.push({
        ...line,
        xMm: line.xMm + column.xMm,
        baselineMm: line.baselineMm + column.yMm,
        ...(paper ? { paper: true } : tintedItems.has(line.item) ? { tinted: true } : {}),
      });
  }
  return { texts };
}

/**
 * Texts set into a column, with the room to spare above or below them. Letters such as l, and accents, are higher than
 * the capitals by which lines are placed: where they would come nearer to the frame than the column begins, all texts
 * are set again lower. If they don't fit there, they stay where they were.
 */
function fillColumn(
  texts: readonly TextToPlace[],
  column: Column,
  align: Zone['verticalAlign'],
  isAtFrame: boolean,
): { lines: PlacedLine[] } | { tooMuch: string[] } {
  const set = fitText(texts, column);
  if ('tooMuch' in set) return set;
  const downMm = spareAboveMm(set.lines, column, align);
  const [first] = set.lines;
  const aboveMm = first && isAtFrame ? aboveCapitalsEm(first.text, first.face) * first.emMm : 0;
  if (aboveMm <= downMm || column.widthBetween) return { lines: lowered(set.lines, downMm) };
  const lower = fitText(texts, { ...column, heightMm: column.heightMm - aboveMm });
  return { lines: 'lines' in lower ? lowered(lower.lines, aboveMm) : lowered(set.lines, downMm) };
}

const lowered = (lines: readonly PlacedLine[], byMm: number): PlacedLine[] =>
  lines.map((line) => ({ ...line, baselineMm: line.baselineMm + byMm }));

/** The part of a column's spare height that goes above its lines. On a round label each stays at the height it was set for. */
function spareAboveMm(lines: readonly PlacedLine[], column: Column, align: Zone['verticalAlign']): number {
  const last = lines.at(-1);
  if (!last || column.widthBetween || align === 'top') return 0;
  const spareMm = Math.max(0, column.heightMm - last.baselineMm - letterHeights(last.face).descent * last.emMm);
  return align === 'middle' ? spareMm / 2 : spareMm;
}

const tintedItems = new Set(['Maker', 'Product', 'Product in French']);

/** The code centred under the symbol's quiet zone, at its least height or as wide as the symbol. */
function placeCode({ code }: Composition, canada: boolean): PlacedText | undefined {
  const { face, minLetterMm } = codeStyle(canada);
  const text = '0000-0000';
  const minMm = minLetterMm / letterEm(text, face);
  const wide = widthEm(text, face);
  const emMm = Math.max(minMm, Math.min(2.6, (code.widthMm * 0.8) / wide));
  const widthMm = wide * emMm;
  if (widthMm > code.widthMm) return undefined;
  return {
    item: 'Jar code',
    text,
    face,
    emMm,
    xMm: code.middleMm - widthMm / 2,
    baselineMm: code.topMm + capHeightEm * emMm,
    widthMm,
  };
}

/** As large as the box allows, in the drawing's own proportions, centred in it. */
export function fitted(logo: { widthPx: number; heightPx: number }, box: Box): Box {
  const scale = Math.min(box.widthMm / logo.widthPx, box.heightMm / logo.heightPx);
  const [widthMm, heightMm] = [logo.widthPx * scale, logo.heightPx * scale];
  return {
    xMm: box.xMm + (box.widthMm - widthMm) / 2,
    yMm: box.yMm + (box.heightMm - heightMm) / 2,
    widthMm,
    heightMm,
  };
}
