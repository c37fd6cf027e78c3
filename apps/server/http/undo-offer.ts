import type { FastifyReply, FastifyRequest } from 'fastify';

const name = 'boilbook-undo';

/** The entry that the next page offers to undo: the one that was just saved. */
export function offerUndo(reply: FastifyReply, entry: number): void {
  void reply.setCookie(name, String(entry), { path: '/', httpOnly: true, sameSite: 'lax', maxAge: 120 });
}

export function undoOffered(request: FastifyRequest): number | undefined {
  const value = request.cookies?.[name] ?? '';
  return /^[1-9]\d{0,8}$/.test(value) ? Number(value) : undefined;
}

export function clearUndo(request: FastifyRequest, reply: FastifyReply): void {
  if (request.cookies?.[name] !== undefined) void reply.clearCookie(name, { path: '/' });
}
