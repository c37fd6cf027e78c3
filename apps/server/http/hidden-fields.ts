import type { FastifyRequest } from 'fastify';
import type { RouteAccess } from './access.js';
import { acceptedBody } from './accepted-body.js';

/**
 * Takes the fields that begin with `_` out of a form: `_once` (the idempotency token), `_seen` (the last entry the
 * writer saw), `_holds` (what held the lot on the page), `_do` (which button), `_phone` (the time on the writer's device), `_clock` (somebody looked at it),
 * `_book`, `_house` and `_person` (what the form was drawn for). The remaining fields are the record's.
 */
export function takeHiddenFields(request: FastifyRequest): void {
  const { kind } = acceptedBody(request.routeOptions.url ?? '', routeConfig(request));
  if (request.method !== 'POST' || (kind !== 'form' && kind !== 'photo-form')) return;
  // A form without any field has no body: each required field is then reported as missing.
  const body = (request.body ?? {}) as Readonly<Record<string, unknown>>;
  const hidden: Record<string, string> = {};
  const rest: Record<string, unknown> = {};
  for (const [name, value] of Object.entries(body))
    if (!name.startsWith('_')) rest[name] = value;
    else if (typeof value === 'string' && value.length <= 200) hidden[name] = value;
  request.hiddenFields = hidden;
  request.body = rest;
}

const routeConfig = (request: FastifyRequest): RouteAccess => request.routeOptions.config as RouteAccess;
