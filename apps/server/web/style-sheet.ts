import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { templatePath } from '#libs/records/package-root.js';

/** templates/pages/styles, an idea a file, in the order in which a later rule goes before an earlier one. */
const sheets = ['ink', 'head', 'lot', 'ledger', 'findings', 'forms', 'bench', 'figures', 'foot', 'rows'] as const;

/** The sheets as one answer: a phone on a weak network asks once. Read when the server starts. */
export function styleSheet(): (request: FastifyRequest, reply: FastifyReply) => unknown {
  const css = sheets.map((name) => readFileSync(join(templatePath('pages/styles'), `${name}.css`), 'utf8')).join('\n');
  const tag = `W/"${createHash('sha256').update(css).digest('base64url').slice(0, 20)}"`;
  return (request, reply) => {
    void reply.headers({ ETag: tag, 'Cache-Control': 'public, max-age=300' });
    if (request.headers['if-none-match'] === tag) return reply.code(304).send();
    return reply.type('text/css; charset=utf-8').send(Readable.from([css]));
  };
}
