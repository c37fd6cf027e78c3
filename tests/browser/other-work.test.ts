import { afterAll, beforeAll, expect, test } from '@jest/globals';
import type { Page } from 'playwright-core';
import { readHead } from '#libs/store/log/log.js';
import { countRecords } from '#libs/store/queries/lots.js';
import { startBrowser, pressMain, setUp, type BrowserWithServer } from '../support/browser.js';
import { writeEvening } from '../support/evening-scenario.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

let browser: BrowserWithServer;
let page: Page;

beforeAll(async () => {
  browser = await startBrowser();
  ({ page } = await browser.open({ serviceWorker: false, script: false }));
  await setUp(page, browser.server);
  await writeEvening(browser.server);
}, 90_000);
afterAll(() => browser.close());

const entries = async (): Promise<number> => (await readHead(browser.server.book.read)).entries;
const previewRows = async (rows: string): Promise<void> => {
  await page.goto('/files');
  await page.click('summary:has-text("Paste rows instead")');
  await page.fill('#f-rows', rows);
  await page.click('text="Check the file"');
};

test('a file is previewed with every fault before anything is written, and is imported whole once it is corrected', async () => {
  const before = await entries();
  await previewRows(
    'id,gathered_at,source,volume\nG051,2026-03-20T16:00,North slope,120\nG052,yesterday,South road,40 gal\n',
  );
  expect(await page.textContent('.summary')).toMatch(
    /2 faults: nothing was saved.*Line 2, volume:.*Line 3, gathered_at:/s,
  );
  await previewRows(
    'id,gathered_at,source,volume\nG051,2026-03-20T16:00,North slope,120 gal\nG052,2026-03-20T17:00,South road,40 gal\n',
  );
  expect(await page.textContent('.now')).toContain('2 rows of gatherings: 2 new');
  expect(await entries()).toBe(before);
  await pressMain(page);
  await page.waitForURL('**/files');
  expect(await page.textContent('.noted')).toContain('2 written');
  expect(await entries()).toBe(before + 2);
});

test('a chosen file is read as well, and an export is imported again unchanged', async () => {
  const out = await page.request.get(`${browser.base}/files/export/gatherings.csv`);
  const csv = await out.body();
  expect(csv.toString()).toContain('"G051"');
  await page.goto('/files');
  await page.setInputFiles('#f-file', { name: 'gatherings.csv', mimeType: 'text/csv', buffer: csv });
  await page.click('text="Check the file"');
  expect(await page.textContent('.now')).toMatch(/4 rows of gatherings: 0 new, 0 corrected, 4 already/);
});

test('a backup of the whole book is downloaded as one file', async () => {
  await page.goto('/files');
  const [backup] = await Promise.all([page.waitForEvent('download'), page.click('text="Download a backup"')]);
  expect(backup.suggestedFilename()).toMatch(/^boilbook-\d{4}-\d\d-\d\d\.sqlite$/);
});

test('the record is recomputed and compared with a printed root', async () => {
  const { root, entries: count } = await readHead(browser.server.book.read);
  await page.goto('/history');
  await page.click('summary:has-text("Compare with a printed page")');
  await page.fill('#f-root', root);
  await page.fill('#f-entries', String(count));
  await pressMain(page);
  expect(await page.textContent('.noted')).toContain('they match the printed page');
  await page.click('summary:has-text("Compare with a printed page")');
  await page.fill('#f-root', 'ab'.repeat(32));
  await page.fill('#f-entries', String(count));
  await pressMain(page);
  expect(await page.textContent('.why')).toContain('IT DIFFERS');
});

test('a mock recall picks a jar, traces it, and the result is recorded', async () => {
  await page.goto('/history');
  await page.click('a:has-text("Mock recall")');
  await pressMain(page);
  await page.waitForURL('**/recall/mock/P*');
  expect(await page.textContent('main [data-since]')).toContain('Since then: 0 min');
  const running = await browser.open({ serviceWorker: false });
  await running.context.addCookies(await page.context().cookies());
  await running.page.goto(page.url());
  await running.page.waitForFunction(`/ [1-9]\\d* s so far/.test(document.querySelector('main .clock').textContent)`);
  expect(running.faults).toEqual([]);
  await pressMain(page);
  await page.waitForURL('**/recall/mock');
  expect(await page.textContent('.noted')).toMatch(/Jar .* jars of .* Saved with the season’s records/);
  expect(await countRecords(sugarhouseReader(browser.server.book.read, 'home'), 'practice-recall')).toBe(1);
});

test('calculators answer on a page, and invalid input is reported at its field', async () => {
  await page.goto('/calculators/finish');
  await page.fill('#f-waterBoils', '210.5 F');
  await page.fill('#f-density', '66.9 Bx');
  await page.click('main button.main-action');
  expect(await page.textContent('.answer >> nth=1')).toContain('218.0 °F');
  await page.fill('#f-density', 'heavy');
  await page.click('main button.main-action');
  expect(await page.textContent('.summary')).toContain('Density wanted');
  expect(await page.inputValue('#f-waterBoils')).toBe('210.5 F');
});

test('the sugarhouse’s details are changed, and the old ones stay in the history', async () => {
  await page.goto('/house');
  expect(await page.inputValue('#f-name')).toBe('Tamarack Hollow Sugarhouse');
  await page.fill('#f-phone', '802 555 0100');
  await pressMain(page);
  expect(await page.inputValue('#f-phone')).toBe('802 555 0100');
  await page.goto('/records/house/house');
  expect(await page.locator('.entry-list > li').count()).toBeGreaterThanOrEqual(2);
});

test('a returned jar is inspected from its page, and what was seen becomes a complaint about its lot', async () => {
  const jar = await browser.server.book.read.row<{ code: string }>`SELECT code FROM jar ORDER BY pack, n`;
  await page.goto(`/jars/${jar?.code}`);
  await page.click('text="A customer returned this jar as bad"');
  await page.fill('#f-said', 'cloudy at the bottom');
  await page.check('input[name="mould"][value="no"]');
  await page.check('input[name="hold"][value="no"]');
  await pressMain(page);
  await page.waitForURL('**/lots/*');
  await page.goto('/supporting-records/complaints');
  expect(await page.textContent('.entry-list')).toContain('cloudy at the bottom');
});

test('the season is closed with a name, and what is missing is recorded with it', async () => {
  const year = browser.server.clock.now.getFullYear();
  await page.goto(`/season/${year}`);
  await pressMain(page);
  expect(await page.textContent('.summary')).toContain('Enter the name of the person who signs');
  await page.fill('#f-signed', 'Wren Ellery');
  await pressMain(page);
  expect(await page.textContent('main')).toMatch(/CLOSED.*signed Wren Ellery/s);
});

test('nobody sees a page of the book without signing in', async () => {
  const { page: stranger } = await browser.open({ serviceWorker: false });
  for (const path of ['/', '/packs', '/files/export/packs.csv', '/history', '/lots/26077A-1/labels.pdf']) {
    const answer = await stranger.goto(path);
    expect(new URL(stranger.url()).pathname).toBe('/sign-in');
    expect(answer?.status()).toBe(200);
  }
});
