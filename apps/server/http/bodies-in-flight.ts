import type { FastifyReply, FastifyRequest } from 'fastify';
import type { AcceptedBody } from './accepted-body.js';
import { senderOf } from './principal.js';
import { networkOf } from './rate-limit.js';

const mebibyte = 1024 * 1024;

/** Bytes of request bodies that may be in transit at once: for one sender, and for all of them together. */
const knownLimits = { perSender: 40 * mebibyte, inAll: 96 * mebibyte };
const strangerLimits = { perSender: mebibyte / 2, inAll: 16 * mebibyte };

/**
 * Bounds how much memory half-sent bodies take: thirty unfinished uploads held over a gigabyte. Requests without a key
 * or session have a separate share, so that they can't use up that of the house. A body counts with its declared
 * length, or else with the most its route accepts, until its response is sent or its connection is closed.
 */
export function bodiesInFlight() {
  const bytesOf = new Map<string, number>();
  const total = { known: 0, strangers: 0 };

  /** Whether the body is accepted; if so it is counted until the response is closed. */
  return (request: FastifyRequest, reply: FastifyReply, { limitBytes }: AcceptedBody): boolean => {
    const bytes = request.headers['transfer-encoding'] === undefined ? contentLength(request) : limitBytes;
    if (bytes === 0) return true;
    const { kind } = request.principal;
    const group = kind === 'nobody' ? 'strangers' : 'known';
    const limits = kind === 'nobody' ? strangerLimits : knownLimits;
    const sender = kind === 'nobody' ? networkOf(request.ip) : senderOf(request.principal);
    const before = bytesOf.get(sender) ?? 0;
    if (before + bytes > limits.perSender || total[group] + bytes > limits.inAll) return false;
    bytesOf.set(sender, before + bytes);
    total[group] += bytes;
    reply.raw.once('close', () => {
      const remaining = (bytesOf.get(sender) ?? 0) - bytes;
      if (remaining > 0) bytesOf.set(sender, remaining);
      else bytesOf.delete(sender);
      total[group] -= bytes;
    });
    return true;
  };
}

const contentLength = (request: FastifyRequest): number => Number(request.headers['content-length'] ?? 0) || 0;
