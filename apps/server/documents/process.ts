import type { Readable } from 'node:stream';
import type { FastifyInstance, InjectOptions } from 'fastify';
import { bookId } from '#libs/store/household/book-id.js';
import { type Book, openBookForReading } from '#libs/store/book.js';
import { buildApp } from '../app.js';
import { reachOf } from '../http/own-addresses.js';
import type { Server } from '../http/server.js';
import { practiceFile } from '../practice-book.js';
import { setupCode } from '../screens/set-up/setup-code.js';
import { readSettings, type Settings } from '../settings.js';
import type { DocumentRequest, FromProcess, ToProcess } from './messages.js';

// Makes documents for the server that forked it, one at a time: the same pages and API over its own read-only
// connections. It authenticates and authorises just as the server does, so it gives nothing that the server would
// refuse.

const read = readSettings(process.env, process.argv.slice(2));
if ('faults' in read) process.exit(2);
const { settings } = read;
const clock = (): Date => new Date();
const damage: { found: string | undefined } = { found: undefined };
let port = settings.port;
let practice: Book | undefined;
let pieceMayGo: (() => void) | undefined;

// A signal to the whole process group, such as Ctrl-C, is for the server to handle; this process ends when its server
// does.
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => {});
process.on('disconnect', () => process.exit(0));

const ready = begin(settings);
process.on('message', (message: ToProcess) => {
  if ('more' in message) pieceMayGo?.();
  else
    void answer(message.make).catch((fault: unknown) => {
      tell({ failed: (fault as Error).stack ?? String(fault) });
    });
});

async function begin({ location }: Settings): Promise<FastifyInstance> {
  const book = await openBookForReading(location);
  await bookId(book);
  const server: Server = {
    settings,
    book,
    practice: openPractice,
    practiceOpen: () => practice,
    setupCode: setupCode(() => {}),
    clock,
    damage,
    began: clock(),
    log: (line, more = {}) => tell({ log: line, more }),
    reach: () => reachOf({ host: settings.host, scheme: settings.tls || settings.houseTls ? 'https' : 'http', port }),
    requestsPerMinute: undefined,
  };
  const { app } = await buildApp(server);
  return app.getHttpAdapter().getInstance();
}

const openPractice = async (): Promise<Book> =>
  (practice ??= await openBookForReading({ file: practiceFile(settings) }));

async function answer(request: DocumentRequest): Promise<void> {
  const web = await ready;
  ({ port } = request);
  // Sessions of the practice book are stored in that book; the server has opened it, or no such session would exist.
  if (request.practice) await openPractice();
  const injected: InjectOptions = {
    method: request.method,
    url: request.url,
    headers: request.headers as Record<string, string>,
    remoteAddress: request.address,
    payloadAsStream: true,
    ...(request.payload === undefined ? {} : { payload: request.payload }),
  };
  const made = await web.inject(injected);
  tell({ head: { status: made.statusCode, headers: made.headers as Record<string, string> } });
  await sendBody(made.stream());
  tell({ end: { memoryBytes: process.memoryUsage.rss(), damage: damage.found } });
}

/** The next piece is sent once the server has passed on the last, so that memory stays bounded. */
async function sendBody(body: Readable): Promise<void> {
  for await (const piece of body) {
    const passedOn = new Promise<void>((resolve) => (pieceMayGo = resolve));
    tell({ piece: piece as Uint8Array });
    await passedOn;
  }
}

const tell = (message: FromProcess): void => void process.send?.(message);
