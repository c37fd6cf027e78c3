import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { AxeBuilder } from '@axe-core/playwright';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import type { Page } from 'playwright-core';
import { packageRoot } from '#libs/records/package-root.js';
import { aBrowser, setUp, type ABrowser } from './a-browser.js';
import { writeEvening } from './an-evening.js';

const screens = join(packageRoot, 'tests/screens');
let browser: ABrowser;
let page: Page;
let faults: string[];

beforeAll(async () => {
  mkdirSync(screens, { recursive: true });
  browser = await aBrowser();
  ({ page, faults } = await browser.open({ width: 320 }));
  await setUp(page, browser.server);
  await writeEvening(browser.server);
}, 90_000);
afterAll(() => browser.close());

const mostAlike = 4;

/** Pages alike but for a code or a name: four of a kind are opened, one is searched for barriers. */
const shapeOf = (path: string): string =>
  path
    .replace(/\?.*/, '')
    .replace(/\d{5}[A-Z]+(-\d+)?/g, 'LOT')
    .replace(/entries\/\d+/, 'entries/N')
    .replace(/\/[A-Z]{1,2}\d{1,4}(?=\/|$)/g, '/ID')
    .replace(/[0-9A-Z]{4}-[0-9A-Z]{4}$/, 'JAR')
    .replace(/^\/(side|places|reckon|records|stocks)\/[\w-]+/, '/$1/NAME');

test('every page reached from the first answers, fits 320 px, and is free of barriers by day and by night', async () => {
  const told: string[] = [];
  const waiting = ['/'];
  const found = new Set(waiting);
  const shapes = new Map<string, number>();
  while (waiting.length > 0) {
    const path = waiting.shift() ?? '';
    const shape = shapeOf(path);
    const before = shapes.get(shape) ?? 0;
    if (before >= mostAlike) continue;
    shapes.set(shape, before + 1);
    const answer = await page.goto(path);
    if (answer?.status() !== 200) told.push(`${path}: ${answer?.status()}`);
    const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    if (over > 0) told.push(`${path}: ${over} px too wide for 320`);
    told.push(...(await smallTargets(page)).map((each) => `${path}: too small to touch: ${each}`));
    if (before === 0) told.push(...(await barriers(page, path)));
    for (const href of await linksOf(page))
      if (!found.has(href)) {
        found.add(href);
        waiting.push(href);
      }
  }
  expect(told).toEqual([]);
  expect(faults).toEqual([]);
  expect(found.size).toBeGreaterThan(120);
}, 600_000);

test.each([320, 390, 820, 1280])(
  'pictures of the main pages at %i px are there to be looked at',
  async (width) => {
    for (const theme of ['light', 'dark'] as const) {
      await page.setViewportSize({ width, height: 900 });
      await page.emulateMedia({ colorScheme: theme });
      for (const [name, path] of Object.entries(await mainPages(page))) {
        await page.goto(path);
        await page.screenshot({ path: join(screens, `${name}-${width}-${theme}.png`), fullPage: true });
        expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
      }
    }
  },
  120_000,
);

async function mainPages(at: Page): Promise<Record<string, string>> {
  await at.goto('/packs');
  const packs = await at.$$eval('.lots a.row', (rows) => rows.map((row) => row.getAttribute('href') ?? ''));
  await at.goto('/boils');
  const boils = await at.$$eval('.lots a.row', (rows) => rows.map((row) => row.getAttribute('href') ?? ''));
  return {
    today: '/',
    boils: '/boils',
    packs: '/packs',
    find: '/find?q=Millrace',
    season: '/season',
    begin: '/packs/begin',
    ...Object.fromEntries(packs.map((path, n) => [`pack-${n + 1}`, path])),
    ...Object.fromEntries(boils.map((path, n) => [`boil-${n + 1}`, path])),
  };
}

async function barriers(at: Page, path: string): Promise<string[]> {
  const told: string[] = [];
  for (const theme of ['light', 'dark'] as const) {
    await at.emulateMedia({ colorScheme: theme });
    const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
    // Night changes colours and nothing else.
    const axe = new AxeBuilder({ page: at });
    const { violations } = await (theme === 'light' ? axe.withTags(tags) : axe.withRules(['color-contrast'])).analyze();
    told.push(
      ...violations.map(
        (each) =>
          `${path} (${theme}): ${each.id}: ${each.nodes[0]?.html.slice(0, 120)} ${each.nodes[0]?.failureSummary?.slice(0, 200)}`,
      ),
    );
  }
  return told;
}

/** Buttons, boxes and the places to go are 48 px high or more; words inside a sentence may be smaller. */
const smallTargets = (at: Page): Promise<string[]> =>
  at.evaluate(() =>
    [
      ...document.querySelectorAll<HTMLElement>(
        'a.quiet, a.deed, button, .places a, .choice, select, textarea, input:not([type=hidden], [type=checkbox], [type=radio])',
      ),
    ]
      .filter((each) => each.offsetHeight > 0 && each.offsetHeight < 48)
      .map((each) => `${each.offsetHeight} px ${each.outerHTML.slice(0, 80)}`),
  );

/** Ways to other pages; files to download are tried elsewhere. */
async function linksOf(at: Page): Promise<string[]> {
  const hrefs = await at.$$eval('a[href]:not([download])', (links) =>
    links.map((link) => link.getAttribute('href') ?? ''),
  );
  return hrefs
    .map((href) => href.replace(/#.*/, ''))
    .filter((href) => href.startsWith('/') && !/\.(pdf|csv)(\?|$)/.test(href));
}
