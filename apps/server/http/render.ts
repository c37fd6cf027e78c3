import { randomUUID } from 'node:crypto';
import type { FastifyRequest } from 'fastify';
import type { VNode } from 'preact';
import { renderToString } from 'preact-render-to-string';
import { rights } from '#libs/actions/accounts/rights.js';
import { home } from '#libs/store/household/houses.js';
import type { PageContext } from '#pages/page-context.js';
import type { Rendered } from '#pages/parts/drawing.js';
import { mayEnter } from './access.js';
import { originOf, originText, withOrigin } from './form-origin.js';
import { notedIn } from './flash-messages.js';
import { undoOffered } from './undo-offer.js';
import { severalHousesFor, sugarhouseContextFor, principalOf } from './principal.js';

/** A page as HTML: its component applied to the page's context. Everything is escaped except our own drawings. */
export async function renderPage(request: FastifyRequest, content: (page: PageContext) => VNode): Promise<string> {
  const page = await pageContext(request);
  const html = `<!doctype html>${renderToString(content(page))}`;
  return page.origin ? withOrigin(html, page.origin) : html;
}

/**
 * A part of a page that is the same for every reader, rendered once. Its text is copied into one flat string: as
 * rendered it is a rope of thousands of pieces, which each page would flatten anew.
 */
export const rendered = (part: VNode): Rendered => ({ html: Buffer.from(renderToString(part)).toString() });

async function pageContext(request: FastifyRequest): Promise<PageContext> {
  const principal = principalOf(request);
  const { kind, initials, practice } = principal;
  const role = kind === 'nobody' ? undefined : principal.role;
  const { house } = await sugarhouseContextFor(principal);
  const origin = await originOf(principal);
  return {
    principal: kind === 'nobody' || role === undefined ? undefined : { kind, initials, role },
    may: (asked) => mayEnter(role, asked),
    mayWrite: (what) => mayEnter(role, rights[what]),
    house: { name: house?.name ?? '', prefix: house?.prefix ?? '' },
    practice: practice || house?.practice === true,
    elsewhere: principal.writeContext.sugarhouse !== principal.own.sugarhouse,
    wholeBook: principal.own.sugarhouse === home,
    choosesHouse: principal.readsAll && (await severalHousesFor(principal)),
    once: randomUUID(),
    origin: origin && { ...origin, where: await originText(principal, origin) },
    safeWire: request.protocol === 'https' || /^(127\.|::1|::ffff:127\.)/.test(request.ip),
    noted: notedIn(request),
    undo: undoOffered(request),
  };
}
