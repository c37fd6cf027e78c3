import { afterEach, expect, test } from '@jest/globals';
import { startBrowser, type BrowserWithServer } from '../support/browser.js';

let browser: BrowserWithServer;
afterEach(() => browser.close());

const offered = async (board: string, phone: string, script = true): Promise<string> => {
  browser = await startBrowser({ BOILBOOK_TIME_ZONE: board });
  const { page } = await browser.open({ serviceWorker: false, zone: phone, script });
  await page.goto('/set-up');
  return page.inputValue('#f-zone');
};

test('a server without a time zone uses the phone’s at set-up', async () => {
  expect(await offered('UTC', 'America/Toronto')).toBe('America/Toronto');
}, 60_000);

test('a zone set on the machine is kept, whatever the phone’s is', async () => {
  expect(await offered('America/New_York', 'Europe/Vienna')).toBe('America/New_York');
}, 60_000);

test('without script the box shows the server’s zone, which can be changed', async () => {
  expect(await offered('UTC', 'America/Toronto', false)).toBe('UTC');
}, 60_000);
