import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { templatePath } from '#libs/package-root.js';

/** templates/pages/styles, one topic per file, in cascade order: later rules override earlier ones. */
const styleSheets = [
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

/** templates/pages/scripts, one topic per file; nothing in them is called before the last is loaded. */
const scripts = [
  'begin',
  'origin',
  'times',
  'unbroken',
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

type RouteHandler = (request: FastifyRequest, reply: FastifyReply) => unknown;

/** All style sheets as one file, with its content type and validator. */
export function styleSheet(): RouteHandler {
  return serveText('text/css', joinFiles('styles', styleSheets, 'css'));
}

/**
 * The service worker that caches forms and keypads on the device. Served at the root, since a worker only controls
 * addresses below its own.
 */
export function workerScript(): RouteHandler {
  return serveText(
    'application/javascript',
    stripComments(readFileSync(templatePath('pages/worker/keep-pages.js'), 'utf8')),
  );
}

/** The script that reads a label's QR code, only on pages that use it. */
export function photoScript(): RouteHandler {
  return serveText(
    'application/javascript',
    stripComments(readFileSync(templatePath('pages/assets/photo.js'), 'utf8')),
  );
}

/** All page scripts in one closure, so that they can call each other without global names. */
export function pageScript(): RouteHandler {
  return serveText('application/javascript', `'use strict';\n(() => {\n${joinFiles('scripts', scripts, 'js')}})();\n`);
}

const joinFiles = (folder: string, names: readonly string[], ending: string): string =>
  names
    .map((name) => stripComments(readFileSync(join(templatePath(`pages/${folder}`), `${name}.${ending}`), 'utf8')))
    .join('\n');

/** Without indentation and comment lines, which are a third of the size. */
const stripComments = (text: string): string =>
  text
    .replace(/^[ \t]*\/\*(?:(?!\*\/)[\s\S])*\*\/[ \t]*$/gm, '')
    .replace(/^[ \t]*\/\/.*$/gm, '')
    .replace(/^[ \t]+|^\s*\n/gm, '');

/** The files as one response: one request for a phone on a weak network. Read when the server starts. */
function serveText(type: string, text: string): RouteHandler {
  const tag = `W/"${createHash('sha256').update(text).digest('base64url').slice(0, 20)}"`;
  return (request, reply) => {
    void reply.headers({ ETag: tag, 'Cache-Control': 'public, max-age=300' });
    if (request.headers['if-none-match'] === tag) return reply.code(304).send();
    return reply.type(`${type}; charset=utf-8`).send(Readable.from([text]));
  };
}
