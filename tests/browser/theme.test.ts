import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { startBrowser, setUp, type BrowserWithServer } from '../support/browser.js';

let browser: BrowserWithServer;
beforeAll(async () => {
  browser = await startBrowser();
}, 60_000);
afterAll(() => browser.close());

test('the first view of a page transfers under 60 KB, with everything it loads', async () => {
  const { page, context, faults } = await browser.open();
  await setUp(page, browser.server);
  const session = await context.newCDPSession(page);
  await session.send('Network.enable');
  await session.send('Network.setCacheDisabled', { cacheDisabled: true });
  let bytes = 0;
  session.on('Network.loadingFinished', (each) => (bytes += each.encodedDataLength));
  await page.goto('/', { waitUntil: 'networkidle' });
  expect(bytes).toBeGreaterThan(20_000);
  expect(bytes).toBeLessThan(60 * 1024);
  expect(faults).toEqual([]);
});

test('a page is compressed unless the client chose some of its content; a search result is not', async () => {
  const { web } = browser.server;
  const request = async (url: string, take = 'gzip, deflate, br') =>
    web.inject({ url, headers: { 'accept-encoding': take } });
  const packed = await request('/sign-in');
  expect([packed.statusCode, packed.headers['content-encoding'], packed.headers.vary]).toEqual([
    200,
    'gzip',
    'Accept-Encoding',
  ]);
  const once = /name="_once" value="[^"]*"/g;
  const plain = await request('/sign-in', 'identity');
  expect(plain.headers['content-encoding']).toBeUndefined();
  expect(gunzipSync(packed.rawPayload).toString().replace(once, '')).toBe(plain.body.replace(once, ''));
  expect(packed.rawPayload.length).toBeLessThan(plain.rawPayload.length * 0.6);
  for (const url of ['/sign-in?back=/packs', '/no-such-page', '/J/AAAAAAAA'])
    expect([url, (await request(url)).headers['content-encoding']]).toEqual([url, undefined]);
});

test('style sheets and scripts are compressed for clients that accept it, and the same uncompressed for others', async () => {
  const { web } = browser.server;
  const plain = await web.inject({ url: '/assets/book.css' });
  const packed = await web.inject({ url: '/assets/book.css', headers: { 'accept-encoding': 'gzip' } });
  expect(plain.headers['content-encoding']).toBeUndefined();
  expect(packed.headers['content-encoding']).toBe('gzip');
  expect(gunzipSync(packed.rawPayload).equals(plain.rawPayload)).toBe(true);
  expect(packed.rawPayload.length).toBeLessThan(plain.rawPayload.length / 3);
});
