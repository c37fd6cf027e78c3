import { gs1Link, jarLink, textSymbol } from './address.js';
import type { LabelContent } from './label.js';
import { packedWords } from './label-words.js';

/** What the symbol says: a link to the jar's page, a GS1 Digital Link of the maker's own number, or plain text. */
export type SymbolKind =
  | { readonly kind: 'link'; readonly address: string }
  | { readonly kind: 'gs1'; readonly address: string; readonly gtin: string }
  | { readonly kind: 'text' };

export function jarText(symbol: SymbolKind, content: LabelContent, code: string): string {
  switch (symbol.kind) {
    case 'link':
      return jarLink(symbol.address, code);
    case 'gs1':
      return gs1Link(symbol.address, symbol.gtin, content.lot, code);
    case 'text':
      return textSymbol({
        lot: content.lot,
        packedWords: packedWords(content.packedOn),
        maker: content.maker.name,
        phone: content.maker.phone,
      });
  }
}
