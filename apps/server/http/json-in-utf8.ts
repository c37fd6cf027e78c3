import { BadRequestException } from '@nestjs/common';
import type { FastifyInstance } from 'fastify';

type Done = (fault: Error | null, body?: unknown) => void;
/** Parses one body; the request is only passed on, whichever HTTP it came by. */
type Parser<T> = (request: unknown, body: T, done: Done) => void;

/**
 * Reads a body of JSON, which is UTF-8 (RFC 8259, 8.1). Bytes that are none would become � in the record, and what was
 * sent could never be known again: they are refused.
 */
export function jsonInUtf8(instance: FastifyInstance): Parser<Buffer> {
  const parse = instance.getDefaultJsonParser('error', 'error') as Parser<string>;
  return (request, bytes, done) => {
    let text: string;
    try {
      text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    } catch {
      done(new BadRequestException('The body is not UTF-8'));
      return;
    }
    parse(request, text, done);
  };
}
