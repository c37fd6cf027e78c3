import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Principal } from './principal.js';

const name = 'boilbook-house';
const header = 'boilbook-house';

/** The sugarhouse whose book this request reads: a person chooses it on a page, a script names it in a header. */
export function chosenHouse(request: FastifyRequest, kind: Principal['kind']): string | undefined {
  const value = kind === 'key' ? request.headers[header] : request.cookies[name];
  return typeof value === 'string' && value !== '' ? value.slice(0, 100) : undefined;
}

/** Kept until the browser is closed; it gives no access beyond that of the session. */
export function setChosenHouse(request: FastifyRequest, reply: FastifyReply, key: string): void {
  void reply.setCookie(name, key, {
    path: '/',
    httpOnly: true,
    sameSite: 'lax',
    secure: request.protocol === 'https',
  });
}

/** Clears the choice of another house, so that the person's own is read again. */
export const clearChosenHouse = (reply: FastifyReply): void => void reply.clearCookie(name, { path: '/' });
