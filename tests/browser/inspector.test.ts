import { afterAll, beforeAll, expect, test } from '@jest/globals';
import type { Page } from 'playwright-core';
import { startBrowser, pressMain, setUp, type BrowserWithServer } from '../support/browser.js';
import { writeEvening } from '../support/evening-scenario.js';

let browser: BrowserWithServer;
let owner: Page;
let guest: Page;
let faults: string[];

beforeAll(async () => {
  browser = await startBrowser();
  ({ page: owner } = await browser.open({ serviceWorker: false, width: 1280 }));
  await setUp(owner, browser.server);
  await writeEvening(browser.server);
  ({ page: guest, faults } = await browser.open({ serviceWorker: false, width: 390 }));
}, 90_000);
afterAll(() => browser.close());

const formsThatWrite = (page: Page): Promise<string[]> =>
  page.$$eval('form[method="post"]', (forms) =>
    forms.map((form) => form.getAttribute('action') ?? '').filter((action) => action !== '/sign-out'),
  );

test('an inspector opens the link, lands on the season, finds a jar’s lot and meets no form that writes', async () => {
  await owner.goto('/people');
  await owner.fill('#link-name', 'Inspector');
  await owner.fill('#link-days', '7');
  await owner.click('text="Make the link"');
  const link = await owner.getAttribute('[data-share]', 'data-share');
  expect(link).toMatch(/^https?:\/\/[^/]+\/guest\/[\w-]{43}$/);

  await guest.goto(new URL(link ?? '').pathname);
  await pressMain(guest);
  await guest.waitForURL(/\/season\/20\d\d$/);
  expect(await guest.textContent('h1')).toMatch(/^Season 20\d\d$/);
  const [first] = await guest.$$eval('main a', (links) => links.map((each) => each.getAttribute('href')));
  expect(first).toMatch(/^\/api\/seasons\/20\d\d\/summary\.pdf$/);
  expect(await formsThatWrite(guest)).toEqual([]);
  const pdf = await guest.request.get(first ?? '');
  expect([pdf.status(), (await pdf.body()).subarray(0, 5).toString()]).toEqual([200, '%PDF-']);

  const lot = (await guest.textContent('.lot-table tbody th a')) ?? '';
  await guest.fill('#f-jar', lot);
  await guest.click('form:has(#f-jar) button');
  await guest.waitForURL((url) => !url.pathname.startsWith('/season'));
  expect(await guest.textContent('main')).toContain(lot);
  expect(await formsThatWrite(guest)).toEqual([]);

  for (const href of [
    '/',
    '/boils',
    '/packs',
    '/find',
    `/lots/${lot}`,
    `/recall?lot=${lot}`,
    `/recall/calls?lot=${lot}`,
  ]) {
    const answer = await guest.goto(href);
    expect({ href, status: answer?.status(), forms: await formsThatWrite(guest) }).toEqual({
      href,
      status: 200,
      forms: [],
    });
  }
  expect(faults).toEqual([]);
}, 120_000);
