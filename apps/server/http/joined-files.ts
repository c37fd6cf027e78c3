import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { templatePath } from '#libs/package-root.js';

/** templates/pages/styles, an idea a file, in the order in which a later rule goes before an earlier one. */
const sheets = [
  'palette',
  'head',
  'lot',
  'pad',
  'history',
  'findings',
  'forms',
  'messages',
  'boxes',
  'bench',
  'figures',
  'foot',
  'rows',
  'trust',
  'desktop',
  'photos',
] as const;

/** templates/pages/scripts, an idea a file; nothing in them is called before the last is read. */
const scripts = [
  'begin',
  'origin',
  'times',
  'warning',
  'drafts',
  'picks',
  'printing',
  'keypad',
  'jar-counter',
  'sending',
  'offline-queue',
  'waiting',
  'kept-entries',
  'kept-pages',
  'share',
] as const;

type Answer = (request: FastifyRequest, reply: FastifyReply) => unknown;

/** All style sheets as one file, with its content type and validator. */
export function styleSheet(): Answer {
  return oneAnswer('text/css', joined('styles', sheets, 'css'));
}

/** What keeps forms and pads on the device. From the root, for a worker rules over the addresses below its own only. */
export function workerScript(): Answer {
  return oneAnswer('application/javascript', bare(readFileSync(templatePath('pages/worker/keep-pages.js'), 'utf8')));
}

/** What reads the symbol of a label, only on pages that take one. */
export function photoScript(): Answer {
  return oneAnswer('application/javascript', bare(readFileSync(templatePath('pages/assets/photo.js'), 'utf8')));
}

/** In one closure, so that the files can call each other without global names. */
export function pageScript(): Answer {
  return oneAnswer('application/javascript', `'use strict';\n(() => {\n${joined('scripts', scripts, 'js')}})();\n`);
}

const joined = (folder: string, names: readonly string[], ending: string): string =>
  names
    .map((name) => bare(readFileSync(join(templatePath(`pages/${folder}`), `${name}.${ending}`), 'utf8')))
    .join('\n');

/** Without indentation and comment lines, which are a third of the size. */
const bare = (text: string): string =>
  text
    .replace(/^[ \t]*\/\*(?:(?!\*\/)[\s\S])*\*\/[ \t]*$/gm, '')
    .replace(/^[ \t]*\/\/.*$/gm, '')
    .replace(/^[ \t]+|^\s*\n/gm, '');

/** The files as one answer: a phone on a weak network asks once. Read when the server starts. */
function oneAnswer(type: string, text: string): Answer {
  const tag = `W/"${createHash('sha256').update(text).digest('base64url').slice(0, 20)}"`;
  return (request, reply) => {
    void reply.headers({ ETag: tag, 'Cache-Control': 'public, max-age=300' });
    if (request.headers['if-none-match'] === tag) return reply.code(304).send();
    return reply.type(`${type}; charset=utf-8`).send(Readable.from([text]));
  };
}
