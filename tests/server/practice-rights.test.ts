import { truncateSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addKey, addPerson } from '#libs/actions/accounts/accounts.js';
import { makeGuestLink } from '#libs/actions/accounts/sign-in.js';
import { done } from '../support/sugarhouse.js';
import { owner, setUp } from '../support/newcomer.js';
import { posted, signedIn, startServer, type TestServer } from '../support/server.js';

let at: TestServer;
beforeAll(async () => {
  at = await startServer();
  await setUp(at);
});
afterAll(() => at.close());

test('whoever only reads the book can’t open the practice book, and no file of it is made; a helper can until it is full', async () => {
  const link = done(await makeGuestLink(at.book, 'home', { name: 'Inspector', days: 7, by: 'WE' }, at.clock.now));
  const opened = await posted(at, `/guest/${link.token}`, {});
  const cookie = opened.cookies.map(({ name, value }) => `${name}=${value}`).join('; ');
  const { key } = done(await addKey(at.book, 'home', { name: 'reader', role: 'guest' }, at.clock.now));
  for (const headers of [{ cookie }, { authorization: `Bearer ${key}` }]) {
    const refused = await posted(at, '/practice', {}, headers);
    expect([refused.statusCode, refused.headers['set-cookie']]).toEqual([403, undefined]);
  }
  expect(at.server.currentPractice()).toBeUndefined();

  done(await addPerson(at.book, 'home', { initials: 'JP', role: 'helper', password: 'tin cup on a nail' }));
  let practising = '';
  for (const [initials, password] of [
    ['JP', 'tin cup on a nail'],
    ['WE', owner.password],
  ] as const) {
    const entered = await posted(at, '/practice', {}, { cookie: await signedIn(at, initials, password) });
    expect([initials, entered.statusCode, entered.headers.location]).toEqual([initials, 303, '/']);
    practising = entered.cookies.map(({ name, value }) => `${name}=${value}`).join('; ');
  }
  expect((await posted(at, '/sap/gather', { source: 'x' }, { cookie: practising })).statusCode).toBe(422);
  // As if it had been filled: the check only looks at the file. It stays small although the record book has an owner.
  truncateSync(join(at.server.settings.folder, 'practice', 'book.sqlite-wal'), 65 * 1024 * 1024);
  const full = await posted(at, '/sap/gather', { source: 'x' }, { cookie: practising });
  expect([full.statusCode, full.body.includes('The practice book is full')]).toEqual([503, true]);
});

test('documents requested in the practice book take no share from the owner, who has the same initials there', async () => {
  const cookie = await signedIn(at, 'WE', owner.password);
  const entered = await posted(at, '/practice', {}, { cookie });
  const practising = entered.cookies.map(({ name, value }) => `${name}=${value}`).join('; ');
  const sheetOf = (cookies: string) =>
    at.web.inject({ url: '/stocks/letter-10-up-102x51/alignment.pdf', headers: { cookie: cookies } });
  const many = Array.from({ length: 24 }, () => sheetOf(practising));
  const isFull = many.map(async (answer) =>
    (await answer).statusCode === 503 ? true : Promise.reject(new Error('sent')),
  );
  expect(await Promise.any(isFull)).toBe(true);
  expect((await sheetOf(cookie)).statusCode).toBe(200);
  await Promise.all(many);
});
