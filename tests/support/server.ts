import { mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { openBook, type Book } from '#libs/store/book.js';
import { putEmptyBook } from './empty-book.js';
import type { Engine } from './engines.js';
import { buildApp } from '../../apps/server/app.js';
import { setupCode } from '../../apps/server/screens/set-up/setup-code.js';
import { practiceBook } from '../../apps/server/practice-book.js';
import { readSettings } from '../../apps/server/settings.js';
import type { RouteRow } from '../../apps/server/http/route-table.js';
import type { Server } from '../../apps/server/http/server.js';
import { whereBooksAre } from './where-books-are.mjs';

export interface TestServer {
  readonly web: FastifyInstance;
  readonly book: Book;
  readonly server: Server;
  readonly routes: readonly RouteRow[];
  readonly log: string[];
  /** The setup codes, as printed. */
  readonly lines: string[];
  /** The clock stands still until a test moves it. */
  readonly clock: { now: Date };
  close(): Promise<void>;
}

/** The real app over a real book, a SQLite file unless an engine is given, with a clock that the test moves. */
export async function startServer(
  env: Record<string, string> = {},
  { engine, requestsPerMinute }: { engine?: Engine; requestsPerMinute?: number } = {},
): Promise<TestServer> {
  const folder = mkdtempSync(join(whereBooksAre(), 'boilbook-server-'));
  const read = readSettings({ BOILBOOK_DATA: folder, BOILBOOK_TIME_ZONE: 'America/New_York', ...env });
  if ('faults' in read) throw new Error(read.faults.join('\n'));
  const { location } = read.settings;
  if (!engine && 'file' in location) await putEmptyBook(location.file);
  const book = await openBook(engine ? await engine.freshKeeping() : location);
  const clock = { now: new Date('2026-03-20T16:00:00Z') };
  const practice = practiceBook(read.settings, () => clock.now);
  const log: string[] = [];
  const text: string[] = [];
  const server: Server = {
    settings: read.settings,
    book,
    practice: practice.open,
    currentPractice: practice.current,
    setupCode: setupCode((word) => text.push(word)),
    clock: () => clock.now,
    startedAt: clock.now,
    log: (line, more) => log.push(JSON.stringify({ line, ...more })),
    requestsPerMinute,
  };
  const { app, routes } = await buildApp(server);
  return {
    web: app.getHttpAdapter().getInstance(),
    book,
    server,
    routes,
    log,
    lines: text,
    clock,
    close: async () => {
      await app.close();
      await practice.close();
      await book.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Posts a form as a browser does: one that came from a page (`_once`) says what it was drawn for (`originOn`). */
export async function posted(
  at: TestServer,
  url: string,
  fields: Record<string, string>,
  headers: Record<string, string> = {},
) {
  const isMarked = fields['_book'] !== undefined || !fields['_once'] || !headers['cookie'];
  const origin = isMarked ? {} : await originOn(at, headers['cookie'] ?? '');
  return at.web.inject({
    method: 'POST',
    url,
    payload: new URLSearchParams({ ...origin, ...fields }).toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded', origin: 'http://localhost', ...headers },
  });
}

/** The hidden fields that say for whom a page was drawn with this cookie. */
export async function originOn(at: TestServer, cookie: string): Promise<Record<string, string>> {
  const { body } = await at.web.inject({ url: '/account', headers: { cookie } });
  const fields = body.matchAll(/<input type="hidden" name="(_book|_house|_person)" value="([^"]*)">/g);
  return Object.fromEntries([...fields].map(([, name = '', value = '']) => [name, value]));
}

/** Cookies of somebody who has signed in. */
export async function signedIn(at: TestServer, initials: string, password: string): Promise<string> {
  const answer = await posted(at, '/sign-in', { initials, password });
  if (answer.statusCode !== 303) throw new Error(`${initials} was not let in: ${answer.statusCode} ${answer.body}`);
  return answer.cookies.map((each) => `${each.name}=${each.value}`).join('; ');
}
