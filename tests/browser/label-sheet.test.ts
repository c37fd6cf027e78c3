import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import type { Page } from 'playwright-core';
import { addPerson } from '#libs/actions/accounts/accounts.js';
import { loadOwnStocks } from '#libs/actions/labels/label-stocks.js';
import { writeDay } from '../support/season-server.js';
import { signIn, startBrowser, type BrowserWithServer, type WindowOptions } from '../support/browser.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

let browser: BrowserWithServer;
let day: Awaited<ReturnType<typeof writeDay>>;
const password = 'steam over the sugarhouse roof';
// No test reads the screenshots: they are for people to look at.
const shots = process.env['BOILBOOK_TEST_SCREENS'];

beforeAll(async () => {
  if (shots) mkdirSync(shots, { recursive: true });
  browser = await startBrowser();
  day = await writeDay(browser.server);
  const added = await addPerson(browser.server.book, 'home', { initials: 'WE', name: 'Wren', role: 'owner', password });
  if ('problem' in added) throw new Error(JSON.stringify(added.problem));
}, 120_000);
afterAll(() => browser.close());

const openSignedIn = async (options: WindowOptions) => {
  const opened = await browser.open({ serviceWorker: false, ...options });
  await signIn(opened.page, 'WE', password);
  return opened;
};
const pictured = async (page: Page, name: string): Promise<void> => {
  if (shots) await page.screenshot({ path: join(shots, `${name}.png`), fullPage: true });
};
const sizes = {
  pageWidth: '215.9',
  pageHeight: '279.4',
  left: '12.5',
  top: '14',
  columns: '2',
  rows: '4',
  labelWidth: '90',
  labelHeight: '60',
  pitchX: '95',
};

test.each([
  [320, [true, false]],
  [390, [false]],
  [1280, [true]],
])(
  'at %i the sheet is drawn while typing, and without script by "Preview"',
  async (width, scripts) => {
    for (const script of scripts) {
      const { context, page, faults } = await openSignedIn({ width, script, theme: script ? 'light' : 'dark' });
      await page.goto('/stocks/new');
      for (const [name, value] of Object.entries(sizes)) await page.fill(`[name=${name}]`, value);
      if (!script) await page.click('text=Preview');
      const drawn = page.locator('#sheet-seen svg').first();
      await drawn.waitFor();
      expect(await drawn.getAttribute('aria-label')).toContain('2 × 4 labels of 90 × 60 mm');
      await page.fill('[name=pitchX]', '80');
      if (!script) await page.click('text=Preview');
      await page.waitForSelector('#sheet-seen >> text=Labels overlap sideways');
      expect(await page.inputValue('[name=left]')).toBe('12.5');
      await page.fill('[name=pitchX]', '95');
      if (!script) await page.click('text=Preview');
      const label = page.getByRole('img', { name: /^Label:/ });
      await label.waitFor();
      expect(await page.locator('#sheet-seen').getByRole('img').count()).toBe(2);
      expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(width);
      await pictured(page, `stock-${width}-${script ? 'light' : 'dark'}`);
      if (!script) {
        await page.fill('[name=id]', `own-${width}`);
        await Promise.all([page.waitForURL('/stocks'), page.click('text=Save this label sheet')]);
        expect(
          (await loadOwnStocks(sugarhouseReader(browser.server.book.read, 'home'))).map((each) => each.name),
        ).toContain(`own-${width}`);
        await pictured(page, `own-stocks-${width}`);
        await page.goto(`/lots/${day.pack}/labels`);
        if (await page.isVisible('text=I have read it')) await page.click('text=I have read it');
        await page.waitForSelector('text=Print the labels');
        expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(width);
        await pictured(page, `own-labels-${width}`);
      }
      expect(faults).toEqual([]);
      await context.close();
    }
  },
  120_000,
);
