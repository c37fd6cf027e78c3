import type { FastifyReply, FastifyRequest } from 'fastify';
import type { RouteText } from './access.js';

/** Documents and checks of the whole record that are made at once; one per person, key or link. */
const mostAtOnce = 2;
const mostInLine = 32;
const mostInLineOfOne = 8;
/** A slow client keeps its place no longer than this. */
const longestMs = 120_000;

export interface DocumentQueue {
  /**
   * Resolves when it is this request's turn, which ends with its response or when `end` is called; undefined if the
   * queue is full.
   */
  readonly turn: (request: FastifyRequest, reply: FastifyReply) => Promise<{ readonly end: () => void } | undefined>;
}

/**
 * Queues documents: each reads a season or a log and draws for seconds, and a dozen at once, requested through one
 * link, delayed everyone's pages. First come, first served, but only one at a time for each principal.
 */
export function documentQueue(): DocumentQueue {
  const busy = new Set<string>();
  const line: { readonly sender: string; readonly begin: () => void }[] = [];

  const next = (): void => {
    for (let at = 0; at < line.length && busy.size < mostAtOnce;) {
      const waiting = line[at];
      if (!waiting || busy.has(waiting.sender)) at++;
      else {
        line.splice(at, 1);
        busy.add(waiting.sender);
        waiting.begin();
      }
    }
  };

  return {
    turn: (request, reply) => {
      const { kind, initials, own } = request.principal;
      const sender = `${kind} ${own.sugarhouse} ${initials}`;
      const ofOne = line.filter((each) => each.sender === sender).length;
      if (line.length >= mostInLine || ofOne >= mostInLineOfOne) return Promise.resolve(undefined);
      return new Promise((resolve) => {
        let began = false;
        const end = (): void => {
          clearTimeout(timer);
          if (began) busy.delete(sender);
          began = false;
          const at = line.indexOf(waiting);
          if (at >= 0) line.splice(at, 1);
          next();
        };
        let timer: NodeJS.Timeout | undefined;
        const waiting = {
          sender,
          begin: () => {
            began = true;
            timer = setTimeout(end, longestMs).unref();
            resolve({ end });
          },
        };
        line.push(waiting);
        reply.raw.once('close', end);
        next();
      });
    },
  };
}

/** Whether a route makes a document: its address ends like a file, or the route declares it. */
export const makesDocument = (path: string, text: RouteText | undefined): boolean =>
  text?.heavy ?? (text?.access !== 'anybody' && /\.(?:pdf|xlsx|csv|json|jsonld|jsonl)$/.test(path));
