import type { FastifyReply, FastifyRequest } from 'fastify';

const cookieName = 'boilbook-undo';

/** The most entries of one save, since a cookie holds little more. */
const maxEntries = 100;

/** The entries that the next page offers to undo, `812` or `812.813`: those that were just saved. */
export function offerUndo(reply: FastifyReply, entries: readonly number[]): void {
  if (entries.length === 0 || entries.length > maxEntries) return;
  void reply.setCookie(cookieName, entries.join('.'), { path: '/', httpOnly: true, sameSite: 'lax', maxAge: 120 });
}

/** The entries that may be undone, from the cookie of the last save; undefined where it has none. */
export function undoableEntries(request: FastifyRequest): string | undefined {
  const value = request.cookies?.[cookieName] ?? '';
  return parseEntries(value).length > 0 ? value : undefined;
}

/** The entries of an address or a cookie; none where it names no entry. */
export const parseEntries = (value: string): number[] =>
  value.length <= maxEntries * 10 && /^[1-9]\d{0,8}(?:\.[1-9]\d{0,8})*$/.test(value)
    ? [...new Set(value.split('.').map(Number))].slice(0, maxEntries)
    : [];

/** Withdraws the offer to undo. */
export function clearUndo(request: FastifyRequest, reply: FastifyReply): void {
  if (request.cookies?.[cookieName] !== undefined) void reply.clearCookie(cookieName, { path: '/' });
}
