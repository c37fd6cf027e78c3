import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { checkPlaceFiles } from '#libs/actions/places/place-file.js';
import { Server as TlsServer } from 'node:tls';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { BookNotOpened, openConfiguredBook } from '#libs/actions/record/open-configured-book.js';
import { type Book, NewerBook } from '#libs/store/book.js';
import { bookId } from '#libs/store/household/book-id.js';
import { restoreAsRequested } from '#libs/store/backup/restore-request.js';
import { momentIn } from '#libs/actions/record/times.js';
import { damageIn, damageSentence } from '#libs/store/backup/damage.js';
import { isDamage } from '#libs/store/connection/damage-error.js';
import { isClaimed } from '#libs/store/household/household.js';
import { findEntry, readHead } from '#libs/store/log/log.js';
import { packageRoot } from '#libs/package-root.js';
import { symbolForTerminal } from '#libs/labels/symbol/symbol-terminal.js';
import { buildApp } from './app.js';
import { setupCode } from './screens/set-up/setup-code.js';
import { backUpEachNight } from './scheduled-backup.js';
import { documentProcesses } from './documents/document-processes.js';
import { practiceBook } from './practice-book.js';
import { readAhead } from './read-ahead.js';
import { readSettings, type Settings } from './settings.js';
import { printLine, printBuffered } from './standard-output.js';
import { isLoopback } from './http/host-names.js';
import { home } from './http/identify.js';
import { logLine } from './http/log-line.js';
import { phoneAddressesOf } from './http/own-addresses.js';
import type { Server } from './http/server.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import type { HouseCertificate } from './tls/house-certificate.js';
import { isPrivateAddress } from './tls/house-names.js';
import type { RenewedCertificate } from './tls/renew-house-certificate.js';

const requestsPerMinute = 120;
const readAheadAfterMs = 1000;
/** apps/restart-on-exit.mjs starts the server again after it. */
const startAgainStatus = 75;

await serve().catch((fault: unknown) =>
  exitWithMessage([`The server could not start: ${(fault as Error).message}`], 1),
);

async function serve(): Promise<void> {
  const parsed = readSettings(process.env, process.argv.slice(2));
  if ('faults' in parsed) return exitWithMessage(parsed.faults, 2);
  checkPlaceFiles();
  const clock = (): Date => new Date();
  const houseTls = parsed.settings.houseTls ? await loadHouseCertificate(parsed.settings, clock) : undefined;
  const settings = houseTls ? { ...parsed.settings, tls: tlsFiles(houseTls.current()) } : parsed.settings;
  await restoreIfRequested(settings, clock());
  const book = await openConfiguredBook(settings, settings.beginNewBook, clock()).catch((fault: unknown) =>
    handleOpenFailure(settings, fault),
  );
  if (!book) return;
  const damage = await checkForDamage(settings, book);
  if (damage.found !== undefined) printLine(damage.found);
  // Created now, so that no page waits for it behind a long write.
  if (damage.found === undefined) await bookId(book);
  const practice = practiceBook(settings, clock);
  let port = settings.port;
  const scheme = settings.tls ? 'https' : 'http';
  const log: Server['log'] = (line, more) =>
    logLine(line === 'request' ? printBuffered : printLine, clock(), line, more);
  const documents = documentProcesses(process.argv.slice(2), { log, damage: (found) => (damage.found = found) });
  const server: Server = {
    settings,
    documents,
    book,
    practice: practice.open,
    currentPractice: practice.current,
    setupCode: setupCode((word) => printLine(`Setup code, valid for one hour: ${word}`)),
    clock,
    damage,
    startedAt: clock(),
    log,
    phoneAddresses: () => phoneAddressesOf({ host: settings.host, scheme, port }),
    ...(houseTls ? { authority: () => houseTls.current() } : {}),
    restart: { isAutomatic: process.connected, now: () => restart() },
    requestsPerMinute,
  };
  let restart = (): void => {};
  const { app } = await buildApp(server);
  if (!(await listen(app, settings))) return;
  const stopBackups = backUpEachNight(book, settings, clock, printLine);
  const http = app.getHttpServer();
  const stopRenewing = http instanceof TlsServer ? houseTls?.renewOn(http, printLine) : undefined;
  ({ port } = http.address() as { port: number });
  await printAddresses(server, scheme, port);
  // Delayed, so that whoever waits for the server to start is answered first.
  setTimeout(() => void readAhead(server), readAheadAfterMs).unref();
  restart = closeOnSignal(async () => {
    stopBackups();
    stopRenewing?.();
    await closeApp(app);
    documents?.close();
    await practice.close();
    await book.close();
  });
}

