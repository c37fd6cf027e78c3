import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { aBrowser, setUp, type ABrowser } from './a-browser.js';

let browser: ABrowser;
beforeAll(async () => {
  browser = await aBrowser();
}, 60_000);
afterAll(() => browser.close());

test('the first view of a page is under 60 KB over the wire, everything with it', async () => {
  const { page, context, faults } = await browser.open();
  await setUp(page, browser.server);
  const wire = await context.newCDPSession(page);
  await wire.send('Network.enable');
  await wire.send('Network.setCacheDisabled', { cacheDisabled: true });
  let bytes = 0;
  wire.on('Network.loadingFinished', (each) => (bytes += each.encodedDataLength));
  await page.goto('/', { waitUntil: 'networkidle' });
  expect(bytes).toBeGreaterThan(20_000);
  expect(bytes).toBeLessThan(60 * 1024);
  expect(faults).toEqual([]);
});

test('sheets and scripts go packed to those who can unpack them, and the same to those who can’t', async () => {
  const { web } = browser.server;
  const plain = await web.inject({ url: '/assets/book.css' });
  const packed = await web.inject({ url: '/assets/book.css', headers: { 'accept-encoding': 'gzip' } });
  expect(plain.headers['content-encoding']).toBeUndefined();
  expect(packed.headers['content-encoding']).toBe('gzip');
  expect(gunzipSync(packed.rawPayload).equals(plain.rawPayload)).toBe(true);
  expect(packed.rawPayload.length).toBeLessThan(plain.rawPayload.length / 3);
});
