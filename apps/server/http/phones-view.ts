import type { FastifyRequest } from 'fastify';
import { addressSymbol } from '#libs/labels/symbol/address-symbol.js';
import { isAtThisMachine } from './own-addresses.js';
import type { Server } from './server.js';

/**
 * What a page says of how phones get in (parts/phones); undefined where only this machine is served. It lies open for
 * whoever sits at the machine itself: on a phone that is in already it would only stand in the way.
 */
export function phonesView({ reach }: Server, request: FastifyRequest) {
  const reached = reach?.();
  if (!reached) return undefined;
  const { first, others, byName } = reached;
  return {
    first,
    others: [...others, ...(byName ? [byName] : [])],
    symbol: addressSymbol(first),
    open: isAtThisMachine(request),
  };
}