/** Whether the server now listens; where it can't, the process ends with the reason. */
async function listen(app: NestFastifyApplication, settings: Settings): Promise<boolean> {
  try {
    await app.listen(settings.port, settings.host);
    return true;
  } catch (fault) {
    exitWithMessage([listenSentence(fault as NodeJS.ErrnoException, settings)], 1);
    return false;
  }
}

/** Phones keep connections open after a response: idle ones are closed, since closing the server would wait for them. */
async function closeApp(app: NestFastifyApplication): Promise<void> {
  const idleSweep = setInterval(() => app.getHttpServer().closeIdleConnections(), 50);
  await app.close();
  clearInterval(idleSweep);
}

/** Carries out a restore that an owner requested on a page; the server ended for it. */
async function restoreIfRequested({ location, folder, zone }: Settings, now: Date): Promise<void> {
  if (!('file' in location)) return;
  const outcome = await restoreAsRequested(
    folder,
    location.file,
    momentIn(zone, now).slice(0, 19).replace(/:/g, '-'),
    now,
  );
  if (!outcome) return;
  printLine(
    outcome.done
      ? `Restored ${outcome.name}, as ${outcome.by} asked. ${outcome.keptAside ? `The previous book is kept as ${outcome.keptAside}.` : 'There was no book here before.'}`
      : `${outcome.name} was not restored: ${outcome.why} The book is unchanged.`,
  );
}

/** Loaded only with `--tls`: it takes a tenth of a second that other starts don't need. */
async function loadHouseCertificate(settings: Settings, clock: () => Date): Promise<RenewedCertificate> {
  const { renewHouseCertificate: keepHouseCertificate } = await import('./tls/renew-house-certificate.js');
  return keepHouseCertificate(settings, clock);
}

function tlsFiles({ cert, key }: HouseCertificate): Settings['tls'] {
  return { cert: Buffer.from(cert), key: Buffer.from(key) };
}

/** Under the launcher a page shows the fault to phones too, until the damaged file is replaced. */
async function handleOpenFailure(settings: Settings, fault: unknown): Promise<undefined> {
  const sentence = await openFailureSentence(settings, fault);
  const { location } = settings;
  if (!process.connected || !isDamage(fault) || !('file' in location)) return exitWithMessage([sentence], 1);
  process.stderr.write(`${sentence}\nUntil then every page of this server shows this message.\n`);
  const { serveDamagedPage } = await import('./damaged-book.js');
  await serveDamagedPage(settings, location.file, sentence);
  process.exit(startAgainStatus);
}

async function openFailureSentence({ location }: Settings, fault: unknown): Promise<string> {
  if (fault instanceof NewerBook || fault instanceof BookNotOpened) return fault.message;
  const { message } = fault as Error;
  return isDamage(fault) && 'file' in location
    ? damageSentence(location.file, message)
    : `The book can’t be opened: ${message}`;
}

/** Runs SQLite's quick check before anything is written; the result is shown in the terminal and on Today. */
async function checkForDamage({ location }: Settings, book: Book): Promise<{ found: string | undefined }> {
  const found = 'file' in location ? await damageIn(book.read, 'quick_check') : undefined;
  return {
    found: found === undefined || !('file' in location) ? undefined : await damageSentence(location.file, found),
  };
}

