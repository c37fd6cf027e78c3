import type { PageProps } from '../page-context.js';
import { AddressSymbol, type AddressSymbolProps } from '../parts/address-symbol.js';

export interface SheetHeadProps {
  readonly title: string;
  readonly symbol: AddressSymbolProps['symbol'] | undefined;
}

/** The head of a printed sheet, with the QR code of the page where it is entered later. */
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
