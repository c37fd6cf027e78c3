/** The QR code of an address: its modules per side, and the dark ones as one path. */
export interface AddressSymbolProps {
  readonly symbol: { readonly address: string; readonly path: string; readonly modules: number };
}

/** The QR code of an address, for a phone’s camera. */
export const AddressSymbol = ({ symbol }: AddressSymbolProps) => (
  <figure class="address-symbol">
    <svg
      viewBox={`-4 -4 ${symbol.modules + 8} ${symbol.modules + 8}`}
      role="img"
      aria-label={`QR code for ${symbol.address}`}
    >
      <rect x={-4} y={-4} width={symbol.modules + 8} height={symbol.modules + 8} fill="#fff" />
      <path d={symbol.path} fill="#000" />
    </svg>
  </figure>
);
