import type { FastifyReply, FastifyRequest } from 'fastify';

const name = 'boilbook';

/** The session a browser brings. One of the practice book says so, for that book keeps its own sessions. */
export function sessionToken(request: FastifyRequest): { token: string; practice: boolean } | undefined {
  const value = request.cookies[`__Host-${name}`] ?? request.cookies[name];
  const parts = /^(p\.)?([A-Za-z0-9_-]{43})$/.exec(value ?? '');
  return parts?.[2] === undefined ? undefined : { token: parts[2], practice: parts[1] !== undefined };
}

export function setSession(
  request: FastifyRequest,
  reply: FastifyReply,
  token: string,
  practice: boolean,
  until: Date,
) {
  const secure = request.protocol === 'https';
  // Lax and not Strict: who scans a jar with the phone's camera comes from outside, and is still signed in.
  void reply.setCookie(`${secure ? '__Host-' : ''}${name}`, `${practice ? 'p.' : ''}${token}`, {
    path: '/',
    httpOnly: true,
    sameSite: 'lax',
    secure,
    expires: until,
  });
}

export function clearSession(reply: FastifyReply): void {
  void reply.clearCookie(name, { path: '/' }).clearCookie(`__Host-${name}`, { path: '/', secure: true });
}
