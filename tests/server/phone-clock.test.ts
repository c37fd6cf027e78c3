import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addPerson } from '#libs/actions/accounts/accounts.js';
import type { Server } from '../../apps/server/http/server.js';
import { readHead } from '#libs/store/log/log.js';
import { type TestServer, startServer, posted, signedIn } from '../support/server.js';
import { writeDay } from '../support/season-server.js';

let at: TestServer;
let cookie: string;
beforeAll(async () => {
  at = await startServer();
  await writeDay(at);
  const password = 'maple sap in the morning';
  await addPerson(at.book, 'home', { initials: 'WE', role: 'owner', password });
  cookie = await signedIn(at, 'WE', password);
});
afterAll(() => at.close());

const gather = (id: string, more: Record<string, string>) =>
  posted(
    at,
    '/sap/gather',
    { id, gatheredAt: '2026-03-20T11:00', source: 'Brook lot', volume: '40 gal', ...more },
    { cookie },
  );

test('before the first entry after a start the server compares its clock with the phone; a person may confirm that it is right', async () => {
  // The server is restarted a minute after the last entry.
  at.clock.now = new Date(at.clock.now.getTime() + 60_000);
  Object.assign(at.server, { startedAt: at.clock.now } satisfies Partial<Server>);
  const { entries } = await readHead(at.book.read);
  const hourOn = new Date(at.clock.now.getTime() + 3_600_000).toISOString();

  const request = await gather('G101', { _phone: hourOn });
  expect(request.statusCode).toBe(409);
  expect(request.body).toMatch(
    /clock says 2026-03-20T16:01 UTC, but the phone or computer you write on says 2026-03-20T17:01 UTC/,
  );
  expect(request.body).toContain('Brook lot');
  expect(request.body).toMatch(/<button[^>]*name="_clock" value="right"/);
  expect((await readHead(at.book.read)).entries).toBe(entries);

  expect((await gather('G101', { _phone: hourOn, _clock: 'right' })).statusCode).toBe(303);
  at.clock.now = new Date(at.clock.now.getTime() + 60_000);
  // After the first entry since the start, the question is not asked again.
  expect((await gather('G102', { _phone: hourOn })).statusCode).toBe(303);
  expect((await readHead(at.book.read)).entries).toBe(entries + 2);
});

test('with a phone whose clock agrees, or that sends no time, there is no question', async () => {
  Object.assign(at.server, { startedAt: new Date(at.clock.now.getTime() + 60_000) } satisfies Partial<Server>);
  at.clock.now = new Date(at.clock.now.getTime() + 120_000);
  expect((await gather('G103', { _phone: at.clock.now.toISOString() })).statusCode).toBe(303);
  Object.assign(at.server, { startedAt: new Date(at.clock.now.getTime() + 60_000) } satisfies Partial<Server>);
  at.clock.now = new Date(at.clock.now.getTime() + 120_000);
  expect((await gather('G104', {})).statusCode).toBe(303);
});
