import type { FastifyInstance } from 'fastify';
import { acceptedBody, type AcceptedBody } from './accepted-body.js';
import { accessOf, type Access, type RouteAccess } from './access.js';

export interface RouteRow {
  readonly method: string;
  readonly path: string;
  readonly access: Access;
  readonly body: AcceptedBody;
}

/** Every route with its access rules, filled as routes are registered; a test requests each of them. */
export function routeTable(instance: Pick<FastifyInstance, 'addHook'>): readonly RouteRow[] {
  const rows: RouteRow[] = [];
  instance.addHook('onRoute', (route) => {
    const config = route.config as RouteAccess | undefined;
    const body = acceptedBody(route.url, config);
    // Overrides the parser's limit, so that a body without a declared length is cut off too.
    route.bodyLimit = body.limitBytes;
    for (const method of [route.method].flat())
      rows.push({ method, path: route.url, access: accessOf(method, config), body });
  });
  return rows;
}
