import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { practiceIsFull } from '../screens/practice/practice-before-set-up.js';
import { acceptedBody, bodyRefusal } from './accepted-body.js';
import { accessOf, isAllowed, type RouteAccess } from './access.js';
import { bodiesInFlight } from './bodies-in-flight.js';
import { documentQueue, makesDocument } from './document-queue.js';
import { makeInProcess } from './make-in-process.js';
import { hostCheck } from './host-names.js';
import { setHeaders } from './headers.js';
import { home, identify } from './identify.js';
import { isFromOwnPage } from './own-origin.js';
import { plainDetails } from './problem-details.js';
import { isApi, sendDetails } from './problem-filter.js';
import { allowOf, type RoutesByAddress, routesByAddress } from './other-methods.js';
import type { RouteRow } from './route-table.js';
import type { Server } from './server.js';
import { limitRequests } from './rate-limit.js';

/**
 * Authorises each request before a parameter or a byte of a body is read. Every route needs signing in unless it
 * declares otherwise (`@Public`, `@RequireRole`); so does an address without a route, so that /api doesn't reveal which
 * addresses exist.
 */
export function authorizeRequests(instance: FastifyInstance, server: Server, routes: readonly RouteRow[]): void {
  const routesAt = routesByAddress(routes);
  const knowsHost = hostCheck(server.settings);
  const acceptsBody = bodiesInFlight();
  const limiter = server.requestsPerMinute === undefined ? undefined : limitRequests(server.requestsPerMinute);

  instance.addHook('onRequest', async (request, reply) => {
    setHeaders(reply, server.settings);
    void reply.header('X-Request-Id', request.id);
    request.hiddenFields = {};
    request.principal = await identify(server, request);
    const config = request.is404 ? undefined : (request.routeOptions.config as RouteAccess);
    if (!config?.anyHost && !knowsHost(request.headers.host)) return denyAccess(request, reply, 'host');
    const reads = ['GET', 'HEAD', 'OPTIONS'].includes(request.method);
    // Before authentication: a redirect from an old address reveals nothing.
    if (reads && request.url !== request.originalUrl) return reply.redirect(request.url, 308);

    const { principal } = request;
    const otherMethodRows = rowsOfOtherMethods(routesAt, request);
    // A protected address and a missing one get the same answer.
    const isKnown =
      principal.kind === 'nobody'
        ? otherMethodRows.some((row) => row.access === 'anybody')
        : otherMethodRows.length > 0;
    if (isKnown) return denyAccess(request, reply.header('Allow', allowOf(otherMethodRows)), 'method');
    const access = accessOf(request.method, config);
    if (access === 'anybody') {
      const wait = principal.kind === 'nobody' ? limiter?.take(request.ip, config?.costs ?? 1, server.clock()) : 0;
      if (wait) return denyAccess(request, reply.header('Retry-After', wait), 'rate-limited');
    } else if (principal.kind === 'nobody') return denyAccess(request, reply, 'nobody');
    else if (!isAllowed(principal.role, access)) return denyAccess(request, reply, 'role');
    else if (config?.wholeBook && principal.own.sugarhouse !== home) return denyAccess(request, reply, 'role');

    if (
      !reads &&
      principal.kind !== 'key' &&
      !request.is404 &&
      !isOpenApi(request, access) &&
      !isFromOwnPage(request, server.settings.publicUrl)
    )
      return denyAccess(request, reply, 'origin');

    if (reads) return undefined;
    // An address without a route reads no body at all.
    if (request.is404) return denyAccess(request, reply, 'address');
    const body = acceptedBody(request.routeOptions.url ?? '', config);
    const refusal = bodyRefusal(request, body);
    if (refusal) {
      await sendDetails(request, reply, refusal);
      return reply;
    }
    if (practiceIsFull(principal)) return denyAccess(request, reply, 'practice');
    return acceptsBody(request, reply, body)
      ? undefined
      : denyAccess(request, reply.header('Retry-After', 10), 'bodies');
  });
}

/**
 * The routes of the address where none of them takes the method: also where the router then found one with a parameter
 * in place of the address's own word, as `/packs/:code/:step` for a GET of `/packs/:code/fill`, which only takes POST.
 */
function rowsOfOtherMethods(routesAt: RoutesByAddress, request: FastifyRequest): readonly RouteRow[] {
  if (!request.is404 && !routesAt.overlapsFixedRoute(request.routeOptions.url ?? '')) return [];
  const rows = routesAt.at(request.url.split('?')[0] ?? '');
  return rows.some((row) => row.method === request.method) ? [] : rows;
}

/** A public calculation changes nothing, so any site may request it. */
const isOpenApi = (request: FastifyRequest, access: string): boolean => access === 'anybody' && isApi(request);

/** Queues after the body is read: a form that is still arriving should not hold a place in the queue. */
export function queueDocuments(instance: FastifyInstance, { documents }: Server): void {
  const queue = documentQueue();
  instance.addHook('preHandler', async (request, reply) => {
    if (request.is404) return undefined;
    if (!makesDocument(request.routeOptions.url ?? '', request.routeOptions.config as RouteAccess)) return undefined;
    const turn = await queue.waitForTurn(request, reply);
    if (!turn) return denyAccess(request, reply.header('Retry-After', 30), 'documents');
    return documents && makeInProcess(documents, { request, reply, end: turn.end });
  });
}

type DenialReason =
  'host' | 'rate-limited' | 'nobody' | 'role' | 'origin' | 'address' | 'method' | 'bodies' | 'documents' | 'practice';

async function denyAccess(request: FastifyRequest, reply: FastifyReply, reason: DenialReason): Promise<FastifyReply> {
  if (reason === 'nobody' && !isApi(request))
    return reply
      .code(303)
      .header('Location', await signInAddress(request))
      .send();
  if (reason === 'nobody') void reply.header('WWW-Authenticate', 'Bearer');
  await sendDetails(request, reply, plainDetails(...denials[reason]));
  return reply;
}

/** The sign-in page with the address to return to, which must be one of our pages, requested by GET. */
async function signInAddress(request: FastifyRequest): Promise<string> {
  const query = request.method === 'GET' && request.url !== '/' ? `?back=${encodeURIComponent(request.url)}` : '';
  return `/sign-in${query.length < 500 ? query : ''}`;
}

const denials: Readonly<Record<DenialReason, readonly [number, string, string]>> = {
  host: [
    421,
    'Unknown host',
    'This server does not accept this host name. To allow it, the owner adds it to BOILBOOK_HOSTS.',
  ],
  'rate-limited': [
    429,
    'Too many requests',
    'Too many requests came from this address. Wait a minute, then try again.',
  ],
  nobody: [401, 'API key required', 'Send an API key in the header: Authorization: Bearer KEY.'],
  role: [403, 'Not allowed for your role', 'Your role does not allow this. Ask the owner.'],
  origin: [403, 'Request from another site', 'Entries are accepted only from a page of this book, or with an API key.'],
  bodies: [503, 'Server is busy', 'Other files are still being received. Wait a moment, then send it again.'],
  documents: [503, 'Server is busy', 'Other documents are being made. Wait half a minute, then request it again.'],
  practice: [503, 'The practice book is full', 'Nothing was saved. Set up your own record book, then continue there.'],
  method: [
    405,
    'Method not allowed',
    'This address does not accept that method. The Allow header lists the methods that it accepts.',
  ],
  address: [404, 'Not found', 'There is nothing at this address.'],
};
