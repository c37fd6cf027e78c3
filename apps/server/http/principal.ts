import { BadRequestException, createParamDecorator, type ExecutionContext } from '@nestjs/common';
import type { FastifyRequest } from 'fastify';
import { loadThermometers } from '#libs/actions/facts/thermometers.js';
import type { Thermometer } from '#libs/syrup/instruments/thermometers.js';
import { type WriteContext, type SugarhouseContext, contextAt, readHouse } from '#libs/actions/record/write-context.js';
import type { Book } from '#libs/store/book.js';
import type { Role } from '#libs/store/household/household.js';
import { type SugarhouseReader, sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { type House, housesOf, severalHouses } from '#libs/store/household/houses.js';
import { cachedPerBook } from './cached-while-unchanged.js';
import { lastEntrySeen } from './if-match.js';
import type { Server } from './server.js';

/** Who sends the request, their book, and the context they write in. */
export interface Principal {
  readonly kind: 'nobody' | 'person' | 'guest' | 'key';
  /** Initials of a person; the name of a key or of a guest's link; empty for nobody. */
  readonly initials: string;
  readonly role: Role | undefined;
  /** Their own sugarhouse and their role there; in another's book they are a guest. */
  readonly own: { readonly sugarhouse: string; readonly role: Role | undefined };
  /** Whether they may read every sugarhouse of the book. */
  readonly readsAll: boolean;
  /** The practice book in practice mode, else the house's own. */
  readonly book: Book;
  readonly practice: boolean;
  /** Created for this request: its time, its idempotency key and the last entry that the writer has seen. */
  readonly writeContext: WriteContext;
  /** The photo posted with a form. */
  readonly photo?: Uint8Array | undefined;
  /** For a session: the hash it is stored under. */
  readonly session?: string | undefined;
  /** For a read-only request by a session or a key: the state of the log when it arrived. */
  readonly bookState?: string | undefined;
  readonly server: Server;
  /** What this one request has already read of the book. */
  readonly requestCache: { houseContext?: Promise<SugarhouseContext> };
}

/**
 * Whose share of a limit a request takes: that of a person, a key or a guest's link. Everybody in the practice book has
 * the initials of its owner, so each of their sessions has its own.
 */
export const senderOf = ({ kind, own, initials, practice, session }: Principal): string =>
  practice ? `practice ${session ?? ''}` : `${kind} ${own.sugarhouse} ${initials}`;

/** The sugarhouse of the request, in the principal's book. */
export const readerOf = ({ book, writeContext: context }: Pick<Principal, 'book' | 'writeContext'>): SugarhouseReader =>
  sugarhouseReader(book.read, context.sugarhouse);

/** The house's own record, read once per request: the page, its layout and its forms all need it. */
export const sugarhouseContextFor = (principal: Principal): Promise<SugarhouseContext> =>
  (principal.requestCache.houseContext ??= contextFor(principal));

async function contextFor(principal: Principal): Promise<SugarhouseContext> {
  const house = await cachedForBook(principal, 'house', () => readHouse(readerOf(principal)));
  return contextAt(house, principal.writeContext);
}

/** The sugarhouses of the book, since each page names its own. */
export const housesFor = (principal: Principal): Promise<House[]> =>
  cachedForBook(principal, 'houses', () => housesOf(principal.book.read));

/** Whether the book has more than one sugarhouse to choose from. */
export const severalHousesFor = (principal: Principal): Promise<boolean> =>
  cachedForBook(principal, 'several houses', () => severalHouses(principal.book.read));

/** The thermometers of the house with their checks, and which were checked in this year. */
export const thermometersFor = (principal: Principal, year: number): Promise<readonly Thermometer[]> =>
  cachedForBook(principal, `thermometers ${year}`, () => loadThermometers(readerOf(principal), year));

/** Cached for each state of the book; read anew by a request that writes, since its own write may have changed it. */
const cachedForBook = <T>(principal: Principal, name: string, read: () => Promise<T>): Promise<T> =>
  principal.bookState === undefined ? read() : cachedPerBook(principal, name, read);

declare module 'fastify' {
  interface FastifyRequest {
    principal: Principal;
    /** Fields of a form that begin with `_`: they are the program's, not the record's. */
    hiddenFields: Readonly<Record<string, string>>;
    /** The photo posted with a form. */
    photo?: Uint8Array;
  }
}

/** `@CurrentPrincipal() principal: Principal` in a controller's method. */
export const CurrentPrincipal = createParamDecorator((_: unknown, context: ExecutionContext): Principal =>
  principalOf(context.switchToHttp().getRequest<FastifyRequest>()),
);

/** PostgreSQL stores no NUL, and no valid key has control characters: refused before anything is looked up. */
function checkedKey(key: string | undefined): string | undefined {
  if (key !== undefined && /\p{Cc}/u.test(key))
    throw new BadRequestException('The form’s repeat key can’t be read: open the form again');
  return key;
}

/**
 * The principal with the write context as it is once the body is parsed: `_once`, `_seen` and `_holds` of a form,
 * `Idempotency-Key` and `If-Match` of a request.
 */
export function principalOf(request: FastifyRequest): Principal {
  const { principal, hiddenFields } = request;
  const header = request.headers['idempotency-key'];
  const key = checkedKey(hiddenFields['_once'] ?? (typeof header === 'string' ? header : undefined));
  const onPage = hiddenFields['_seen'] !== undefined;
  const seen = lastEntrySeen(hiddenFields['_seen'] ?? request.headers['if-match']);
  const phone = new Date(hiddenFields['_phone'] ?? '');
  return {
    ...principal,
    ...(request.photo ? { photo: request.photo } : {}),
    writeContext: {
      ...principal.writeContext,
      ...(key ? { key: `${principal.kind}:${key}` } : {}),
      ...(Number.isFinite(phone.getTime()) ? { phone: { clock: phone, serverBegan: principal.server.startedAt } } : {}),
      ...(hiddenFields['_clock'] === 'right' ? { clockIsRight: true } : {}),
      ...(seen ? { seen, seenOnPage: onPage } : {}),
      ...(hiddenFields['_holds'] ? { holdsShown: hiddenFields['_holds'] } : {}),
    },
  };
}
