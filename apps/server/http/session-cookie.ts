import type { FastifyReply, FastifyRequest } from 'fastify';

const sessionCookie = 'boilbook';

/** The session of a browser. One of the practice book is marked, since that book has its own sessions. */
export function sessionToken(request: FastifyRequest): { token: string; practice: boolean } | undefined {
  const value = request.cookies[`__Host-${sessionCookie}`] ?? request.cookies[sessionCookie];
  const parts = /^(p\.)?([A-Za-z0-9_-]{43})$/.exec(value ?? '');
  return parts?.[2] === undefined ? undefined : { token: parts[2], practice: parts[1] !== undefined };
}

/**
 * Sets the session cookie: http-only, same site, and with the `__Host-` prefix under https. `until` is when it ends.
 */
export function setSession(
  request: FastifyRequest,
  reply: FastifyReply,
  token: string,
  practice: boolean,
  until: Date,
) {
  const secure = request.protocol === 'https';
  // Lax and not Strict: a person who scans a jar with the phone's camera comes from outside, and is still signed in.
  void reply.setCookie(`${secure ? '__Host-' : ''}${sessionCookie}`, `${practice ? 'p.' : ''}${token}`, {
    path: '/',
    httpOnly: true,
    sameSite: 'lax',
    secure,
    maxAge: secondsUntil(request, until),
  });
}

/** As a duration and not a date: a computer that starts with a date in the past would set expired cookies. */
const secondsUntil = (request: FastifyRequest, until: Date): number =>
  Math.max(1, Math.round((until.getTime() - request.principal.writeContext.now.getTime()) / 1000));

/** Clears the session cookie under both of its names. */
export function clearSession(reply: FastifyReply): void {
  void reply
    .clearCookie(sessionCookie, { path: '/' })
    .clearCookie(`__Host-${sessionCookie}`, { path: '/', secure: true });
}

const knownDeviceCookie = 'boilbook-known';
const openedLinksCookie = 'boilbook-link';

/** The mark of a device that somebody signed in on before; it gives no access. */
export const knownDevice = (request: FastifyRequest): string | undefined => request.cookies[knownDeviceCookie];

/**
 * Remembers for a year that the person signed in on this device: its failed attempts are counted apart from strangers'.
 */
export function setKnownDevice(request: FastifyRequest, reply: FastifyReply, mark: string): void {
  const secure = request.protocol === 'https';
  void reply.setCookie(knownDeviceCookie, mark, {
    path: '/sign-in',
    httpOnly: true,
    sameSite: 'lax',
    secure,
    maxAge: 31_536_000,
  });
}

/** Whether a guest's link was opened on this device before: it works once on each. */
export const linkOpened = (request: FastifyRequest, linkHash: string): boolean =>
  (request.cookies[openedLinksCookie] ?? '').split('.').includes(linkHash.slice(0, 16));

/** Remembers the last ten guest links opened on this device by the start of their hashes. */
export function setLinkOpened(request: FastifyRequest, reply: FastifyReply, linkHash: string, until: Date): void {
  const before = (request.cookies[openedLinksCookie] ?? '').split('.').filter((each) => /^[0-9a-f]{16}$/.test(each));
  const value = [...before.slice(-9), linkHash.slice(0, 16)].join('.');
  const secure = request.protocol === 'https';
  void reply.setCookie(openedLinksCookie, value, {
    path: '/guest',
    httpOnly: true,
    sameSite: 'lax',
    secure,
    maxAge: secondsUntil(request, until),
  });
}
