import { symbolChoices, symbolModules, symbolSvgPath } from './symbol.js';

/** An address as a symbol for a page (parts/address-symbol): dark runs, and modules per side. */
export interface AddressSymbol {
  readonly address: string;
  readonly path: string;
  readonly modules: number;
}

/** Undefined where the address is longer than a symbol can hold. */
export function addressSymbol(address: string): AddressSymbol | undefined {
  const choice = symbolChoices(address, 300)[0];
  if (!choice) return undefined;
  return { address, path: symbolSvgPath(symbolModules(address, choice), choice.modules), modules: choice.modules };
}
