import { createServer } from 'node:http';
import { createServer as createTlsServer } from 'node:https';
import { statSync } from 'node:fs';
import { barePage, barePolicy, escaped } from './http/bare-page.js';
import type { Settings } from './settings.js';

/**
 * Answers every address with one plain page that gives the reason the book does not open and what to do, since nobody
 * at a phone sees the terminal. It doesn't open the book, so that a backup can be restored meanwhile; once the book's
 * file is replaced, the process exits and the launcher starts the server again.
 */
export function serveDamagedPage({ host, port, tls }: Settings, file: string, sentence: string): Promise<void> {
  const respond: Parameters<typeof createServer>[1] = (_, reply) => {
    reply.writeHead(503, {
      'Content-Type': 'text/html; charset=utf-8',
      'Content-Security-Policy': barePolicy,
      'X-Content-Type-Options': 'nosniff',
      'Cache-Control': 'no-store',
      'Retry-After': '60',
    });
    reply.end(damagedPage(sentence));
  };
  const server = tls ? createTlsServer(tls, respond) : createServer(respond);
  const identityAtStart = fileIdentity(file);
  return new Promise((resolve, reject) => {
    const poll = setInterval(() => {
      if (fileIdentity(file) === identityAtStart) return;
      clearInterval(poll);
      server.close(() => resolve());
      server.closeAllConnections();
    }, 1000);
    for (const signal of ['SIGTERM', 'SIGINT'] as const) process.once(signal, () => process.exit(1));
    process.once('disconnect', () => process.exit(1));
    server.once('error', (fault) => (clearInterval(poll), reject(fault)));
    server.listen(port, host);
  });
}

/** Identifies the file at this path: restoring puts another in its place. */
function fileIdentity(file: string): string {
  const stats = statSync(file, { throwIfNoEntry: false });
  return stats ? `${stats.ino} ${stats.mtimeMs} ${stats.size}` : '';
}

const damagedPage = (sentence: string): string =>
  barePage('The book can’t be opened', [
    escaped(sentence),
    `Nothing was written to it. On the computer with the book, type this in a terminal, in the folder of Boilbook: <code>${escaped(recoveryCommand(sentence))}</code>`,
    'This page is shown until the book is restored; then the book opens here automatically, and phones send the entries that they have kept. Until then, write on paper.',
  ]);

/** The restore command within the sentence, which names the last good backup where there is one. */
function recoveryCommand(sentence: string): string {
  const backup = /book restore (\S.*?)\. The damaged/.exec(sentence)?.[1];
  return backup === undefined ? 'npm run --silent book -- verify' : `npm run --silent book -- restore "${backup}"`;
}
