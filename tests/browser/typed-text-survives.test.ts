import { afterAll, beforeAll, expect, test } from '@jest/globals';
import type { Page } from 'playwright-core';
import { findRecord, jarsOfPack, lotsOf, recordsOf } from '#libs/store/queries/lots.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { startBrowser, pressMain, setUp, type BrowserWithServer } from '../support/browser.js';
import { writeEvening } from '../support/evening-scenario.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

let browser: BrowserWithServer;
let page: Page;
let jar = '';

beforeAll(async () => {
  browser = await startBrowser();
  ({ page } = await browser.open({ touch: true }));
  await setUp(page, browser.server);
  await writeEvening(browser.server);
  const { read } = browser.server.book;
  const pack = (await lotsOf(sugarhouseReader(read, 'home'), 'pack', undefined, 20)).find(
    (lot) => lot.state === 'open' && lot.jars,
  )?.code;
  for await (const first of jarsOfPack(sugarhouseReader(read, 'home'), pack ?? '', 1, 1))
    jar = printedJarCode(first.code);
}, 90_000);
afterAll(() => browser.close());

test('the sizes of a label sheet survive a reload, and the sheet is redrawn from them', async () => {
  const sizes = {
    pageWidth: '210',
    pageHeight: '297',
    columns: '2',
    rows: '4',
    left: '12.5',
    top: '20',
    labelWidth: '90',
    labelHeight: '60',
    pitchX: '95',
    pitchY: '65',
  };
  await page.goto('/stocks/new');
  for (const [name, value] of Object.entries(sizes)) {
    const box = page.locator(`[name=${name}]`);
    if ((await box.count()) > 0) await box.fill(value);
  }
  await page.reload();
  expect(await page.inputValue('[name=labelWidth]')).toBe('90');
  await page.locator('#sheet-seen svg').first().waitFor();
  expect(await page.locator('#sheet-seen svg').first().getAttribute('aria-label')).toContain('labels of 90 × 60 mm');
});

test('a reload opens the folded part that somebody typed into, and no other', async () => {
  const open = () =>
    page
      .locator('main form details')
      .evaluateAll((parts) =>
        parts
          .filter((part) => (part as HTMLDetailsElement).open)
          .map((part) => part.querySelector('summary')?.textContent),
      );
  await page.goto('/packs/begin');
  await page.fill('#f-densityReading', '66.9');
  await page.reload();
  expect(await page.inputValue('#f-densityReading')).toBe('66.9');
  expect(await open()).toEqual([]);
  await page.locator('summary:has-text("A hydrometer made for another")').click();
  await page.fill('#f-densityCalibratedAt', '68');
  await page.reload();
  expect(await open()).toEqual(['A hydrometer made for another temperature']);
}, 60_000);

test('text typed about a returned jar survives a reload, is queued while the server is unreachable, and is saved once', async () => {
  const complaints = () => recordsOf(sugarhouseReader(browser.server.book.read, 'home'), 'complaint');
  const before = (await complaints()).length;
  await page.goto(`/returns/${jar}`);
  await page.fill('#f-said', 'tastes of smoke');
  await page.check('input[name="hold"][value="no"]');
  await page.reload();
  expect(await page.inputValue('#f-said')).toBe('tastes of smoke');
  expect(await page.isChecked('input[name="hold"][value="no"]')).toBe(true);
  await page.context().setOffline(true);
  await pressMain(page);
  await page.waitForFunction(() => document.querySelector('#away')?.textContent?.startsWith('1 entry is kept'));
  expect(await complaints()).toHaveLength(before);
  await page.context().setOffline(false);
  await page.waitForFunction(() => document.querySelector('#away')?.textContent === '', undefined, { timeout: 30_000 });
  const after = await complaints();
  expect(after).toHaveLength(before + 1);
  expect(after.filter((each) => each.typed['said'] === 'tastes of smoke')).toHaveLength(1);
});

test('a returned jar’s form shows that mould holds the lot in place of the question whether to hold it', async () => {
  await page.goto(`/returns/${jar}`);
  const question = page.locator('#f-hold');
  const decided = page.locator('.decided');
  const shown = async () => [await question.isVisible(), await decided.isVisible()];
  const pick = (name: string, value: string) => page.check(`input[name="${name}"][value="${value}"]`);
  await pick('mould', 'no');
  expect(await shown()).toEqual([true, false]);
  await pick('mould', 'yes');
  expect(await shown()).toEqual([false, true]);
  await pick('came', 'opened-warm');
  expect(await shown()).toEqual([true, false]);
  await pick('came', 'sealed');
  await pick('mould', 'no');
  await pick('seal', 'bulging');
  expect(await shown()).toEqual([false, true]);
});

test('a count typed while the clock of a mock recall runs survives a reload, and is used to close it', async () => {
  await page.goto('/recall/mock');
  await pressMain(page);
  await page.waitForURL('**/recall/mock/P*');
  const id = decodeURIComponent(new URL(page.url()).pathname.split('/').pop() ?? '');
  await page.fill('#f-onShelf', '3');
  await page.reload();
  expect(await page.inputValue('#f-onShelf')).toBe('3');
  await pressMain(page);
  await page.waitForURL('**/recall/mock');
  // Without a count the reconciliation would use the book's figures, and the result would say so.
  const result = (await findRecord(sugarhouseReader(browser.server.book.read, 'home'), 'practice-recall', id))?.typed;
  expect(result?.['accounted']).toMatch(/^\d+\/\d+$/);
  expect(result?.['result']).not.toContain('not counted yet');
  expect(await page.evaluate(() => localStorage.getItem('drafts'))).not.toContain(`practise-${id}`);
});

test('a link that picks a lot overrides a draft with another lot, and a reload keeps the lot picked last', async () => {
  await page.goto('/dispatches/new');
  await page.fill('#f-to', 'Millrace Green market');
  await page.check('input[name="lot"][value=""]');
  const lot = await page.locator('input[name="lot"]').nth(1).getAttribute('value');
  await page.goto(`/dispatches/new?lot=${lot}`);
  expect(await page.inputValue('#f-to')).toBe('Millrace Green market');
  expect(await page.isChecked(`input[name="lot"][value="${lot}"]`)).toBe(true);
  await page.check('input[name="lot"][value=""]');
  await page.reload();
  expect(await page.isChecked('input[name="lot"][value=""]')).toBe(true);
});
