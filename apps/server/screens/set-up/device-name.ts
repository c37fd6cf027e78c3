import type { FastifyRequest } from 'fastify';

/** `Firefox on Android`: enough to recognise one's own phone in the list of sessions; nothing more is stored. */
export function deviceName(request: FastifyRequest): string {
  const agent = request.headers['user-agent'] ?? '';
  const browser = browsers.find(([mark]) => mark.test(agent))?.[1] ?? 'A browser';
  const system = systems.find(([mark]) => mark.test(agent))?.[1];
  return system === undefined ? browser : `${browser} on ${system}`;
}

// Each browser's text also names those below it, so the order matters.
const browsers: readonly (readonly [RegExp, string])[] = [
  [/Edg\//, 'Edge'],
  [/Firefox|FxiOS/, 'Firefox'],
  [/Chrome|CriOS|Chromium/, 'Chrome'],
  [/Safari/, 'Safari'],
];
const systems: readonly (readonly [RegExp, string])[] = [
  [/Android/, 'Android'],
  [/iPhone|iPad/, 'an iPhone or iPad'],
  [/Windows/, 'Windows'],
  [/Mac OS X/, 'a Mac'],
  [/Linux/, 'Linux'],
];
