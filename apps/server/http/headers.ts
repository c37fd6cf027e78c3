import type { FastifyReply } from 'fastify';
import type { Settings } from '../settings.js';

/**
 * Headers of every response (OWASP ASVS 5.0, cheat sheets). `same-origin` and not `no-referrer`: with the latter
 * browsers send `Origin: null` with our own forms, and the origin check could not tell them from others.
 */
export function setHeaders(reply: FastifyReply, { tls, houseTls }: Pick<Settings, 'tls' | 'houseTls'>): void {
  void reply.headers({
    'Content-Security-Policy': contentPolicy,
    'X-Content-Type-Options': 'nosniff',
    'X-Frame-Options': 'DENY',
    'Referrer-Policy': 'same-origin',
    'Cross-Origin-Opener-Policy': 'same-origin',
    'Cross-Origin-Resource-Policy': 'same-origin',
    'Permissions-Policy': 'camera=(self), geolocation=(), microphone=()',
    // Never cached unless a route declares otherwise.
    'Cache-Control': 'no-store',
    // Not with the house's own certificate: a device that stops trusting it could not return to http.
    ...(tls && !houseTls ? { 'Strict-Transport-Security': 'max-age=31536000' } : {}),
  });
}

const contentPolicy = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "font-src 'self'",
  "img-src 'self' data: blob:",
  "connect-src 'self'",
  "manifest-src 'self'",
  "worker-src 'self'",
  "form-action 'self'",
  "object-src 'none'",
  "base-uri 'none'",
  "frame-ancestors 'none'",
].join('; ');
