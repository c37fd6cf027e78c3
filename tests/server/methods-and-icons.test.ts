import { expect, test } from '@jest/globals';
import { apiSuite, gathering } from '../support/api-suite.js';
import { sqlite } from '../support/engines.js';

const keyed = apiSuite(sqlite());
const { get: request, sent, keys } = keyed;
const inject = (method: 'DELETE' | 'PUT' | 'POST' | 'GET', url: string, role?: string) =>
  keyed.at.web.inject({ method, url, headers: role ? { authorization: `Bearer ${keys[role]}` } : {} });

test('an existing address answers a wrong method with 405 and the allowed ones', async () => {
  for (const [method, url, allow] of [
    ['DELETE', '/api/gatherings', 'GET, HEAD, POST'],
    ['PUT', '/api/gatherings/G041', 'GET, HEAD'],
    ['POST', `/api/lots/${keyed.day.pack}/trace`, 'GET, HEAD'],
    ['GET', '/api/corrections', 'POST'],
    ['DELETE', '/api/seasons/2026/summary.pdf', 'GET, HEAD'],
    ['DELETE', `/api/photos/${'0'.repeat(64)}`, 'GET, HEAD'],
  ] as const) {
    const answer = await inject(method, url, 'owner');
    expect([method, url, answer.statusCode, answer.headers.allow]).toEqual([method, url, 405, allow]);
    expect(answer.json()).toMatchObject({ status: 405, title: 'Method not allowed' });
  }
  expect((await inject('DELETE', '/api/nothing', 'owner')).statusCode).toBe(404);
  expect((await inject('PUT', '/api/seasons/2026/summaryxpdf', 'owner')).statusCode).toBe(404);
});

test('without a key a wrong method reveals nothing of protected addresses, and lists the methods of public ones', async () => {
  expect((await inject('DELETE', '/api/gatherings')).statusCode).toBe(401);
  expect((await inject('DELETE', '/api/nothing')).statusCode).toBe(401);
  expect((await inject('DELETE', '/people')).statusCode).toBe(303);
  const open = await inject('DELETE', '/healthz');
  expect([open.statusCode, open.headers.allow]).toEqual([405, 'GET, HEAD']);
});

test('a query parameter that an address doesn’t have is refused by name', async () => {
  for (const url of ['/api/gatherings?yaer=2026', '/api/gatherings/G041?year=2026', '/api/record?x=1']) {
    const answer = await request(url);
    expect([url, answer.statusCode]).toEqual([url, 422]);
    expect(answer.json<{ faults: object[] }>().faults).toEqual([
      expect.objectContaining({ got: expect.stringMatching(/^a query (yaer|year|x)$/) }),
    ]);
  }
  expect((await request('/api/gatherings?year=2026&most=5')).statusCode).toBe(200);
  expect((await request('/api/gatherings?from=0&after=')).statusCode).toBe(422);
  expect((await request(`/api/lots/${keyed.day.pack}/jars?from=1&most=5`)).statusCode).toBe(200);
  expect((await request('/api/reckon/weight?volume=1+gal&density=66.9+Bx')).statusCode).toBe(200);
  expect((await request('/api/gatherings?yaer=2026', 'nobody')).statusCode).toBe(401);
});

test('the ETag of a record is its last entry; of two writers who send it back, one succeeds and the other gets 412', async () => {
  await sent('/api/gatherings', { id: 'G700', ...gathering });
  const read = await request('/api/gatherings/G700');
  const tag = String(read.headers.etag);
  expect(tag).toBe(`"${read.json<{ entry: number }>().entry}"`);
  const correct = (source: string) =>
    sent(
      '/api/corrections',
      { entry: read.json<{ entry: number }>().entry, why: 'misread', changes: { source } },
      { 'if-match': tag },
    );
  const first = await correct('upper lines');
  expect([first.statusCode, first.headers.etag]).toEqual([201, `"${first.json<{ entry: number }>().entry}"`]);
  const second = await correct('north slope');
  expect([second.statusCode, second.json()]).toEqual([
    412,
    expect.objectContaining({
      status: 412,
      type: 'urn:boilbook:problem:changed-since',
      entry: first.json<{ entry: number }>().entry,
    }),
  ]);
  expect((await request('/api/gatherings/G700')).json()).toMatchObject({ source: 'upper lines' });
});

test('files that browsers and crawlers request by themselves need no sign-in', async () => {
  const robots = await inject('GET', '/robots.txt');
  expect([robots.statusCode, robots.headers['content-type'], robots.body]).toEqual([
    200,
    'text/plain; charset=utf-8',
    'User-agent: *\nDisallow: /\n',
  ]);
  // A malformed query is refused there too, and is no server error.
  for (const url of ['/robots.txt?a=%00', '/favicon.ico?a=%00', '/assets/book.css?a=%00'])
    expect([url, (await inject('GET', url)).statusCode]).toEqual([url, 422]);
  for (const [url, type] of [
    ['/favicon.ico', 'image/svg+xml'],
    ['/apple-touch-icon.png', 'image/png'],
    ['/apple-touch-icon-precomposed.png', 'image/png'],
  ] as const) {
    const icon = await inject('GET', url);
    expect([url, icon.statusCode]).toEqual([url, 302]);
    const drawn = await inject('GET', String(icon.headers.location));
    expect([url, drawn.statusCode, drawn.headers['content-type']]).toEqual([url, 200, type]);
  }
});
