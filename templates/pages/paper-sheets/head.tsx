import type { PageProps } from '../page-context.js';
import { AddressSymbol, type AddressSymbolProps } from '../parts/address-symbol.js';

export interface SheetHeadProps {
  readonly title: string;
  readonly symbol: AddressSymbolProps['symbol'] | undefined;
}

/** The head of a sheet to print, with the symbol of the page that it is copied into. */
export const SheetHead = ({ title, symbol, page }: SheetHeadProps & PageProps) => (
  <div class="sheet-head">
    <div>
      <h1>{title}</h1>
      <p>
        <b>{page.house.name}</b> &ensp; Date ______________ &ensp; By ________ &ensp; Lot ______________
      </p>
    </div>
    {symbol && <AddressSymbol symbol={symbol} />}
  </div>
);
