import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import type { Page } from 'playwright-core';
import { lotsOf } from '#libs/store/queries/lots.js';
import { startBrowser, setUp, type BrowserWithServer } from '../support/browser.js';
import { writeEvening } from '../support/evening-scenario.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

// No test reads the screenshots: they are for people to look at.
const screens = process.env['BOILBOOK_TEST_SCREENS'];
const firstScreen = 844;
let browser: BrowserWithServer;
let page: Page;
let noScript: Page;
let faults: string[];
let running: { boil: string; pack: string };

beforeAll(async () => {
  if (screens) mkdirSync(screens, { recursive: true });
  browser = await startBrowser();
  ({ page, faults } = await browser.open({ serviceWorker: false, touch: true }));
  await setUp(page, browser.server);
  await writeEvening(browser.server);
  const { read } = browser.server.book;
  const underway = async (kind: 'boil' | 'pack'): Promise<string> =>
    (await lotsOf(sugarhouseReader(read, 'home'), kind)).find((lot) => lot.millilitres === undefined)?.code ?? '';
  running = { boil: await underway('boil'), pack: await underway('pack') };
  const plain = await browser.open({ serviceWorker: false, script: false });
  await plain.context.addCookies(await page.context().cookies());
  noScript = plain.page;
}, 120_000);
afterAll(() => browser.close());

const bottomOf = async (at: Page, what: string): Promise<number> => {
  const box = await at.locator(what).first().boundingBox();
  return box ? Math.round(box.y + box.height) : Infinity;
};
/** Cumulative layout shift while the page loaded: good pages stay under 0.1. */
const shiftOf = (at: Page): Promise<number> =>
  at.evaluate(
    () =>
      new Promise((resolve) => {
        let sum = 0;
        const add = (list: PerformanceObserverEntryList): void =>
          list.getEntries().forEach((entry) => (sum += (entry as PerformanceEntry & { value: number }).value));
        new PerformanceObserver(add).observe({ type: 'layout-shift', buffered: true });
        setTimeout(() => resolve(sum), 300);
      }),
  );
const heightOf = (at: Page): Promise<number> => at.evaluate(() => document.documentElement.scrollHeight);

test('the box for the next reading of a running boil or pack is on the first screen, its button in reach of the thumb', async () => {
  for (const [kind, code] of Object.entries(running))
    for (const [width, height] of [
      [390, firstScreen],
      [320, 568],
    ] as const) {
      await page.setViewportSize({ width, height });
      await page.goto(`/lots/${code}`);
      await page.evaluate(() => scrollTo(0, 0));
      if (screens) await page.screenshot({ path: join(screens, `running-${kind}-${width}.png`) });
      expect([kind, width, (await bottomOf(page, '#f-temperature')) <= height]).toEqual([kind, width, true]);
      const button = await bottomOf(page, '.fill-form > button.main-action');
      expect([kind, width, button <= height]).toEqual([kind, width, true]);
      if (width === 390) expect(button).toBeGreaterThan(height / 2);
      expect([kind, width, (await shiftOf(page)) < 0.05]).toEqual([kind, width, true]);
    }
  await page.setViewportSize({ width: 390, height: firstScreen });
}, 60_000);

test('without script the same box and button are on the first screen, and folded parts open', async () => {
  for (const code of Object.values(running)) {
    await noScript.goto(`/lots/${code}`);
    expect(await bottomOf(noScript, '#f-temperature')).toBeLessThanOrEqual(firstScreen);
    expect(await bottomOf(noScript, '.fill-form > button.main-action')).toBeLessThanOrEqual(firstScreen);
    expect(await noScript.locator('.entry-list').isVisible()).toBe(false);
    await noScript.click('summary:has-text("History")');
    expect(await noScript.locator('.entry-list').isVisible()).toBe(true);
  }
});

/** Posts as its form does. */
const wrote = (action: string, fields: Record<string, string>): Promise<boolean> =>
  page.evaluate(
    async ([to, texts]) => (await fetch(to, { method: 'POST', body: new URLSearchParams(texts) })).redirected,
    [action, fields] as const,
  );

