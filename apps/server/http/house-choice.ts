import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Principal } from './principal.js';

const name = 'boilbook-house';
const header = 'boilbook-house';

/** Whose book is to be read with this request: a person chooses on a page, a script names it in a header. */
export function houseRead(request: FastifyRequest, kind: Principal['kind']): string | undefined {
  const view = kind === 'key' ? request.headers[header] : request.cookies[name];
  return typeof view === 'string' && view !== '' ? view.slice(0, 100) : undefined;
}

/** Kept by the browser until it is closed; it opens nothing that its session may not. */
export function readHouse(request: FastifyRequest, reply: FastifyReply, key: string): void {
  void reply.setCookie(name, key, {
    path: '/',
    httpOnly: true,
    sameSite: 'lax',
    secure: request.protocol === 'https',
  });
}

/** Forgets the choice of a member's house, so that the person's own is read again. */
export const readOwnHouse = (reply: FastifyReply): void => void reply.clearCookie(name, { path: '/' });
