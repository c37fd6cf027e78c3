import type { FastifyRequest } from 'fastify';
import { addressSymbol } from '#libs/labels/symbol/address-symbol.js';
import { isAtThisMachine } from './own-addresses.js';
import type { Server } from './server.js';

/**
 * How phones connect, for a page (parts/phones); undefined where only this machine is served. Unfolded at the machine
 * itself, folded on a phone, which is connected already.
 */
export function phonesView({ phoneAddresses }: Server, request: FastifyRequest) {
  const addresses = phoneAddresses?.();
  if (!addresses) return undefined;
  const { first, others, byName } = addresses;
  return {
    first,
    others: [...others, ...(byName ? [byName] : [])],
    symbol: addressSymbol(first),
    open: isAtThisMachine(request),
  };
}
