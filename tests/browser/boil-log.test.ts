import { afterAll, beforeAll, expect, test } from '@jest/globals';
import type { Page } from 'playwright-core';
import { recordsAbout } from '#libs/store/queries/lots.js';
import { startBrowser, pressMain, setUp, type BrowserWithServer } from '../support/browser.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { countSoundAndVibration } from '../support/sound-and-vibration.js';

let browser: BrowserWithServer;
let page: Page;
let signals: Awaited<ReturnType<typeof countSoundAndVibration>>;
let boil = '';

beforeAll(async () => {
  browser = await startBrowser();
  ({ page } = await browser.open({ touch: true }));
  signals = await countSoundAndVibration(page);
  await setUp(page, browser.server);
  await page.goto('/boils/begin');
  await page.fill('#f-waterBoilsAt', '210.5');
  await pressMain(page);
  await page.waitForURL('**/lots/*');
  boil = decodeURIComponent(new URL(page.url()).pathname.split('/').pop() ?? '');
}, 60_000);
afterAll(() => browser.close());

const read = async (degrees: string): Promise<void> => {
  await page.fill('#f-temperature', degrees);
  await page.press('#f-temperature', 'Enter');
  await page.locator(`.finish-bar:has-text("${degrees} °F")`).waitFor();
};

test('a reading near the finishing point gives sound and vibration as it is saved, and another gives none', async () => {
  await read('212.5');
  expect([await signals('sounds'), await signals('vibrations')]).toEqual([0, 0]);
  await read('216.5');
  expect(await signals('sounds')).toBeGreaterThanOrEqual(3);
  expect(await signals('vibrations')).toBeGreaterThanOrEqual(1);
  expect(await page.textContent('.finish-bar.is-near .to-go')).toContain('1.5 °F to go');
});

test('the finishing point stays in sight however far the page is scrolled', async () => {
  await page.evaluate(() => document.querySelector('.taps')?.scrollIntoView());
  const { y, height } = (await page.locator('#finish').boundingBox()) ?? { y: -1, height: 0 };
  expect(y).toBeGreaterThanOrEqual(0);
  expect(y + height).toBeLessThan(844 / 4);
});

test('a tap while the server is unreachable is queued with its time, and is saved once', async () => {
  await page.context().setOffline(true);
  await page.click('summary:has-text("at another time")');
  await page.click('.taps input[value="20"]');
  await page.click('text="Wood added"');
  await page.waitForFunction(() => document.querySelector('#away')?.textContent?.startsWith('1 entry is kept'));
  await page.fill('#f-temperature', '216.9');
  await page.press('#f-temperature', 'Enter');
  await page.waitForFunction(() => document.querySelector('#away')?.textContent?.startsWith('2 entries are kept'));
  // A pan is not a jar: it has no limit to be too cold.
  expect(await page.locator('.verdict').count()).toBe(0);
  await page.context().setOffline(false);
  await page.waitForFunction(() => document.querySelector('#away')?.textContent === '', undefined, { timeout: 30_000 });
  const lines = (await recordsAbout(sugarhouseReader(browser.server.book.read, 'home'), boil, 'line')).map(
    (each) => each.body,
  );
  const fires = lines.filter((line) => line.what === 'fire');
  expect(fires).toHaveLength(1);
  expect(Math.abs(Date.now() - 20 * 60_000 - Date.parse(fires[0]?.at ?? ''))).toBeLessThan(90_000);
  expect(lines.filter((line) => line.temperature?.typed === '216.9 F')).toHaveLength(1);
});
