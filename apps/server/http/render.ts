import { randomUUID } from 'node:crypto';
import type { FastifyRequest } from 'fastify';
import { Fragment, type VNode } from 'preact';
import { jsx } from 'preact/jsx-runtime';
import { renderToString } from 'preact-render-to-string';
import { rights } from '#libs/actions/accounts/rights.js';
import { home } from '#libs/store/household/houses.js';
import { Layout, type LayoutProps } from '#pages/layout.js';
import type { PageContext } from '#pages/page-context.js';
import type { Rendered } from '#pages/parts/drawing.js';
import { isAllowed } from './access.js';
import { originOf, originText, withOrigin } from './form-origin.js';
import { messagesIn } from './flash-messages.js';
import { type CachedPage, cachedPage, type HtmlPage } from './responses.js';
import { undoableEntries } from './undo-offer.js';
import { severalHousesFor, sugarhouseContextFor, principalOf } from './principal.js';

/** A page as it is sent, and the text that was rendered for this request: without the parts rendered earlier. */
export interface RenderedPage {
  readonly bytes: Buffer;
  readonly htmlForRequest: string;
}

/** A page as HTML: its component applied to the page's context. Everything is escaped except our own drawings. */
export async function renderPage(
  request: FastifyRequest,
  { content, cacheBody }: Pick<HtmlPage, 'content' | 'cacheBody'>,
): Promise<RenderedPage> {
  const parts: Part[] = [];
  const once = randomUUID();
  // Nobody who typed a text of the page can have known this page's random number.
  const insert = (part: Rendered): string => {
    const placeholder = `<!--${once} ${parts.length}-->`;
    parts.push([placeholder, part]);
    return placeholder;
  };
  const page = { ...(await pageContext(request)), once, insert };
  const cached = cacheBody && renderSharedBody(content, page, parts);
  if (cached) cacheBody(cached);
  const html = `<!doctype html>${renderToString(cached ? cachedPage(cached).content(page) : content(page))}`;
  const htmlForRequest = page.origin ? withOrigin(html, page.origin) : html;
  return { htmlForRequest, bytes: assemble(htmlForRequest, parts) };
}

type Part = readonly [mark: string, part: Rendered];

/** Properties of the page's context that are the same for everyone of a role in this sugarhouse. */
const sharedProperties = new Set<string | symbol>(['may', 'mayWrite', 'insert', 'house', 'practice']);

/** The page's body rendered apart from its layout; undefined where it differs by person or contains a form. */
function renderSharedBody(
  content: (page: PageContext) => VNode,
  page: PageContext,
  parts: readonly Part[],
): CachedPage | undefined {
  let isPersonal = false;
  const shared = new Proxy(page, {
    get: (target, name) => {
      isPersonal ||= !sharedProperties.has(name);
      return Reflect.get(target, name) as unknown;
    },
  });
  const { type, props } = content(shared) as VNode<LayoutProps>;
  if (type !== Layout) return undefined;
  const { page: _, children, ...layout } = props;
  const html = renderToString(jsx(Fragment, { children }));
  if (isPersonal || html.includes('<form')) return undefined;
  return { layout, body: { bytes: assemble(html, parts) } };
}

/**
 * Encoded here and not by the socket, which would encode the page twice, once for its length. A list is eight times as
 * long as the page around it, so it is encoded when it is rendered.
 */
function assemble(htmlForRequest: string, parts: readonly Part[]): Buffer {
  if (parts.length === 0) return Buffer.from(htmlForRequest);
  const pieces: Uint8Array[] = [];
  let rest = htmlForRequest;
  for (const [placeholder, { bytes }] of parts) {
    const at = rest.indexOf(placeholder);
    if (at < 0) continue;
    pieces.push(Buffer.from(rest.slice(0, at)), bytes);
    rest = rest.slice(at + placeholder.length);
  }
  return Buffer.concat([...pieces, Buffer.from(rest)]);
}

/** A part of a page that is the same for every reader, rendered and encoded once. It must not hold a form that posts. */
export function renderPart(part: VNode | null): Rendered {
  const html = part === null ? '' : renderToString(part);
  // It would lack the hidden fields that say for whom the form was drawn.
  if (html.includes(' method="post"')) throw new Error('A part that is kept for every reader holds a form that posts.');
  return { bytes: Buffer.from(html) };
}

async function pageContext(request: FastifyRequest): Promise<Omit<PageContext, 'once' | 'insert'>> {
  const principal = principalOf(request);
  const { kind, initials, practice } = principal;
  const role = kind === 'nobody' ? undefined : principal.role;
  const { house } = await sugarhouseContextFor(principal);
  const origin = await originOf(principal);
  return {
    principal: kind === 'nobody' || role === undefined ? undefined : { kind, initials, role },
    may: (required) => isAllowed(role, required),
    mayWrite: (what) => isAllowed(role, rights[what]),
    house: { name: house?.name ?? '', prefix: house?.prefix ?? '' },
    practice: practice || house?.practice === true,
    isOtherHouse: principal.writeContext.sugarhouse !== principal.own.sugarhouse,
    wholeBook: principal.own.sugarhouse === home,
    choosesHouse: principal.readsAll && (await severalHousesFor(principal)),
    origin: origin && { ...origin, where: await originText(principal, origin) },
    isPrivateConnection: request.protocol === 'https' || /^(127\.|::1|::ffff:127\.)/.test(request.ip),
    messages: messagesIn(request),
    undo: undoableEntries(request),
  };
}
