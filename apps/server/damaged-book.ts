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
  const answer: Parameters<typeof createServer>[1] = (_, reply) => {
    reply.writeHead(503, {
      'Content-Type': 'text/html; charset=utf-8',
      'Content-Security-Policy': barePolicy,
      'X-Content-Type-Options': 'nosniff',
      'Cache-Control': 'no-store',
      'Retry-After': '60',
    });
    reply.end(pageOf(sentence));
  };
  const server = tls ? createTlsServer(tls, answer) : createServer(answer);
  const before = markOf(file);
  return new Promise((resolve, reject) => {
    const watching = setInterval(() => {
      if (markOf(file) === before) return;
      clearInterval(watching);
      server.close(() => resolve());
      server.closeAllConnections();
    }, 1000);
    for (const signal of ['SIGTERM', 'SIGINT'] as const) process.once(signal, () => process.exit(1));
    process.once('disconnect', () => process.exit(1));
    server.once('error', (fault) => (clearInterval(watching), reject(fault)));
    server.listen(port, host);
  });
}

/** Identifies the file at this path: restoring puts another in its place. */
function markOf(file: string): string {
  const found = statSync(file, { throwIfNoEntry: false });
  return found ? `${found.ino} ${found.mtimeMs} ${found.size}` : '';
}

const pageOf = (sentence: string): string =>
  barePage('The book can’t be opened', [
    escaped(sentence),
    `Nothing was written to it. On the computer with the book, type this in a terminal, in the folder of Boilbook: <code>${escaped(commandIn(sentence))}</code>`,
    'This page is shown until the book is restored; then the book opens here automatically, and phones send the entries that they have kept. Until then, write on paper.',
  ]);

/** The restore command within the sentence, which names the last good backup where there is one. */
function commandIn(sentence: string): string {
  const backup = /book restore (\S.*?)\. The damaged/.exec(sentence)?.[1];
  return backup === undefined ? 'npm run --silent book -- verify' : `npm run --silent book -- restore "${backup}"`;
}
