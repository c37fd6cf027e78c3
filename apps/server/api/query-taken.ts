import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { Refusal } from '#libs/actions/record/problem.js';

/** Calculators check their own fields and refuse unknown ones. */
const checksItsOwnQuery = /^\/api\/reckon\//;

/**
 * Refuses a query parameter that a path of /api doesn't describe, by name: a typo like `yaer=2026` would otherwise
 * return every year.
 */
export function queryRefusal(instance: FastifyInstance, request: FastifyRequest): Refusal | undefined {
  const url = request.routeOptions.url ?? '';
  const sent = Object.keys((request.query as object | null) ?? {});
  if (sent.length === 0 || !url.startsWith('/api/') || checksItsOwnQuery.test(url)) return undefined;
  const path = instance.describeApi().paths[url.replace(/:(\w+)/g, '{$1}')];
  const taken = (path?.[request.method.toLowerCase().replace('head', 'get')]?.parameters ?? [])
    .filter((each) => each.in === 'query')
    .map((each) => each.name);
  const other = sent.filter((name) => !taken.includes(name));
  if (other.length === 0) return undefined;
  const expected = taken.length === 0 ? 'no query here' : `one of ${taken.join(', ')}`;
  return {
    problem: { kind: 'invalid', faults: other.map((name) => ({ field: name, expected, got: `a query ${name}` })) },
  };
}
