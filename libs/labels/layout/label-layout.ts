import type { PlacedText } from './fit-text.js';
import type { DesignName, LabelContent, PrinterDpi, Unfit } from '../content/label.js';
import type { Box } from '../content/framed-designs.js';
import type { LabelLook } from '../content/label-look.js';
import type { Shape } from './frames.js';
import type { NetBand } from './net-band.js';
import type { PracticeMark } from '../content/practice-mark.js';
import type { Stock } from '../stocks/stocks.js';
import type { SymbolChoice } from '../symbol/symbol.js';

/** A label's face: everything placed in millimetres from its top left corner. */
export interface LabelLayout {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly cornerMm: number;
  readonly isOval: boolean;
  readonly texts: readonly PlacedText[];
  readonly net: NetBand;
  readonly symbol: PlacedSymbol;
  /** Where each jar's own code goes; its text is the printed form, `K7QM-3XWT`. */
  readonly code: PlacedText;
  /** A tapering hairline above the lot code, where there is room between the lines. */
  readonly rule: { readonly xMm: number; readonly yMm: number; readonly widthMm: number } | undefined;
  /** A bar of ink behind the maker's name, where the design has one. */
  readonly bar: { readonly heightMm: number } | undefined;
  /** Lines around the text, where the design has them. */
  readonly frame: readonly Shape[];
  readonly look: LabelLook;
  /** Where the maker's own drawing goes, where there is one and room for it. */
  readonly logo: Box | undefined;
  readonly practice: PracticeMark | undefined;
  /** What was assumed, in sentences. */
  readonly notes: readonly string[];
}

export interface PlacedSymbol extends SymbolChoice {
  /** Top left corner of the dark modules; the quiet zone is outside it. */
  readonly xMm: number;
  readonly yMm: number;
}

export interface LabelJob {
  readonly content: LabelContent;
  readonly stock: Stock;
  readonly dpi: PrinterDpi;
  readonly design?: DesignName | undefined;
  readonly look?: LabelLook | undefined;
  /** The symbol text of one jar; that of every jar has the same length. */
  readonly symbolText: string;
}

/** Everything placed, or what does not fit and why. */
export type LaidOut = { readonly layout: LabelLayout } | { readonly unfit: Unfit[] };
