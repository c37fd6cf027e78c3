import { join } from 'node:path';
import { Readable } from 'node:stream';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance } from 'fastify';
import { packageRoot, templatePath } from '#libs/package-root.js';
import type { RouteAccess } from './access.js';
import { pageScript, photoScript, styleSheet, workerScript } from './joined-files.js';
import { compressFile } from './compression.js';

/**
 * /assets/… from templates/pages/assets, its style sheet and script joined from templates/pages/styles and scripts,
 * /assets/fonts/… from the two typefaces, /assets/decoder/ for photos. Public, since the jar page needs them.
 */
export async function serveAssets(instance: FastifyInstance): Promise<void> {
  await instance.register(async (assets) => {
    assets.addHook('onRoute', (route) => {
      Object.assign((route.config ??= {} as NonNullable<typeof route.config>), publicAccess);
    });
    // A phone in the sugarhouse is on a weak network, so style sheets and scripts are compressed.
    assets.addHook('onSend', async (request, reply, payload) => {
      const path = request.url.split('?')[0] ?? '';
      if (/^\/assets\/.*\.(css|js|woff2)$/.test(path))
        for (const name of documentHeaders) void reply.removeHeader(name);
      const isCompressible = /\.(css|js|svg)$/.test(path) && reply.statusCode === 200;
      return isCompressible && payload instanceof Readable ? compressFile(request, reply, payload) : payload;
    });
    // The route table is filled before this hook runs, so routes of our own declare their access.
    assets.get('/assets/book.css', { config: publicAccess }, styleSheet());
    assets.get('/assets/book.js', { config: publicAccess }, pageScript());
    assets.get('/worker.js', { config: publicAccess }, workerScript());
    assets.get('/assets/photo.js', { config: publicAccess }, photoScript());
    // What browsers and crawlers request by themselves is answered without a redirect to the sign-in page.
    assets.get('/robots.txt', { config: publicAccess }, (_, reply) =>
      reply.type('text/plain; charset=utf-8').send('User-agent: *\nDisallow: /\n'),
    );
    assets.get('/favicon.ico', { config: publicAccess }, (_, reply) => reply.redirect('/assets/lot-diagram.svg', 302));
    for (const name of ['apple-touch-icon', 'apple-touch-icon-precomposed'])
      assets.get(`/${name}.png`, { config: publicAccess }, (_, reply) => reply.redirect('/assets/touch-icon.png', 302));
    await assets.register(fastifyStatic, {
      root: fontFolders,
      prefix: '/assets/fonts/',
      decorateReply: false,
      index: false,
      cacheControl: true,
      maxAge: '30d',
      allowedPath: (path) => path.endsWith('.woff2'),
    });
    await assets.register(fastifyStatic, {
      root: join(packageRoot, 'node_modules/jsqr/dist'),
      prefix: '/assets/decoder/',
      decorateReply: false,
      index: false,
      cacheControl: true,
      maxAge: '30d',
      allowedPath: (path) => path === '/jsQR.js',
    });
    await assets.register(fastifyStatic, {
      root: templatePath('pages/assets'),
      prefix: '/assets/',
      decorateReply: false,
      index: false,
      cacheControl: true,
      maxAge: '5m',
    });
  });
}

/** Browsers use them only on a document or a worker: with a typeface they add half a kilobyte to a first visit. */
const documentHeaders = [
  'Content-Security-Policy',
  'X-Frame-Options',
  'Cross-Origin-Opener-Policy',
  'Permissions-Policy',
];

/** Public, without a rate limit. */
const publicAccess = { access: 'anybody', costs: 0 } satisfies RouteAccess as object;

const fontFolders = ['next', 'mono'].map((face) =>
  join(packageRoot, `node_modules/@fontsource/atkinson-hyperlegible-${face}/files`),
);
