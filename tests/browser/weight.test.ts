import { afterAll, beforeAll, expect, test } from '@jest/globals';
import type { Page } from 'playwright-core';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { lotsOf } from '#libs/store/queries/lots.js';
import { startBrowser, setUp, type BrowserWithServer } from '../support/browser.js';
import { writeEvening } from '../support/evening-scenario.js';

let browser: BrowserWithServer;
let page: Page;
beforeAll(async () => {
  browser = await startBrowser();
  ({ page } = await browser.open());
  await setUp(page, browser.server);
  await writeEvening(browser.server);
}, 120_000);
afterAll(() => browser.close());

/**
 * Bytes transferred until the page is loaded, headers included, on a phone with an empty cache; the heaviest page used
 * in the sugarhouse counts.
 */
async function weightOf(path: string): Promise<{ bytes: number; files: string[] }> {
  // The service worker's own transfers are not the page's, and would be made anew in each window.
  const fresh = await browser.open({ serviceWorker: false });
  await fresh.context.addCookies(await page.context().cookies());
  const session = await fresh.context.newCDPSession(fresh.page);
  await session.send('Network.enable');
  let bytes = 0;
  const files: string[] = [];
  session.on('Network.responseReceived', ({ response }) => void files.push(new URL(response.url).pathname));
  session.on('Network.loadingFinished', ({ encodedDataLength }) => void (bytes += encodedDataLength));
  await fresh.page.goto(path, { waitUntil: 'load' });
  await fresh.page.evaluate(async () => void (await document.fonts.ready));
  await fresh.context.close();
  return { bytes, files };
}

test('a page used in the sugarhouse transfers less than 60 KB at the first visit, including style sheet, script and typefaces', async () => {
  const reader = sugarhouseReader(browser.server.book.read, 'home');
  const underway = async (kind: 'boil' | 'pack'): Promise<string> =>
    (await lotsOf(reader, kind)).find((lot) => lot.millilitres === undefined)?.code ?? '';
  const [boil, pack] = [await underway('boil'), await underway('pack')];
  const heavy: string[] = [];
  const weights: string[] = [];
  for (const path of [
    '/',
    '/sap/gather',
    '/boils/begin',
    `/lots/${boil}`,
    `/boils/${boil}/log/draw`,
    '/packs/begin',
    `/lots/${pack}`,
    `/packs/${pack}/density`,
    `/packs/${pack}/finish`,
    '/dispatches/new',
    '/find',
    '/supporting-records/checks/new?how=ice',
  ]) {
    const { bytes, files } = await weightOf(path);
    weights.push(`${path.padEnd(42)} ${(bytes / 1024).toFixed(1)} KB`);
    if (bytes >= 60 * 1024 || bytes < 20_000 || files.some((file) => file.includes('decoder')))
      heavy.push(`${path}: ${bytes}`);
  }
  process.stdout.write(`${weights.join('\n')}\n`);
  expect(heavy).toEqual([]);
}, 120_000);

test('on a desktop the charts of a season fill the window, more of them side by side in a wider one', async () => {
  const year = browser.server.clock.now.getFullYear();
  const across = async (width: number): Promise<{ columns: number; used: number }> => {
    await page.setViewportSize({ width, height: 900 });
    await page.waitForFunction((wide) => innerWidth === wide, width);
    const edges = await page.locator('figure.chart').evaluateAll((charts) =>
      charts.map((each) => {
        const { left, right } = each.getBoundingClientRect();
        return { left: Math.round(left), right };
      }),
    );
    const columns = new Set(edges.map(({ left }) => left)).size;
    return { columns, used: Math.max(...edges.map(({ right }) => right)) / width };
  };
  await page.goto(`/season/${year}/pictures`);
  expect(await across(390)).toMatchObject({ columns: 1 });
  for (const [width, columns] of [
    [1280, 1],
    [1900, 2],
  ] as const) {
    const { used, ...rest } = await across(width);
    expect(rest).toEqual({ columns });
    expect(used).toBeGreaterThan(0.95);
  }
});
