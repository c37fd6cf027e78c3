import { randomUUID } from 'node:crypto';
import { join } from 'node:path';
import { Eta } from 'eta';
import type { FastifyRequest } from 'fastify';
import { renderToString } from 'preact-render-to-string';
import { type Problem, sentencesOf } from '#libs/actions/record/problem.js';
import { sourceText } from '#libs/syrup/rules/marks.js';
import { rights } from '#libs/actions/accounts/rights.js';
import { templatePath } from '#libs/package-root.js';
import type { Role } from '#libs/store/household/household.js';
import { home, severalHouses } from '#libs/store/household/houses.js';
import type { PageContext } from '#pages/page-context.js';
import { mayEnter, type Access } from './access.js';
import { type Origin, originOf, originText, withOrigin } from './form-origin.js';
import { notedIn } from './flash-messages.js';
import { undoOffered } from './undo-offer.js';
import { sugarhouseContextFor, principalOf } from './principal.js';
import type { PageContent } from './responses.js';

/** What every template finds in `it`, beside what its page was told. */
export interface Around {
  /** The visitor, absent where nobody is signed in: `it.who.initials`, `it.who.may('maker')`. */
  readonly who:
    | {
        readonly kind: 'person' | 'guest' | 'key';
        readonly initials: string;
        readonly role: Role;
        readonly may: (access: Access) => boolean;
        readonly mayWrite: (what: keyof typeof rights) => boolean;
      }
    | undefined;
  /** What the book says of the house, and `{place, zone, setUp}` whether or not it says anything. */
  readonly house: Readonly<Record<string, unknown>>;
  readonly practice: boolean;
  /** Another sugarhouse's book is open, to be read only. */
  readonly elsewhere: boolean;
  /** Of the first sugarhouse, which answers for the book of all of them: may check it whole, and its owner copy it. */
  readonly wholeBook: boolean;
  /** The visitor may read the books of several sugarhouses. */
  readonly choosesHouse: boolean;
  /** For the hidden field `_once` of a form: the same form sent twice is one entry. */
  readonly once: string;
  /** What the page is drawn for: its forms and its script say so with all that they send. */
  readonly origin: (Origin & { readonly where: string; readonly marks: Origin }) | undefined;
  readonly path: string;
  readonly now: Date;
  /** Served over TLS, or to this machine itself. */
  readonly safeWire: boolean;
  /** What the last write had to say, once. */
  readonly noted: readonly string[];
  /** The entry that was just saved and can be undone. */
  readonly undo: number | undefined;
  readonly sentencesOf: (problem: Problem) => string[];
  readonly sourceWords: typeof sourceText;
}

const eta = new Eta({ views: templatePath('pages'), cache: true, autoEscape: true, autoTrim: false });

/** A page as HTML. Everything is escaped but our own SVG. */
export async function renderPage(request: FastifyRequest, content: PageContent): Promise<string> {
  const it = await around(request);
  const html =
    typeof content === 'function'
      ? `<!doctype html>${renderToString(content(contextOf(it)))}`
      : eta.render(join('/', content.template), { ...content.view, ...it });
  return it.origin ? withOrigin(html, it.origin.marks) : html;
}

/** What a component knows of the page. */
const contextOf = ({ who, house, ...view }: Around): PageContext => ({
  ...view,
  principal: who && { kind: who.kind, initials: who.initials, role: who.role },
  may: (role) => who?.may(role) ?? false,
  mayWrite: (kind) => who?.mayWrite(kind) ?? false,
  house: { name: text(house['name']), prefix: text(house['prefix']) },
});

const text = (value: unknown): string => (typeof value === 'string' ? value : '');

async function around(request: FastifyRequest): Promise<Around> {
  const principal = principalOf(request);
  const { kind, initials, role, book, practice } = principal;
  const { house, place, parseOptions: options } = await sugarhouseContextFor(principal);
  const marks = await originOf(principal);
  return {
    who:
      kind === 'nobody' || role === undefined
        ? undefined
        : {
            kind,
            initials,
            role,
            may: (access) => mayEnter(role, access),
            mayWrite: (what) => mayEnter(role, rights[what]),
          },
    house: { ...house, name: house?.name ?? '', place: place.name, zone: options.zone, setUp: house !== undefined },
    elsewhere: principal.writeContext.sugarhouse !== principal.own.sugarhouse,
    wholeBook: principal.own.sugarhouse === home,
    choosesHouse: principal.readsAll && (await severalHouses(book.read)),
    practice: practice || house?.practice === true,
    once: randomUUID(),
    origin: marks && { ...marks, where: await originText(principal, marks), marks },
    path: request.url.split('?')[0] ?? '/',
    now: principal.writeContext.now,
    safeWire: request.protocol === 'https' || /^(127\.|::1|::ffff:127\.)/.test(request.ip),
    noted: notedIn(request),
    undo: undoOffered(request),
    sentencesOf,
    sourceWords: sourceText,
  };
}
