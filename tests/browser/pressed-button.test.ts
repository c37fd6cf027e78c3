import { afterAll, beforeAll, expect, test } from '@jest/globals';
import type { Page } from 'playwright-core';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { jarsOfPack, lotsOf, recordsOf } from '#libs/store/queries/lots.js';
import type { Server } from '../../apps/server/http/server.js';
import { startBrowser, pressMain, setUp, type BrowserWithServer } from '../support/browser.js';
import { writeEvening } from '../support/evening-scenario.js';

/** A form sent by the page's script omits the button that was pressed: its value must not get lost. */
let browser: BrowserWithServer;
let page: Page;
let faults: string[];
beforeAll(async () => {
  browser = await startBrowser();
  ({ page, faults } = await browser.open());
  await setUp(page, browser.server);
  await writeEvening(browser.server);
}, 120_000);
afterAll(() => browser.close());

const reader = () => sugarhouseReader(browser.server.book.read, 'home');

test('Reached and No answer of a recall’s call are recorded as pressed', async () => {
  const packs = await lotsOf(reader(), 'pack', undefined, 20);
  let pack = '';
  for (const lot of packs) {
    if (pack !== '' || lot.state !== 'open') continue;
    for await (const _ of jarsOfPack(reader(), lot.code, 1, 1)) pack = lot.code;
  }
  for (const to of ['June Pascoe', 'Millrace Green market']) {
    await page.goto(`/dispatches/new?lot=${pack}`);
    await page.fill('#f-jars', '1');
    await page.fill('#f-to', to);
    await pressMain(page);
    await page.waitForURL('**/dispatches');
  }
  await page.goto(`/recall?lot=${pack}`);
  await page.fill('#f-why', 'a buyer found glass');
  await page.click('main form[method="post"] button.main-action');
  await page.waitForURL('**/recall/calls*');
  const calls = page.url();
  for (const [button, to] of [
    ['No answer', 'June Pascoe'],
    ['Reached', 'Millrace Green market'],
    ['Reached', 'June Pascoe'],
  ] as const) {
    await page.goto(calls);
    await page.click(`.calls li:has-text("${to}") button:has-text("${button}")`);
    await page.waitForURL('**/recall/calls*');
    await page.waitForSelector(`.calls li:has-text("${to}") p:has-text("Called")`);
  }
  const made = (await recordsOf(reader(), 'recall-call')).map(({ typed }) => [typed['to'], typed['reached']]);
  expect(made).toEqual([
    ['June Pascoe', 'no'],
    ['Millrace Green market', 'yes'],
    ['June Pascoe', 'yes'],
  ]);
  expect(await page.locator('.calls b:has-text("☑ reached")').count()).toBe(2);
});

test('the button that confirms the server’s clock saves the entry, and is needed only once', async () => {
  const { server } = browser.server;
  const { clock } = browser.server;
  // Started again, with a clock an hour behind the phone's.
  Object.assign(server, { startedAt: new Date(Date.now() - 3_600_000) } satisfies Partial<Server>);
  clock.now = new Date(Date.now() - 3_600_000);
  await page.goto('/sap/gather');
  await page.fill('#f-source', 'South road');
  await page.fill('#f-volume', '40');
  await pressMain(page);
  await page.waitForSelector('.summary:has-text("clock says")');
  expect(await page.inputValue('#f-source')).toBe('South road');
  await page.click('button[name="_clock"]');
  await page.waitForURL('**/sap');
  const sources = (await recordsOf(reader(), 'gathering')).map(({ body }) => body.source);
  expect(sources.filter((source) => source === 'South road')).toHaveLength(1);
  clock.now = new Date();
});

test('none of it caused an error in the page', () => {
  expect(faults.filter((fault) => !/409|422/.test(fault))).toEqual([]);
});
