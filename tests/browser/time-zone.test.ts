import { afterEach, expect, test } from '@jest/globals';
import { aBrowser, type ABrowser } from '../support/browser.js';

let browser: ABrowser;
afterEach(() => browser.close());

const offered = async (board: string, phone: string, script = true): Promise<string> => {
  browser = await aBrowser({ BOILBOOK_TIME_ZONE: board });
  const { page } = await browser.open({ zone: phone, script });
  await page.goto('/set-up');
  return page.inputValue('#f-zone');
};

test('a server without a set time zone takes the phone’s at the set-up', async () => {
  expect(await offered('UTC', 'America/Toronto')).toBe('America/Toronto');
}, 60_000);

test('a zone that the machine has stands, whatever the phone says', async () => {
  expect(await offered('America/New_York', 'Europe/Vienna')).toBe('America/New_York');
}, 60_000);

test('without script the box shows what the server has, to be typed over', async () => {
  expect(await offered('UTC', 'America/Toronto', false)).toBe('UTC');
}, 60_000);
