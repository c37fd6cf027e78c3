import { AddressSymbol, type AddressSymbolProps } from './address-symbol.js';

export interface PhonesProps {
  /** How phones connect; undefined where only this machine is served. */
  readonly phones:
    | {
        readonly first: string;
        readonly others: readonly string[];
        readonly symbol: AddressSymbolProps['symbol'] | undefined;
        readonly open: boolean;
      }
    | undefined;
}

/** The addresses at which a phone of the house opens the book. */
export const Phones = ({ phones }: PhonesProps) =>
  phones ? (
    <details class="more phones" id="phones" open={phones.open}>
      <summary>On a phone of the house</summary>
      <div class="phones-in">
        {phones.symbol && <AddressSymbol symbol={phones.symbol} />}
        <div>
          <p>On the same network, point the phone’s camera at this, or type</p>
          <p class="code address">{phones.first}</p>
          {phones.others.length > 0 && (
            <p class="small soft">
              If that does not answer:{' '}
              {phones.others.map((other) => (
                <>
                  <span class="code">{other}</span> &ensp;
                </>
              ))}
            </p>
          )}
        </div>
      </div>
    </details>
  ) : null;
