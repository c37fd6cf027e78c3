import type { FastifyRequest } from 'fastify';
import { hashOfToken } from '#libs/actions/accounts/tokens.js';
import type { Book } from '#libs/store/book.js';
import { findHouse, home } from '#libs/store/household/houses.js';
import { findSessionInMemory } from '#libs/actions/accounts/memory-sessions.js';
import { findKey, findSession, saveLastSeen } from '#libs/store/household/household-tokens.js';
import type { Role } from '#libs/store/household/household.js';
import { chosenHouse } from './house-choice.js';
import { sessionToken } from './session-cookie.js';
import type { Server } from './server.js';
import type { Principal } from './principal.js';

export { home } from '#libs/store/household/houses.js';

/** The principal of this request: from its key if it has one, else from the session cookie, else nobody. */
export async function identify(server: Server, request: FastifyRequest): Promise<Principal> {
  const bearer = /^Bearer ([\w.~+/-]{20,200}=*)$/i.exec(request.headers.authorization ?? '')?.[1];
  const isRead = request.method === 'GET' || request.method === 'HEAD';
  const principal =
    request.headers.authorization !== undefined
      ? await principalByKey(server, bearer, isRead)
      : await principalByCookie(server, request, isRead);
  const houseKey = principal.kind === 'nobody' ? undefined : chosenHouse(request, principal.kind);
  return houseKey === undefined ? principal : atAnotherHouse(principal, houseKey);
}

/**
 * The principal as a reader of another sugarhouse's book: a guest there, who writes nothing. Where the
 * house is unknown or may not be read, a person stays in their own book and a key gets no role, so that a script can't
 * write into the wrong book.
 */
async function atAnotherHouse(principal: Principal, houseKey: string): Promise<Principal> {
  const house = await findHouse(principal.book.read, houseKey);
  if (house?.key === principal.own.sugarhouse) return principal;
  if (!house || !principal.readsAll) return principal.kind === 'key' ? { ...principal, role: undefined } : principal;
  return {
    ...principal,
    role: 'guest',
    writeContext: { ...principal.writeContext, sugarhouse: house.key },
    requestCache: {},
  };
}

async function principalByKey(server: Server, token: string | undefined, isRead: boolean): Promise<Principal> {
  const key = token === undefined ? undefined : await findKey(server.book.read, hashOfToken(token));
  if (!key) return nobody(server);
  const { name, namedAsPerson, role, sugarhouse, bookState } = key;
  // It must neither sign nor undo as the person.
  const initials = namedAsPerson ? `key ${name}` : name;
  return {
    ...createPrincipal(server, server.book, { kind: 'key', initials, role, sugarhouse }),
    bookState: isRead ? bookState : undefined,
  };
}

async function principalByCookie(server: Server, request: FastifyRequest, isRead: boolean): Promise<Principal> {
  const cookie = sessionToken(request);
  const book = cookie?.practice ? server.currentPractice() : server.book;
  if (!cookie || !book) return nobody(server);
  const now = server.clock();
  const hash = hashOfToken(cookie.token);
  const found = await findSession(book.read, hash, now.toISOString());
  const session = found ?? (await findSessionInMemory(book, hash, now.toISOString()));
  if (!session) return nobody(server);
  const { sugarhouse, initials, role } = session;
  // Written at most every ten minutes, so that reading a page doesn't wait for the disk. Failure is ignored: on a full
  // disk people can still read.
  if (now.getTime() - Date.parse(session.seenAt) > 600_000)
    await book.writeHousehold((sql) => saveLastSeen({ sql, sugarhouse }, hash, now.toISOString())).catch(() => {});
  const kind = role === 'guest' ? 'guest' : 'person';
  const bookState = isRead ? found?.bookState : undefined;
  return { ...createPrincipal(server, book, { kind, initials, role, sugarhouse }), session: hash, bookState };
}

/** A principal who isn't signed in, at the first sugarhouse of the book. */
export const nobody = (server: Server): Principal =>
  createPrincipal(server, server.book, { kind: 'nobody', initials: '', role: undefined, sugarhouse: home });

interface PrincipalIdentity {
  readonly kind: Principal['kind'];
  readonly initials: string;
  readonly role: Role | undefined;
  readonly sugarhouse: string;
}

function createPrincipal(
  server: Server,
  book: Book,
  { kind, initials, role, sugarhouse }: PrincipalIdentity,
): Principal {
  const context = { sugarhouse, by: initials, author: initials, now: server.clock(), zone: server.settings.zone };
  return {
    kind,
    initials,
    role,
    own: { sugarhouse, role },
    // A book's owner and its packers are responsible for the lots that members' syrup goes into.
    readsAll: sugarhouse === home && (role === 'owner' || role === 'packer'),
    book,
    practice: book !== server.book,
    writeContext: context,
    server,
    requestCache: {},
  };
}
