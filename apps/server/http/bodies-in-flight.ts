import type { FastifyReply, FastifyRequest } from 'fastify';
import type { AcceptedBody } from './accepted-body.js';
import { network } from './rate-limit.js';

const mebibyte = 1024 * 1024;

/** Bytes of bodies that may be under way at once: of one sender, and of all of them together. */
const known = { ofOne: 40 * mebibyte, inAll: 96 * mebibyte };
const strangers = { ofOne: mebibyte / 2, inAll: 16 * mebibyte };

/**
 * Bounds what half-sent bodies can hold in memory: thirty files begun and never finished were over a gigabyte. Requests
 * without a key or session have a separate share, so that they can't use up that of the house. A body counts with the
 * length it announces, or with all its route takes, until its answer is out or its connection is gone.
 */
export function bodiesInFlight() {
  const bytesOf = new Map<string, number>();
  const inAll = { known: 0, strangers: 0 };

  /** Whether the body is accepted; if so it is counted until the reply is closed. */
  return (request: FastifyRequest, reply: FastifyReply, { limitBytes }: AcceptedBody): boolean => {
    const bytes = request.headers['transfer-encoding'] === undefined ? announced(request) : limitBytes;
    if (bytes === 0) return true;
    const { kind, initials, own } = request.visitor;
    const group = kind === 'nobody' ? 'strangers' : 'known';
    const limits = kind === 'nobody' ? strangers : known;
    const sender = kind === 'nobody' ? network(request.ip) : `${kind} ${own.sugarhouse} ${initials}`;
    const before = bytesOf.get(sender) ?? 0;
    if (before + bytes > limits.ofOne || inAll[group] + bytes > limits.inAll) return false;
    bytesOf.set(sender, before + bytes);
    inAll[group] += bytes;
    reply.raw.once('close', () => {
      const left = (bytesOf.get(sender) ?? 0) - bytes;
      if (left > 0) bytesOf.set(sender, left);
      else bytesOf.delete(sender);
      inAll[group] -= bytes;
    });
    return true;
  };
}

const announced = (request: FastifyRequest): number => Number(request.headers['content-length'] ?? 0) || 0;
