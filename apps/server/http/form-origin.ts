import type { FastifyRequest } from 'fastify';
import { bookId } from '#libs/store/household/book-id.js';
import { housesOf } from '#libs/store/household/houses.js';
import type { RouteAccess } from './access.js';
import { housesFor, type Principal } from './principal.js';

/**
 * The book, sugarhouse and person a form was drawn for. Every form and every entry kept on a device carries it, so that
 * nothing made in practice, for another sugarhouse or by somebody else is written into the open book.
 */
export interface Origin {
  /** `record.` or `practice.` and the book's own random id. */
  readonly book: string;
  readonly house: string;
  /** Initials; of a guest, `guest` and the name of their link. */
  readonly person: string;
}

/** The book, house and person for whom a form is drawn; undefined for keys and without signing in. */
export async function originOf(principal: Principal): Promise<Origin | undefined> {
  if (principal.kind === 'nobody' || principal.kind === 'key') return undefined;
  return {
    book: await bookIdentity(principal),
    house: principal.writeContext.sugarhouse,
    person: principal.kind === 'guest' ? `guest ${principal.initials}` : principal.initials,
  };
}

const bookIdentity = async (principal: Principal): Promise<string> =>
  `${principal.practice ? 'practice' : 'record'}.${await bookId(principal.book)}`;

/** Where an entry was made, if not here; `made` is absent where a form of an older program doesn't say. */
export interface OtherOrigin {
  readonly made: Origin | undefined;
  readonly open: Origin;
}

/**
 * The origins of a form that wasn't made for the open book; undefined where it was. A script's form without these
 * hidden fields is accepted.
 */
export async function foreignOrigin(request: FastifyRequest): Promise<OtherOrigin | undefined> {
  const { principal, hiddenFields: hidden } = request;
  const config = request.routeOptions.config as RouteAccess;
  if (config.anyBook || principal.kind === 'key') return undefined;
  const made = { book: hidden['_book'], house: hidden['_house'], person: hidden['_person'] };
  const isFromPage = hidden['_once'] !== undefined || hidden['_seen'] !== undefined;
  const open = await originOf(principal);
  if (!isOrigin(made)) {
    // A page that needs no sign-in is drawn for nobody in particular.
    const isUnstated = Object.values(made).every((each) => each === undefined);
    if (!open || (isUnstated && (!isFromPage || config.access === 'anybody'))) return undefined;
    return { made: undefined, open };
  }
  if (!open) {
    const book = await bookIdentity(principal);
    return made.book === book
      ? undefined
      : { made, open: { book, house: principal.writeContext.sugarhouse, person: '' } };
  }
  const same = made.book === open.book && made.house === open.house && made.person === open.person;
  return same ? undefined : { made, open };
}

const isOrigin = (made: Partial<Record<keyof Origin, string | undefined>>): made is Origin =>
  Object.values(made).every((each) => each !== undefined);

/** `the practice book of Tamarack Hollow Sugarhouse, as WE` */
export async function originText(principal: Principal, { book, house, person }: Origin): Promise<string> {
  const { server } = principal;
  const isPractice = book.startsWith('practice.');
  const originBook = isPractice ? server.currentPractice() : server.book;
  const same = originBook !== undefined && book.endsWith(`.${await bookId(originBook)}`);
  const houses = !same
    ? []
    : originBook === principal.book
      ? await housesFor(principal)
      : await housesOf(originBook.read);
  const name = houses.find((each) => each.key === house)?.name;
  const bookName = isPractice ? 'the practice book' : same ? 'the record book' : 'another record book';
  return `${bookName}${name === undefined ? '' : ` of ${name}`}${person === '' ? '' : `, as ${person}`}`;
}

/** Adds the hidden fields of every form that posts. Added here and not by each template, so that none is forgotten. */
export function withOrigin(html: string, origin: Origin): string {
  if (!html.includes(' method="post"')) return html;
  const { book, house, person } = origin;
  const fields = Object.entries({ book, house, person })
    .map(([name, value]) => `<input type="hidden" name="_${name}" value="${escaped(value)}">`)
    .join('');
  // An attribute's value may contain a `>`.
  return html.replace(/<form\b(?:"[^"]*"|[^">])*>/g, (form) =>
    !form.includes(' method="post"') || form.includes(' data-says-origin') ? form : `${form}${fields}`,
  );
}

const escaped = (config: string): string => config.replace(/[&<>"']/g, (letter) => `&#${letter.charCodeAt(0)};`);
