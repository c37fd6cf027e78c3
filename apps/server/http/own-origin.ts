import type { FastifyRequest } from 'fastify';

/**
 * Whether a write comes from one of our own pages. Browsers name the origin with every POST; a request that names
 * none is no browser's form, and then only a key may write. GET changes nothing, so it isn't asked.
 */
export function isFromOwnPage(request: FastifyRequest, publicUrl: string): boolean {
  const { origin, host, 'sec-fetch-site': site } = request.headers;
  if (typeof site === 'string' && site !== 'same-origin' && site !== 'none') return false;
  // A proxy may hand requests on under another host name than the one the browser sees.
  if (origin !== undefined) return [withoutPort(host), hostOf(publicUrl)].includes(hostOf(origin) ?? '');
  return site === 'same-origin' || site === 'none';
}

function hostOf(origin: string): string | undefined {
  return URL.canParse(origin) ? withoutPort(new URL(origin).host) : undefined;
}

/** `:80` and `:443` are optional on either side. */
const withoutPort = (host: string | undefined): string | undefined => host?.toLowerCase().replace(/:(80|443)$/, '');
