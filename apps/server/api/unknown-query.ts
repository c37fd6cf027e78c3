import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { Refusal } from '#libs/actions/record/problem.js';

/** Calculators check their own fields and refuse unknown ones. */
const ownQueryCheck = /^\/api\/reckon\//;

/**
 * Refuses a query parameter that a path of /api doesn't describe, by name: a typo like `yaer=2026` would otherwise
 * return every year.
 */
export function refuseUnknownQuery(instance: FastifyInstance, request: FastifyRequest): Refusal | undefined {
  const url = request.routeOptions.url ?? '';
  const sent = Object.keys((request.query as object | null) ?? {});
  if (sent.length === 0 || !url.startsWith('/api/') || ownQueryCheck.test(url)) return undefined;
  const path = instance.describeApi().paths[url.replace(/:(\w+)/g, '{$1}')];
  const accepted = (path?.[request.method.toLowerCase().replace('head', 'get')]?.parameters ?? [])
    .filter((each) => each.in === 'query')
    .map((each) => each.name);
  const unknown = sent.filter((name) => !accepted.includes(name));
  if (unknown.length === 0) return undefined;
  const expected = accepted.length === 0 ? 'no query here' : `one of ${accepted.join(', ')}`;
  return {
    problem: { kind: 'invalid', faults: unknown.map((name) => ({ field: name, expected, got: `a query ${name}` })) },
  };
}
