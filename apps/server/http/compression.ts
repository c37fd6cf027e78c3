import { Readable } from 'node:stream';
import { promisify } from 'node:util';
import { createGzip, gzip } from 'node:zlib';
import type { FastifyReply, FastifyRequest } from 'fastify';

/** A file as sent: compressed where the client accepts it. */
export function compressFile(request: FastifyRequest, reply: FastifyReply, file: Readable): Readable {
  return acceptsGzip(request, reply) ? file.pipe(createGzip({ level: 9 })) : file;
}

/**
 * A page, compressed only where the client chose nothing in it: a 200 response to a plain GET without a query, or with
 * one of a few fixed ones. When a secret and a guess are compressed together, the length shows whether the guess was
 * right (BREACH); so pages with posted, searched or unknown text are sent uncompressed.
 */
export async function compressPage(request: FastifyRequest, reply: FastifyReply, html: Buffer): Promise<Buffer> {
  const isSafe =
    request.method === 'GET' &&
    reply.statusCode === 200 &&
    (!request.url.includes('?') || fixedQuery.test(request.url));
  return isSafe && acceptsGzip(request, reply) ? gzipAsync(html, { level: 6 }) : html;
}

/** Fixed queries of our own links: the client chooses nothing in the page. */
const fixedQuery = /^[^?]*\?(?:how=ice|kind=returned|same=1)$/;

function acceptsGzip(request: FastifyRequest, reply: FastifyReply): boolean {
  void reply.header('Vary', 'Accept-Encoding');
  if (!/\bgzip\b/.test(String(request.headers['accept-encoding'] ?? ''))) return false;
  void reply.header('Content-Encoding', 'gzip').removeHeader('Content-Length');
  return true;
}

const gzipAsync = promisify<Buffer, { level: number }, Buffer>(gzip);
