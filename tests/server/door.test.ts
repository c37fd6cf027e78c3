import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { aServer, type AServer } from './a-server.js';

let at: AServer;
beforeAll(async () => {
  at = await aServer();
});
afterAll(() => at.close());

test('the book says that it is well, to anybody', async () => {
  const answer = await at.web.inject('/healthz');
  expect([answer.statusCode, answer.json()]).toEqual([200, { ok: true }]);
  expect(answer.headers['content-security-policy']).toContain("script-src 'self'");
});

test('an address that is none is closed all the same: 401 under /api, the sign-in page elsewhere', async () => {
  const api = await at.web.inject({ method: 'POST', url: '/api/nothing', payload: '{"broken' });
  expect([api.statusCode, api.headers['content-type']]).toEqual([401, 'application/problem+json; charset=utf-8']);
  expect((await at.web.inject('/api/%zz')).statusCode).toBe(401);
  const page = await at.web.inject('/nothing');
  expect([page.statusCode, page.headers.location]).toEqual([303, '/sign-in?back=%2Fnothing']);
});

test('another host name is refused', async () => {
  const answer = await at.web.inject({ url: '/healthz', headers: { host: 'elsewhere.example' } });
  expect(answer.statusCode).toBe(421);
});

test('the typefaces and the style are open', async () => {
  const font = await at.web.inject('/assets/fonts/atkinson-hyperlegible-next-latin-400-normal.woff2');
  expect([font.statusCode, font.headers['content-type']]).toEqual([200, 'font/woff2']);
  expect((await at.web.inject('/assets/book.css')).statusCode).toBe(200);
  expect((await at.web.inject('/assets/../layout.eta')).statusCode).not.toBe(200);
});
