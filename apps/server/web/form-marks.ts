import type { FastifyRequest } from 'fastify';

/**
 * Takes the fields that begin with `_` out of a form: `_once` (the idempotency token), `_seen` (the last entry the
 * writer saw), `_do` (which button), `_phone` (the time on the writer's device), `_clock` (somebody looked at it). What is left is the record's own.
 */
export function takeFormMarks(request: FastifyRequest): void {
  const type = request.headers['content-type'] ?? '';
  const { body } = request;
  if (!type.startsWith('application/x-www-form-urlencoded') || typeof body !== 'object' || body === null) return;
  const marks: Record<string, string> = {};
  const rest: Record<string, unknown> = {};
  for (const [name, value] of Object.entries(body))
    if (!name.startsWith('_')) rest[name] = value;
    else if (typeof value === 'string' && value.length <= 200) marks[name] = value;
  request.formMarks = marks;
  request.body = rest;
}