test('each lot of an evening and of the practice season takes less than 2,500 px of a phone, with one main button at most', async () => {
  // The fullest pages there are: a pan near its finish with a cup that is too thin, a pack held by a cold jar.
  for (const temperature of ['214', '217'])
    expect(
      await wrote(`/boils/${running.boil}/log/reading`, {
        temperature,
        'temperature~unit': 'F',
        pan: 'finish pan',
        'at~ago': 'now',
      }),
    ).toBe(true);
  const cup = { density: '57', 'density~unit': 'Bx', sampleTemp: '209', 'sampleTemp~unit': 'F', 'at~ago': 'now' };
  expect(await wrote(`/boils/${running.boil}/log/cup`, cup)).toBe(true);
  const cold = { temperature: '176', 'temperature~unit': 'F', upTo: '8', thermometer: 'T1' };
  expect(await wrote(`/packs/${running.pack}/fill`, cold)).toBe(true);
  const measured: { code: string; px: number; strong: number }[] = [];
  const measureAll = async (codes: readonly string[]): Promise<void> => {
    for (const code of codes) {
      await page.goto(`/lots/${encodeURIComponent(code)}`);
      const strong = await page.locator('main .main-action:not(.second):visible').count();
      measured.push({ code, px: await heightOf(page), strong });
    }
  };
  const codesIn = async (at: typeof browser.server.book): Promise<string[]> => {
    const codes: string[] = [];
    for (const kind of ['gathering', 'receipt', 'boil', 'pack'] as const)
      codes.push(...(await lotsOf(sugarhouseReader(at.read, 'home'), kind)).map((lot) => lot.code));
    return codes;
  };
  await measureAll(await codesIn(browser.server.book));
  await page.evaluate(() => fetch('/practice', { method: 'POST' }).then((answer) => answer.text()));
  await page.goto('/');
  await page.waitForSelector('aside.practice');
  await measureAll(await codesIn(await browser.server.server.practice()));
  const tallest = Math.max(...measured.map(({ px }) => px));
  process.stdout.write(`${measured.length} lots, the tallest page ${tallest} px\n`);
  expect(measured.length).toBeGreaterThan(25);
  expect(measured.filter(({ px }) => px >= 2500)).toEqual([]);
  expect(measured.filter(({ strong }) => strong > 1)).toEqual([]);
  // A pan near its finish vibrates the device, which a browser refuses where nobody has touched the page.
  expect(faults.filter((each) => !each.includes('navigator.vibrate'))).toEqual([]);
}, 180_000);

test('on a desktop the log is unfolded beside the drawing, with script or without', async () => {
  await page.goto('/');
  await page.setViewportSize({ width: 1280, height: 900 });
  await page.goto('/lots/26079A-1');
  const [drawing, log] = [
    await page.locator('figure.lot-drawing svg:visible').boundingBox(),
    await page.locator('.entry-list').boundingBox(),
  ];
  expect(drawing && log && drawing.x + drawing.width <= log.x && Math.abs(drawing.y - log.y) < 80).toBe(true);
  await noScript.setViewportSize({ width: 1280, height: 900 });
  await noScript.goto(`/lots/${running.boil}`);
  expect(await noScript.locator('.entry-list').isVisible()).toBe(true);
});

test('printed, a lot’s page shows what is folded on the screen, and no buttons', async () => {
  await page.setViewportSize({ width: 390, height: firstScreen });
  await page.goto('/lots/26079A-1');
  const folded = page.locator('main details:not([open]):not(.cautions)');
  const before = await folded.count();
  await page.emulateMedia({ media: 'print' });
  await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
  expect(await page.locator('#history').isVisible()).toBe(true);
  expect(await page.locator('button:visible, .quiet:visible, .main-action:visible, .cautions:visible').count()).toBe(0);
  await page.evaluate(() => dispatchEvent(new Event('afterprint')));
  await page.emulateMedia({ media: 'screen' });
  expect(before).toBeGreaterThan(2);
  expect(await folded.count()).toBe(before);
});
