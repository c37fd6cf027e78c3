import { type Column, letterEm, type PlacedText, type TextToPlace } from '../layout/fit-text.js';
import type { DesignName } from './label.js';
import type { Box, FramedDesign } from './framed-designs.js';
import { netMarginMm, type NetBand } from '../layout/net-band.js';
import type { Stock } from '../stocks/stocks.js';
import { quietModules, type SymbolChoice } from '../symbol/symbol.js';
import { capHeightEm, tallEm, widthEm } from '../drawing/type-faces.js';

/** One way to divide a label: where the symbol goes and which column is left for the text. */
export interface Plan {
  readonly symbol: { readonly xMm: number; readonly yMm: number };
  readonly column: Column & { readonly xMm: number; readonly yMm: number };
  readonly bar?:
    { readonly heightMm: number; readonly xMm: number; readonly yMm: number; readonly column: Column } | undefined;
  readonly makerLast?: boolean;
  readonly logo?: Box | undefined;
  /** Places the jar's code under the symbol; undefined when the code goes into the column. */
  readonly codeBelowSymbol?: ((style: CodeStyle) => PlacedText | undefined) | undefined;
}

type CodeStyle = Pick<TextToPlace, 'emMm' | 'minLetterMm' | 'face'>;

/**
 * `ledger`: text on the left, the symbol at the top right. `lamp`: the maker's name reversed out of a dark bar.
 * `market`: the symbol on the left, the product first and large, the maker under it. Plans are ordered best first.
 */
export const designs: Readonly<
  Record<Exclude<DesignName, FramedDesign>, (stock: Stock, choice: SymbolChoice, net: NetBand) => Plan[]>
> = {
  ledger: (stock, choice, net) => besideSymbol(stock, choice, net, { side: 'right', topMm: 0 }),
  lamp: (stock, choice, net) => {
    const heightMm = Math.max(6, stock.labelHeightMm * 0.2);
    const xMm = netMarginMm(stock);
    const innerMm = heightMm * 0.62;
    const column: Column = { widthMm: stock.labelWidthMm - 2 * xMm, heightMm: innerMm, align: 'left', maxScale: 3 };
    const bar = { heightMm, xMm, yMm: (heightMm - innerMm) / 2, column };
    return besideSymbol(stock, choice, net, { side: 'right', topMm: heightMm }).map((plan) => ({ ...plan, bar }));
  },
  market: (stock, choice, net) =>
    besideSymbol(stock, choice, net, { side: 'left', topMm: 0 }).map((plan) => ({ ...plan, makerLast: true })),
};

function besideSymbol(
  stock: Stock,
  choice: SymbolChoice,
  net: NetBand,
  where: { side: 'left' | 'right'; topMm: number },
): Plan[] {
  const marginMm = netMarginMm(stock);
  const quietMm = quietModules * choice.moduleMm;
  const darkMm = choice.modules * choice.moduleMm;
  // The quiet zone stays on the label with a small margin; on a large label the dark modules line up with the margin.
  const insetMm = Math.max(edgeMm, marginMm - quietMm);
  const left = where.side === 'left' ? insetMm + quietMm : stock.labelWidthMm - insetMm - quietMm - darkMm;
  const top = where.topMm + insetMm + quietMm;
  // The letters of the net quantity stay out of the quiet zone too: a strict scanner reads the symbol only then.
  const quietTopMm = net.topMm - (tallEm - capHeightEm) * net.emMm - quietMm - halfDotMm(choice);
  const clearOfNet =
    top + darkMm <= Math.min(net.clearTopMm, quietTopMm) ||
    (where.side === 'right' && left >= Math.max(net.clearRightMm, net.rightMm + quietMm));
  if (!clearOfNet || top + darkMm + quietMm > stock.labelHeightMm - edgeMm) return [];
  const symbol = { xMm: left, yMm: top };
  const from = where.side === 'left' ? left + darkMm + quietMm + overhangMm : marginMm;
  const until = where.side === 'left' ? stock.labelWidthMm - marginMm : left - quietMm - overhangMm;
  const topMm = where.topMm + (where.topMm > 0 ? marginMm * 0.6 : marginMm * 0.8);
  const column = {
    xMm: from,
    yMm: topMm,
    widthMm: until - from,
    heightMm: net.clearTopMm - topMm,
    align: 'left' as const,
    maxScale: Math.min(4, stock.labelHeightMm / 22),
  };
  if (column.widthMm <= 5 || column.heightMm <= 5) return [];
  const codeBelow = (style: CodeStyle): PlacedText | undefined =>
    codeUnder(style, stock, choice, net, left, top + darkMm);
  const plan: Plan = { symbol, column };
  return codeBelow({ emMm: 2.4, minLetterMm: 1.6, face: 'code-bold' })
    ? [{ ...plan, codeBelowSymbol: codeBelow }, plan]
    : [plan];
}

const edgeMm = 0.3;
/** A j or a Q extends this far beyond its own width, at label sizes. */
const overhangMm = 0.2;
/** How far round letters extend above the capitals, as a fraction of the em (read from the font files). */
const overshootEm = 0.013;

/** The symbol is drawn on whole dots of the printer, up to this much lower than it was laid out. */
const halfDotMm = (choice: SymbolChoice): number => choice.moduleMm / choice.dotsPerModule / 2;

/** The code under the symbol's quiet zone, as wide as the symbol at most, clear of the net quantity. */
function codeUnder(
  style: CodeStyle,
  stock: Stock,
  choice: SymbolChoice,
  net: NetBand,
  leftMm: number,
  darkBottomMm: number,
): PlacedText | undefined {
  const text = '0000-0000';
  const darkMm = choice.modules * choice.moduleMm;
  const minMm = style.minLetterMm / letterEm(text, style.face);
  const emMm = Math.max(minMm, Math.min(darkMm / widthEm(text, style.face), stock.labelHeightMm * 0.075));
  const widthMm = widthEm(text, style.face) * emMm;
  const topMm = darkBottomMm + quietModules * choice.moduleMm + halfDotMm(choice) + overshootEm * emMm;
  const baselineMm = topMm + capHeightEm * emMm;
  const xMm = leftMm + (darkMm - widthMm) / 2;
  const clearOfNet = baselineMm <= net.clearTopMm || xMm >= net.clearRightMm;
  const onLabel = baselineMm <= stock.labelHeightMm - 1 && xMm >= 1 && xMm + widthMm <= stock.labelWidthMm - 1;
  return clearOfNet && onLabel && widthMm <= darkMm + quietModules * choice.moduleMm
    ? { item: 'Jar code', text, face: style.face, emMm, xMm, baselineMm, widthMm }
    : undefined;
}
