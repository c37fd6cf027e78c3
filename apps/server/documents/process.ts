import type { Readable } from 'node:stream';
import type { FastifyInstance, InjectOptions } from 'fastify';
import { bookId } from '#libs/store/household/book-id.js';
import { type Book, openBookForReading } from '#libs/store/book.js';
import { buildApp } from '../app.js';
import { phoneAddressesOf } from '../http/own-addresses.js';
import type { Server } from '../http/server.js';
import { practiceFile } from '../practice-book.js';
import { setupCode } from '../screens/set-up/setup-code.js';
import { readSettings, type Settings } from '../settings.js';
import type { DocumentRequest, FromProcess, ToProcess } from './messages.js';

// Makes documents for the server that forked it, one at a time: the same pages and API over its own read-only
// connections. It authenticates and authorises just as the server does, so it gives nothing that the server would
// refuse.

const parsed = readSettings(process.env, process.argv.slice(2));
if ('faults' in parsed) process.exit(2);
const { settings } = parsed;
const clock = (): Date => new Date();
const damage: { found: string | undefined } = { found: undefined };
let port = settings.port;
let practice: Book | undefined;
let allowNextPiece: (() => void) | undefined;

// A signal to the whole process group, such as Ctrl-C, is for the server to handle; this process ends when its server
// does.
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => {});
process.on('disconnect', () => process.exit(0));

const ready = createApp(settings);
process.on('message', (message: ToProcess) => {
  if ('more' in message) allowNextPiece?.();
  else
    void makeDocument(message.make).catch((fault: unknown) => {
      send({ failed: (fault as Error).stack ?? String(fault) });
    });
});

async function createApp({ location }: Settings): Promise<FastifyInstance> {
  const book = await openBookForReading(location);
  await bookId(book);
  const server: Server = {
    settings,
    book,
    practice: openPractice,
    currentPractice: () => practice,
    setupCode: setupCode(() => {}),
    clock,
    damage,
    startedAt: clock(),
    log: (line, more = {}) => send({ log: line, more }),
    phoneAddresses: () =>
      phoneAddressesOf({ host: settings.host, scheme: settings.tls || settings.houseTls ? 'https' : 'http', port }),
    requestsPerMinute: undefined,
  };
  const { app } = await buildApp(server);
  return app.getHttpAdapter().getInstance();
}

const openPractice = async (): Promise<Book> =>
  (practice ??= await openBookForReading({ file: practiceFile(settings) }));

async function makeDocument(request: DocumentRequest): Promise<void> {
  const app = await ready;
  ({ port } = request);
  // Sessions of the practice book are stored in that book; the server has opened it, or no such session would exist.
  if (request.practice) await openPractice();
  const injection: InjectOptions = {
    method: request.method,
    url: request.url,
    headers: request.headers as Record<string, string>,
    remoteAddress: request.address,
    payloadAsStream: true,
    ...(request.payload === undefined ? {} : { payload: request.payload }),
  };
  const response = await app.inject(injection);
  send({ head: { status: response.statusCode, headers: response.headers as Record<string, string> } });
  await sendBody(response.stream());
  send({ end: { memoryBytes: process.memoryUsage.rss(), damage: damage.found } });
}

/** The next piece is sent once the server has passed on the last, so that memory stays bounded. */
async function sendBody(body: Readable): Promise<void> {
  for await (const piece of body) {
    const acknowledged = new Promise<void>((resolve) => (allowNextPiece = resolve));
    send({ piece: piece as Uint8Array });
    await acknowledged;
  }
}

const send = (message: FromProcess): void => void process.send?.(message);
