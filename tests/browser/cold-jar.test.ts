import { afterAll, beforeAll, expect, test } from '@jest/globals';
import type { Page } from 'playwright-core';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { startBrowser, beginPack, setUp, type BrowserWithServer } from '../support/browser.js';
import { countSoundAndVibration } from '../support/sound-and-vibration.js';

let browser: BrowserWithServer;
let page: Page;
let signals: Awaited<ReturnType<typeof countSoundAndVibration>>;
let pack = '';

beforeAll(async () => {
  browser = await startBrowser();
  ({ page } = await browser.open({ touch: true }));
  signals = await countSoundAndVibration(page);
  await setUp(page, browser.server);
  await beginPack(page);
  pack = new URL(page.url()).pathname.split('/').at(-1) ?? '';
}, 90_000);
afterAll(() => browser.close());

const fills = async (): Promise<readonly string[]> =>
  ((await findRecord(sugarhouseReader(browser.server.book.read, 'home'), 'pack', pack))?.body.fillTemps ?? []).map(
    ({ typed }) => typed,
  );

test('a hot jar gives no signal; a cold one gives sound and vibration, is saved once, and is shown large with what to do', async () => {
  await page.fill('#f-temperature', '186');
  await page.press('#f-temperature', 'Enter');
  await page.locator('.judged:has-text("186 °F")').waitFor();
  expect([await signals('sounds'), await signals('vibrations')]).toEqual([0, 0]);
  await page.fill('#f-temperature', '178');
  await page.fill('#f-upTo', '6');
  await page.press('#f-temperature', 'Enter');
  expect(await page.getAttribute('.fill-form button.main-action', 'aria-busy')).toBe('true');
  // A second press while it is being sent neither loses nor adds anything.
  await page.press('#f-temperature', 'Enter');
  await page.locator('.judged.stops:has-text("178 °F")').waitFor();
  expect(await signals('sounds')).toBeGreaterThanOrEqual(3);
  expect(await signals('vibrations')).toBeGreaterThanOrEqual(1);
  expect((await fills()).filter((typed) => typed.startsWith('178'))).toHaveLength(1);
  expect(await page.locator('main .main-action:not(.second)').first().textContent()).toContain(
    'poured back, filled again',
  );
  const size = await page.$eval('.judged.stops .reading', (reading) => parseFloat(getComputedStyle(reading).fontSize));
  expect(size).toBeGreaterThanOrEqual(48);
}, 60_000);

test('a cold reading is saved while its warning still sounds', async () => {
  // The warning takes 1.2 s, and only then does the page change.
  await page.evaluate(() => {
    sessionStorage.removeItem('changed');
    addEventListener('pagehide', () => sessionStorage.setItem('changed', String(Date.now())));
  });
  await page.fill('#f-temperature', '177');
  await page.press('#f-temperature', 'Enter');
  for (let tries = 0; tries < 100 && (await fills()).length < 3; tries++) await new Promise((on) => setTimeout(on, 20));
  const savedAt = Date.now();
  await page.locator('.judged.stops:has-text("177 °F")').waitFor();
  expect(savedAt).toBeLessThan(await page.evaluate(() => Number(sessionStorage.getItem('changed'))));
}, 60_000);
