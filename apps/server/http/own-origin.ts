import type { FastifyRequest } from 'fastify';

/**
 * Whether a write comes from one of our own pages. Browsers send an origin with every POST; a request without one is no
 * browser's form, so it needs a key. GET changes nothing, so it isn't checked.
 */
export function isFromOwnPage(request: FastifyRequest, publicUrl: string): boolean {
  const { origin, host, 'sec-fetch-site': site } = request.headers;
  if (typeof site === 'string' && site !== 'same-origin' && site !== 'none') return false;
  // A proxy may forward requests under another host name than the one the browser sees.
  if (origin !== undefined) return [withoutPort(host), hostOf(publicUrl)].includes(hostOf(origin) ?? '');
  return site === 'same-origin' || site === 'none';
}

function hostOf(origin: string): string | undefined {
  return URL.canParse(origin) ? withoutPort(new URL(origin).host) : undefined;
}

/** `:80` and `:443` are optional on either side. */
const withoutPort = (host: string | undefined): string | undefined => host?.toLowerCase().replace(/:(80|443)$/, '');