async function printAddresses(server: Server, scheme: string, port: number): Promise<void> {
  const { settings, book } = server;
  const { version } = JSON.parse(readFileSync(join(packageRoot, 'package.json'), 'utf8')) as { version: string };
  const displayHost = ['0.0.0.0', '::'].includes(settings.host) ? '127.0.0.1' : settings.host;
  printLine(`Boilbook ${version}: ${scheme}://${displayHost.includes(':') ? `[${displayHost}]` : displayHost}:${port}`);
  for (const line of await phoneLines(server)) printLine(line);
  for (const line of await clockWarnings(book, server.clock())) printLine(line);
  if (!(await isClaimed(sugarhouseReader(book.read, home)))) server.setupCode.current(server.clock());
}

/** How phones connect: a QR code for the camera, and the same address as text. */
async function phoneLines({ settings, phoneAddresses, authority }: Server): Promise<string[]> {
  if (isLoopback(settings.host))
    return ['Only this machine can open it. For phones on the same network: npm start -- --lan'];
  const addresses = phoneAddresses?.();
  if (!addresses) return ['This machine is not on a network, so no phone can open it.'];
  const { first, others, byName } = addresses;
  const host = new URL(first).hostname.replace(/^\[|\]$/g, '');
  return [
    `Phones on the same network: ${first}`,
    '',
    ...(await symbolForTerminal(first, process.stdout.isTTY)),
    '',
    ...(others.length > 0 ? [`If that address does not open: ${others.join('  ')}`] : []),
    ...(byName ? [`By its name on the network: ${byName}`] : []),
    ...(settings.tls
      ? []
      : ['Without TLS, others on this network can read what is sent. To serve with TLS: npm start -- --lan --tls']),
    ...(authority
      ? [
          `A phone shows a warning until it trusts this certificate: see ${first}/trust. Its SHA-256 fingerprint must be`,
          authority().fingerprint,
          ...(isPrivateAddress(host)
            ? []
            : [
                `${host} is not a private address, so the certificate does not cover it and phones will still show a warning.`,
              ]),
        ]
      : []),
  ];
}

/** A computer without a clock battery starts with a date in the past, so this is printed before the first entry. */
async function clockWarnings(book: Book, now: Date): Promise<string[]> {
  const { entries } = await readHead(book.read);
  const last = entries === 0 ? undefined : await findEntry(book.read, entries);
  if (!last || Date.parse(last.typedAt) <= now.getTime() + 60_000) return [];
  return [
    `This machine’s clock reads ${now.toISOString()}, but the last entry was saved ${last.typedAt}. Set the clock before you record anything.`,
  ];
}

function listenSentence(fault: NodeJS.ErrnoException, { host, port }: Settings): string {
  if (fault.code === 'EADDRINUSE')
    return `Port ${port} is in use: is Boilbook already running? To use another port, set BOILBOOK_PORT.`;
  if (fault.code === 'EACCES') return `This account may not use port ${port}. To use another port, set BOILBOOK_PORT.`;
  if (fault.code === 'EADDRNOTAVAIL') return `BOILBOOK_HOST: ${host} is not an address of this machine.`;
  return `The server can’t listen on ${host}:${port}: ${fault.message}`;
}

/**
 * Finishes requests in progress, then closes the book; a second signal, or ten seconds, ends the process at once.
 * Returns a function that does the same for a restore, with the status that makes the launcher start it again.
 */
function closeOnSignal(close: () => Promise<void>): () => void {
  let closingSince: number | undefined;
  const end = (status: number): void => {
    // systemd and a terminal signal every process of a group, and the launcher forwards its own: that counts as one
    // signal.
    if (closingSince !== undefined) return Date.now() - closingSince > 1000 ? process.exit(1) : undefined;
    closingSince = Date.now();
    printLine('Closing the book …');
    setTimeout(() => process.exit(1), 10_000).unref();
    close().then(
      () => process.exit(status),
      (fault: unknown) => exitWithMessage([`The book was not closed properly: ${(fault as Error).message}`], 1),
    );
  };
  process.on('SIGTERM', () => end(0));
  process.on('SIGINT', () => end(0));
  // The launcher has ended.
  process.once('disconnect', () => end(0));
  return () => end(startAgainStatus);
}

function exitWithMessage(sentences: readonly string[], status: number): undefined {
  for (const sentence of sentences) process.stderr.write(`${sentence}\n`);
  process.exit(status);
}
