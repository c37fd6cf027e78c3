import { gs1Link, jarLink, judgeAddress, textSymbol } from '../content/address.js';
import type { LabelContent } from '../content/label.js';
import { packedText } from '../content/label-text.js';

/** The symbol's content: a link to the jar's page, a GS1 Digital Link of the maker's own number, or plain text. */
export type SymbolKind =
  | { readonly kind: 'link'; readonly address: string }
  | { readonly kind: 'gs1'; readonly address: string; readonly gtin: string }
  | { readonly kind: 'text'; readonly without?: readonly TextPart[] };

/** What a text symbol omits on a small label. */
export type TextPart = 'jar code' | 'maker' | 'phone';

/** The text that a jar's symbol contains: its link, or its GS1 elements. */
export function jarText(symbol: SymbolKind, content: LabelContent, code: string): string {
  switch (symbol.kind) {
    case 'link':
      return jarLink(symbol.address, code);
    case 'gs1':
      return gs1Link(symbol.address, symbol.gtin, content.lot, code);
    case 'text':
      return textSymbol({
        lot: content.lot,
        code: symbol.without?.includes('jar code') ? undefined : code,
        packedText: packedText(content.packedOn),
        maker: symbol.without?.includes('maker') ? '' : content.maker.name,
        phone: symbol.without?.includes('phone') ? undefined : content.maker.phone,
      });
  }
}

/**
 * The kind of symbol for this book, and warnings before printing: links where an address is set, else plain text, so
 * that a label needs no internet.
 */
export function symbolFor(
  publicUrl: string | undefined,
  gtin?: string,
): { symbol: SymbolKind; sentences: readonly string[] } {
  const { address, sentences } = judgeAddress(publicUrl);
  if (!address) return { symbol: { kind: 'text' }, sentences };
  return { symbol: gtin ? { kind: 'gs1', address, gtin } : { kind: 'link', address }, sentences };
}

/**
 * The same symbol, then its shorter forms for where there is no room. The jar's code is the last to go: without it all
 * symbols of a pack are the same. Lot and packed date always stay.
 */
export function shorterSymbols(symbol: SymbolKind): SymbolKind[] {
  if (symbol.kind !== 'text' || symbol.without) return [symbol];
  return [
    symbol,
    { ...symbol, without: ['phone'] },
    { ...symbol, without: ['maker', 'phone'] },
    { ...symbol, without: ['maker', 'phone', 'jar code'] },
  ];
}
