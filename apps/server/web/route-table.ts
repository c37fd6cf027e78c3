import type { FastifyInstance } from 'fastify';
import { accessOf, type Access, type RouteWords } from './access.js';

export interface RouteRow {
  readonly method: string;
  readonly path: string;
  readonly access: Access;
}

/** Every route there is with its door, filled as routes are registered: what the sweep walks through. */
export function routeTable(instance: Pick<FastifyInstance, 'addHook'>): readonly RouteRow[] {
  const rows: RouteRow[] = [];
  instance.addHook('onRoute', (route) => {
    for (const method of [route.method].flat())
      rows.push({ method, path: route.url, access: accessOf(method, route.config as RouteWords | undefined) });
  });
  return rows;
}
