import type { FastifyRequest } from 'fastify';
import { bookId } from '#libs/store/household/book-id.js';
import { housesOf } from '#libs/store/household/houses.js';
import type { RouteWords } from './access.js';
import type { Visitor } from './principal.js';

/**
 * Which book, sugarhouse and person a form was drawn for. Every form and every entry kept on a device carries it, so
 * that nothing made in practice, for another sugarhouse or by somebody else is written into the book that is open.
 */
export interface Origin {
  /** `record.` or `practice.` and the book's own random id. */
  readonly book: string;
  readonly house: string;
  /** Initials; of a guest, `guest` and the name of their link. */
  readonly person: string;
}

export async function originOf(who: Visitor): Promise<Origin | undefined> {
  if (who.kind === 'nobody' || who.kind === 'key') return undefined;
  return {
    book: await bookMark(who),
    house: who.desk.sugarhouse,
    person: who.kind === 'guest' ? `guest ${who.initials}` : who.initials,
  };
}

const bookMark = async (who: Visitor): Promise<string> =>
  `${who.practice ? 'practice' : 'record'}.${await bookId(who.book)}`;

/** What was made elsewhere; `made` is absent where the form doesn't say, having been drawn by an older program. */
export interface Misplaced {
  readonly made: Origin | undefined;
  readonly open: Origin;
}

/** Whether a form belongs to what is open now. A script's form that carries no mark of a page is taken as it is. */
export async function misplaced(request: FastifyRequest): Promise<Misplaced | undefined> {
  const { visitor: who, formMarks: marks } = request;
  const words = request.routeOptions.config as RouteWords;
  if (words.anyBook || who.kind === 'key') return undefined;
  const made = { book: marks['_book'], house: marks['_house'], person: marks['_person'] };
  const isFromPage = marks['_once'] !== undefined || marks['_seen'] !== undefined;
  const open = await originOf(who);
  if (!isOrigin(made)) {
    // An open page is drawn for nobody in particular.
    const unsaid = Object.values(made).every((each) => each === undefined);
    if (!open || (unsaid && (!isFromPage || words.access === 'anybody'))) return undefined;
    return { made: undefined, open };
  }
  if (!open) {
    const book = await bookMark(who);
    return made.book === book ? undefined : { made, open: { book, house: who.desk.sugarhouse, person: '' } };
  }
  const same = made.book === open.book && made.house === open.house && made.person === open.person;
  return same ? undefined : { made, open };
}

const isOrigin = (made: Partial<Record<keyof Origin, string | undefined>>): made is Origin =>
  Object.values(made).every((each) => each !== undefined);

/** `the practice book of Tamarack Hollow Sugarhouse, as WE` */
export async function originWords(who: Visitor, { book, house, person }: Origin): Promise<string> {
  const { server } = who;
  const isPractice = book.startsWith('practice.');
  const kept = isPractice ? server.practiceOpen() : server.book;
  const same = kept !== undefined && book.endsWith(`.${await bookId(kept)}`);
  const name = same ? (await housesOf(kept.read)).find((each) => each.key === house)?.name : undefined;
  const which = isPractice ? 'the practice book' : same ? 'the record book' : 'another record book';
  return `${which}${name === undefined ? '' : ` of ${name}`}${person === '' ? '' : `, as ${person}`}`;
}

/** The hidden fields of every form that posts. Put in here and not by each template, so that none is forgotten. */
export function withOrigin(html: string, origin: Origin): string {
  const fields = Object.entries({ ...origin })
    .map(([name, value]) => `<input type="hidden" name="_${name}" value="${escaped(value)}">`)
    .join('');
  return html.replace(/<form\b[^>]*\bmethod="post"[^>]*>/g, (form) =>
    form.includes(' data-says-origin') ? form : `${form}${fields}`,
  );
}

const escaped = (text: string): string => text.replace(/[&<>"']/g, (letter) => `&#${letter.charCodeAt(0)};`);
