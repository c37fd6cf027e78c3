import type { FastifyReply, FastifyRequest } from 'fastify';
import type { RouteAccess } from './access.js';
import { senderOf } from './principal.js';

/** Documents and checks of the whole record that are made at once; one per person, key or link. */
const maxAtOnce = 2;
const maxQueued = 32;
const maxQueuedPerSender = 8;
/** A slow client keeps its place no longer than this. */
const maxTurnMs = 120_000;

export interface DocumentQueue {
  /**
   * Resolves when it is this request's turn, which ends with its response or when `end` is called; undefined if the
   * queue is full.
   */
  readonly waitForTurn: (
    request: FastifyRequest,
    reply: FastifyReply,
  ) => Promise<{ readonly end: () => void } | undefined>;
}

/**
 * Queues documents: each reads a season or a log and draws for seconds, and a dozen at once, requested through one
 * link, delayed everyone's pages. First come, first served, but only one at a time for each principal.
 */
export function documentQueue(): DocumentQueue {
  const busy = new Set<string>();
  const queue: { readonly sender: string; readonly begin: () => void }[] = [];

  const startNext = (): void => {
    for (let at = 0; at < queue.length && busy.size < maxAtOnce;) {
      const waiting = queue[at];
      if (!waiting || busy.has(waiting.sender)) at++;
      else {
        queue.splice(at, 1);
        busy.add(waiting.sender);
        waiting.begin();
      }
    }
  };

  return {
    waitForTurn: (request, reply) => {
      const sender = senderOf(request.principal);
      const queuedBySender = queue.filter((each) => each.sender === sender).length;
      if (queue.length >= maxQueued || queuedBySender >= maxQueuedPerSender) return Promise.resolve(undefined);
      return new Promise((resolve) => {
        let began = false;
        const end = (): void => {
          clearTimeout(timer);
          if (began) busy.delete(sender);
          began = false;
          const at = queue.indexOf(waiting);
          if (at >= 0) queue.splice(at, 1);
          startNext();
        };
        let timer: NodeJS.Timeout | undefined;
        const waiting = {
          sender,
          begin: () => {
            began = true;
            timer = setTimeout(end, maxTurnMs).unref();
            resolve({ end });
          },
        };
        queue.push(waiting);
        reply.raw.once('close', end);
        startNext();
      });
    },
  };
}

/** Whether a route makes a document: its address ends like a file, or the route declares it. */
export const makesDocument = (path: string, config: RouteAccess | undefined): boolean =>
  config?.heavy ?? (config?.access !== 'anybody' && /\.(?:pdf|xlsx|csv|json|jsonld|jsonl)$/.test(path));
