import { createHash } from 'node:crypto';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { originOf } from './form-origin.js';
import { principalOf } from './principal.js';

/**
 * Headers for the browser's service worker (templates/pages/worker): for whom a page was drawn, and whether it may be
 * cached on the device: forms and keypads of people who may write, never a list, a document or a page that only shows.
 * A page of another book, sugarhouse or person, or without signing in, makes it clear its cache.
 */
export async function setDeviceCacheHeaders(request: FastifyRequest, reply: FastifyReply, html: string): Promise<void> {
  if (request.method !== 'GET') return;
  const origin = await originOf(principalOf(request));
  void reply.header('Boilbook-For', origin ? digest(Object.values(origin).join(' ')) : 'nobody');
  const isForm = html.includes(' data-draft="') || html.includes(' data-pad="');
  if (origin && reply.statusCode === 200 && isForm) void reply.header('Boilbook-Keep', 'yes');
}

const digest = (text: string): string => createHash('sha256').update(text).digest('base64url').slice(0, 22);

/** Whether the worker fetches the page for its cache: flash messages then stay for the page that a person opens. */
export const isForDeviceCache = (request: FastifyRequest): boolean => request.headers['boilbook-keeping'] !== undefined;
