import type { FastifyRequest } from 'fastify';
import { hashOfToken } from '#libs/actions/tokens.js';
import type { Book } from '#libs/records/book.js';
import { findKey, findSession, keepSeen } from '#libs/records/household-tokens.js';
import type { Role } from '#libs/records/household.js';
import { sessionToken } from './session-cookie.js';
import type { Server } from './server.js';
import type { Visitor } from './visitor.js';

/** The one sugarhouse of a book; the store could hold more. */
export const home = 'home';

/** Who comes with this request: a key where one is sent, else the session of the cookie, else nobody. */
export async function identify(server: Server, request: FastifyRequest): Promise<Visitor> {
  const bearer = /^Bearer ([\w.~+/-]{20,200}=*)$/i.exec(request.headers.authorization ?? '')?.[1];
  if (request.headers.authorization !== undefined) return byKey(server, bearer);
  const cookie = sessionToken(request);
  return cookie === undefined ? nobody(server) : bySession(server, cookie);
}

async function byKey(server: Server, token: string | undefined): Promise<Visitor> {
  const key = token === undefined ? undefined : await findKey(server.book.read, home, hashOfToken(token));
  return key ? visitor(server, server.book, 'key', key.name, key.role) : nobody(server);
}

async function bySession(server: Server, cookie: { token: string; practice: boolean }): Promise<Visitor> {
  const book = cookie.practice ? server.practiceOpen() : server.book;
  if (!book) return nobody(server);
  const now = server.clock();
  const hash = hashOfToken(cookie.token);
  const session = await findSession(book.read, home, hash, now.toISOString());
  if (!session) return nobody(server);
  // Written at most every ten minutes: a page that is only read should not wait for the disk.
  if (now.getTime() - Date.parse(session.seenAt) > 600_000)
    await book.writeHousehold((sql) => keepSeen(sql, home, hash, now.toISOString()));
  const kind = session.role === 'guest' ? 'guest' : 'person';
  return { ...visitor(server, book, kind, session.initials, session.role), session: hash };
}

const nobody = (server: Server): Visitor => visitor(server, server.book, 'nobody', '', undefined);

function visitor(server: Server, book: Book, kind: Visitor['kind'], initials: string, role: Role | undefined): Visitor {
  const desk = { sugarhouse: home, by: initials, author: initials, now: server.clock(), zone: server.settings.zone };
  return { kind, initials, role, book, practice: book !== server.book, desk, server };
}
