import { afterAll, beforeAll, expect, test } from '@jest/globals';
import type { Page } from 'playwright-core';
import sharp from 'sharp';
import { photosOf } from '#libs/store/household/attachments.js';
import { readHead } from '#libs/store/log/log.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { startBrowser, pressMain, setUp, type BrowserWithServer, beginPack } from '../support/browser.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

let browser: BrowserWithServer;
let page: Page;
let pack = '';

beforeAll(async () => {
  browser = await startBrowser();
  ({ page } = await browser.open({ touch: true }));
  await setUp(page, browser.server);
  await beginPack(page);
  pack = decodeURIComponent(new URL(page.url()).pathname.split('/').pop() ?? '');
}, 60_000);
afterAll(() => browser.close());

const fills = async (): Promise<string[]> =>
  (await findRecord(sugarhouseReader(browser.server.book.read, 'home'), 'pack', pack))?.body.fillTemps.map(
    (each) => each.typed,
  ) ?? [];

const writeFill = async (degrees: string): Promise<void> => {
  await page.fill('#f-temperature', degrees);
  await page.press('#f-temperature', 'Enter');
};

test('the keypad accepts digits by touch, and Enter from a keyboard', async () => {
  for (const digit of ['1', '8', '6']) await page.click(`.pad button:text-is("${digit}")`);
  expect(await page.inputValue('#f-temperature')).toBe('186');
  await page.click('.fill-form button.main-action');
  await page.waitForFunction(() => document.querySelector('.reading.thumb')?.textContent === '186 °F');
  expect(await fills()).toHaveLength(1);
});

test('when the server becomes unreachable in the middle of a pack, readings are queued with their own times, and are saved once and in order', async () => {
  await page.context().setOffline(true);
  await writeFill('185');
  await page.waitForFunction(() => document.querySelector('#away')?.textContent?.startsWith('1 entry is kept'));
  await writeFill('179');
  await page.waitForFunction(() => document.querySelector('#away')?.textContent?.startsWith('2 entries are kept'));
  expect(await page.locator('#fill .verdict').allTextContents()).toContain('TOO COLD');
  expect(await fills()).toHaveLength(1);
  await page.context().setOffline(false);
  await page.waitForFunction(() => document.querySelector('#away')?.textContent === '', undefined, { timeout: 30_000 });
  const written = await fills();
  expect(written.map((each) => each.split('@')[0])).toEqual(['186 F', '185 F', '179 F']);
  expect(written.every((each) => /@(\d{4}-\d{2}-\d{2}T)?\d{2}:\d{2}$/.test(each))).toBe(true);
  await page.waitForFunction(() => document.querySelector('.reading.thumb')?.textContent === '179 °F');
});

test('a plain number keyboard is enough: digits and Enter for a reading, + for a jar, and the count survives a reload', async () => {
  await page.reload();
  await page.waitForFunction(() => document.activeElement?.id === 'f-temperature');
  for (let jar = 0; jar < 3; jar++) await page.keyboard.press('NumpadAdd');
  await page.click('text="+1 jar"');
  expect(await page.inputValue('#f-upTo')).toBe('4');
  await page.reload();
  expect(await page.inputValue('#f-upTo')).toBe('4');
  expect(await page.inputValue('#f-temperature')).toBe('');
  await page.waitForFunction(() => document.activeElement?.id === 'f-temperature');
  await page.keyboard.type('187');
  await page.keyboard.press('NumpadEnter');
  await page.waitForFunction(() => document.querySelector('.reading.thumb')?.textContent === '187 °F');
  // After a valid cold reading the next one covers only its own jar.
  expect((await fills()).at(-1)).toMatch(/^187 F@\S+ jar 4$/);
  expect(await page.textContent('.next-check')).toContain('or at jar 16. 4 jars counted.');
  expect(await page.inputValue('#f-upTo')).toBe('');
});

test('jars counted while the server is unreachable are saved with the readings that they were counted for', async () => {
  await page.context().setOffline(true);
  for (const [jars, degrees] of [
    [2, '186'],
    [3, '184'],
  ] as const) {
    for (let jar = 0; jar < jars; jar++) await page.click('text="+1 jar"');
    await writeFill(degrees);
    await page.waitForFunction(
      (n) => document.querySelector('#away')?.textContent?.startsWith(`${n} `),
      degrees === '186' ? 1 : 2,
    );
  }
  await page.context().setOffline(false);
  await page.waitForFunction(() => document.querySelector('#away')?.textContent === '', undefined, { timeout: 30_000 });
  expect((await fills()).slice(-2).map((fill) => fill.replace(/@\S+/, ''))).toEqual([
    '186 F jars 5-6',
    '184 F jars 7-9',
  ]);
  await page.waitForFunction(() => document.querySelector('.so-far')?.textContent === '9 jars counted.');
});

test('the quick form says when the jar to be read is capped', async () => {
  expect(await page.locator('.next-check.late').count()).toBe(0);
  await page.fill('#f-upTo', '21');
  expect(await page.textContent('.next-check.late b')).toBe('Read a jar now.');
  await page.fill('#f-upTo', '');
});

test('broken glass is recorded at the jar after the last one counted, or without a jar number', async () => {
  const button = page.locator('form[action$="/broken-glass"] button');
  const jar = page.locator('form[action$="/broken-glass"] input[name="jar"]');
  expect([await button.textContent(), await jar.inputValue()]).toEqual(['Glass broke', '']);
  await page.click('text="+1 jar"');
  expect([await button.textContent(), await jar.inputValue()]).toEqual(['Glass broke at jar 11', '11']);
  await page.context().setOffline(true);
  await writeFill('185');
  await page.waitForFunction(() => document.querySelector('#away')?.textContent?.startsWith('1 '));
  expect([await button.textContent(), await jar.inputValue()]).toEqual(['Glass broke', '']);
  await page.context().setOffline(false);
  await page.waitForFunction(() => document.querySelector('#away')?.textContent === '', undefined, { timeout: 30_000 });
});

test('a reading sent twice by a double tap is one', async () => {
  const { entries } = await readHead(browser.server.book.read);
  await page.fill('#f-temperature', '188');
  await page.dblclick('.fill-form button.main-action');
  await page.waitForFunction(() => document.querySelector('.reading.thumb')?.textContent === '188 °F');
  expect((await readHead(browser.server.book.read)).entries).toBe(entries + 1);
});

test('what was typed survives a reload, can be cleared, and is deleted once it is sent', async () => {
  await page.goto('/sap/gather');
  await page.fill('#f-source', 'North slope, buckets');
  await page.fill('#f-volume', '80');
  await page.reload();
  expect(await page.inputValue('#f-source')).toBe('North slope, buckets');
  expect(await page.inputValue('#f-volume')).toBe('80');
  await page.click('text="Clear it"');
  await page.waitForFunction(() => document.querySelector<HTMLInputElement>('#f-source')?.value === '');
  await page.fill('#f-source', 'North slope, buckets');
  await page.fill('#f-volume', '80');
  await pressMain(page);
  await page.waitForURL('**/sap');
  await page.goto('/sap/gather');
  expect(await page.inputValue('#f-volume')).toBe('');
});

test('a gathering written while the server is unreachable is saved with the time it was written', async () => {
  await page.fill('#f-source', 'South road tubing');
  await page.fill('#f-volume', '60');
  await page.click('summary:has-text("Take a photo")');
  const photo = await sharp({ create: { width: 90, height: 60, channels: 3, background: '#a62' } })
    .jpeg()
    .toBuffer();
  await page.setInputFiles('#f-photo-taken', { name: 'float.jpg', mimeType: 'image/jpeg', buffer: photo });
  await page.context().setOffline(true);
  const before = Date.now();
  await pressMain(page);
  await page.waitForFunction(() => document.querySelector('#away')?.textContent?.startsWith('1 entry is kept'));
  expect(await page.inputValue('#f-source')).toBe('');
  await page.context().setOffline(false);
  await page.waitForFunction(() => document.querySelector('#away')?.textContent === '', undefined, { timeout: 30_000 });
  const written = await browser.server.book.read.rows<{
    id: string;
    at_text: string;
    typed: string;
  }>`SELECT id, at_text, typed FROM record
    WHERE kind = 'gathering' ORDER BY first_seq`;
  expect(written).toHaveLength(2);
  expect(written[1]?.typed).toContain('South road tubing');
  const reader = sugarhouseReader(browser.server.book.read, 'home');
  expect(await photosOf(reader, 'gathering', written[1]?.id ?? '')).toMatchObject([{ width: 90, height: 60 }]);
  expect(Math.abs(Date.parse(written[1]?.at_text ?? '') - before)).toBeLessThan(30_000);
});

test('an entry whose writer was signed out meanwhile waits until they sign in again, and is not lost', async () => {
  await page.goto('/sap/gather');
  await page.fill('#f-source', 'Lower bench');
  await page.fill('#f-volume', '25');
  await page.context().setOffline(true);
  await pressMain(page);
  await page.waitForFunction(() => document.querySelector('#away')?.textContent?.startsWith('1 entry is kept'));
  await page.context().clearCookies();
  await page.context().setOffline(false);
  await page.waitForFunction(() => document.querySelector('#away')?.textContent?.includes('Sign in again'), undefined, {
    timeout: 30_000,
  });
  const named = () =>
    browser.server.book.read.rows`SELECT id FROM record WHERE kind = 'gathering' AND typed LIKE '%Lower bench%'`;
  expect(await named()).toHaveLength(0);
  await page.goto('/sign-in');
  await page.fill('[name="initials"]', 'WE');
  await page.fill('[name="password"]', 'steam over the roof at night');
  await page.click('main button');
  await page.waitForURL((url) => url.pathname === '/');
  for (let tries = 0; tries < 100 && (await named()).length === 0; tries++) await page.waitForTimeout(200);
  expect(await named()).toHaveLength(1);
  await page.waitForFunction(() => document.querySelector('#away')?.textContent === '');
});
