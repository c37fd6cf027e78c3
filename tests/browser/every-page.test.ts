import { mkdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import type { Page } from 'playwright-core';
import { packageRoot } from '#libs/package-root.js';
import { startBrowser, setUp, type BrowserWithServer } from '../support/browser.js';
import { writeEvening } from '../support/evening-scenario.js';

// Screenshots take longer than everything else here and no test reads them: they are for people to look at.
const screens = process.env['BOILBOOK_TEST_SCREENS'];
let browser: BrowserWithServer;
let page: Page;
let faults: string[];
/** Puts axe into the open page, as a script and not through `evaluate`: Chromium then compiles it once, not in each page. */
let putAxe: () => Promise<unknown>;

beforeAll(async () => {
  if (screens) mkdirSync(screens, { recursive: true });
  browser = await startBrowser();
  ({ page, faults } = await browser.open({ serviceWorker: false, width: 320 }));
  const devtools = await page.context().newCDPSession(page);
  putAxe = () => devtools.send('Runtime.evaluate', { expression: axe });
  await setUp(page, browser.server);
  await writeEvening(browser.server);
}, 90_000);
afterAll(() => browser.close());

const mostAlike = 2;

/** A page of a hundred or so sections from one loop: only this part of it is checked for accessibility. */
const manyAlike: Record<string, string> = { '/api/docs': 'header, nav, h1, h1 ~ p, main details:first-of-type' };

/** Pages that differ only in a code or a name: two of a kind are opened, one is checked for accessibility. */
const shapeOf = (path: string): string =>
  path
    .replace(/\?.*/, '')
    .replace(/\d{5}[A-Z]+(-\d+)?/g, 'LOT')
    .replace(/\/[A-Z]{1,2}\d{1,4}(?=\/|$)/g, '/ID')
    .replace(/\/(jars|returns|[Jj])\/[0-9A-Z]{4}-?[0-9A-Z]{4}(?=\/|$)/, '/$1/JAR')
    .replace(/^\/photos\/of\/.*/, '/photos/of/RECORD')
    .replace(/^\/(supporting-records|places|calculators|records|stocks)\/[\w-]+/, '/$1/NAME');

test('every page linked from the first one opens, fits 320 px, and is accessible in the light and the dark theme', async () => {
  const result: string[] = [];
  const waiting = ['/'];
  const found = new Set(waiting);
  const shapes = new Map<string, number>();
  while (waiting.length > 0) {
    const path = waiting.shift() ?? '';
    const shape = shapeOf(path);
    const before = shapes.get(shape) ?? 0;
    if (before >= mostAlike) continue;
    shapes.set(shape, before + 1);
    const answer = await page.goto(path, { waitUntil: 'domcontentloaded' });
    if (answer?.status() !== 200) result.push(`${path}: ${answer?.status()}`);
    const { over, small, links, headings, twice } = await measure(page);
    result.push(...(await cutTexts(page)).map((each) => `${path}: text cut off: ${each}`));
    if (headings !== 1) result.push(`${path}: ${headings} headings of the first rank`);
    result.push(...twice.map((id) => `${path}: two elements of id ${id}`));
    if (over > 0) result.push(`${path}: ${over} px too wide for 320`);
    result.push(...small.map((each) => `${path}: too small to touch: ${each}`));
    if (before === 0) result.push(...(await accessibilityFaults(page, path, manyAlike[path])));
    for (const href of links)
      if (!found.has(href)) {
        found.add(href);
        waiting.push(href);
      }
  }
  expect(result).toEqual([]);
  expect(faults).toEqual([]);
  expect(found.size).toBeGreaterThan(120);
}, 600_000);

test('a text too wide for the window, and one that its element cuts off, are found', async () => {
  await page.goto('/cautions');
  expect(await cutTexts(page)).toEqual([]);
  await page.evaluate(() => {
    const add = (text: string, style: string): void => {
      const element = document.createElement('p');
      element.textContent = text;
      element.style.cssText = style;
      document.querySelector('main')?.append(element);
    };
    add('wider than the window '.repeat(4), 'white-space: nowrap');
    add('cut off by its own box', 'white-space: nowrap; overflow: hidden; width: 3rem');
    add('scrolls', 'overflow: hidden; width: 12rem');
  });
  expect(await cutTexts(page)).toEqual([expect.stringContaining('wider than the window'), 'cut off by its own box']);
});

test('an accessibility fault put into a page is found, in the light and the dark theme', async () => {
  await page.goto('/cautions');
  await page.evaluate(() => {
    const faint = document.createElement('font');
    faint.color = '#77787a';
    faint.textContent = 'hardly to be read';
    document.querySelector('main')?.append(faint, document.createElement('img'), document.createElement('button'));
    // Grey on grey, whatever the theme.
    (document.querySelector('main') as HTMLElement).style.background = '#808284';
  });
  const result = await accessibilityFaults(page, '/cautions');
  for (const [theme, rule] of [
    ['light', 'image-alt'],
    ['light', 'button-name'],
    ['light', 'color-contrast'],
    ['dark', 'color-contrast'],
  ])
    expect(result.filter((each) => each.includes(`(${theme}): ${rule}`))).toHaveLength(1);
});

const widths = [320, 390, 820, 1280];

test('the main pages fit at every width, and no reading stands alone below a row of three or more', async () => {
  const wide: string[] = [];
  for (const [name, path] of Object.entries(await mainPages(page))) {
    await page.goto(path);
    await page.evaluate(() => document.fonts.ready.then(() => undefined));
    for (const width of widths) {
      await page.setViewportSize({ width, height: 900 });
      const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      if (over > 0) wide.push(`${path}: ${over} px too wide for ${width}`);
      for (const row of await readingRows(page))
        if (Math.max(...row) > 2 && row.at(-1) === 1) wide.push(`${path}: readings at ${width} px: ${row.join(' + ')}`);
      if (screens) await takePictures(join(screens, `${name}-${width}`));
    }
  }
  expect(wide).toEqual([]);
}, 240_000);

/** How many readings stand beside each other in each row of each list of readings. */
const readingRows = (at: Page): Promise<number[][]> =>
  at.$$eval('.readings', (lists) =>
    lists.map((list) => {
      const tops = [...list.children].map((each) => each.getBoundingClientRect().top);
      return [...new Set(tops)].map((top) => tops.filter((each) => each === top).length);
    }),
  );

async function takePictures(path: string): Promise<void> {
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme });
    await page.screenshot({ path: `${path}-${colorScheme}.png`, fullPage: true });
  }
}

async function mainPages(at: Page): Promise<Record<string, string>> {
  const rows = async (path: string): Promise<string[]> => {
    await at.goto(path, { waitUntil: 'domcontentloaded' });
    return at.$$eval('.lots a.row', (links) => links.map((link) => link.getAttribute('href') ?? ''));
  };
  const [packs, boils] = [await rows('/packs'), await rows('/boils')];
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

/** The rules of the standards and good practice; the dark theme changes only colours. */
const checkedRules = {
  light: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] },
  dark: { type: 'rule', values: ['color-contrast'] },
} as const;

/** axe is injected once and run twice: in the light theme with all rules, in the dark theme for contrast. */
async function accessibilityFaults(at: Page, path: string, within = 'html'): Promise<string[]> {
  const result: string[] = [];
  await putAxe();
  for (const theme of ['light', 'dark'] as const) {
    await at.emulateMedia({ colorScheme: theme });
    const violations = await at.evaluate(
      async ([include, runOnly]) =>
        (
          await (window as unknown as WindowWithAxe).axe.run(include, {
            runOnly,
            resultTypes: ['violations'],
            preload: false,
          })
        ).violations,
      [within, checkedRules[theme]] as const,
    );
    result.push(
      ...violations.map(
        ({ id, nodes }) =>
          `${path} (${theme}): ${id}: ${nodes[0]?.html.slice(0, 120)} ${nodes[0]?.failureSummary?.slice(0, 200)}`,
      ),
    );
  }
  await at.emulateMedia({ colorScheme: 'light' });
  return result;
}

/**
 * Texts that stick out of the window, or out of an element that hides what is too wide for it. A region that scrolls by
 * itself is no fault, nor is text for screen readers only.
 */
const cutTexts = (at: Page): Promise<string[]> =>
  at.evaluate(() => {
    const result: string[] = [];
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const range = document.createRange();
    for (let text = texts.nextNode(); text; text = texts.nextNode()) {
      const around = text.parentElement;
      if (!text.textContent?.trim() || !around?.checkVisibility()) continue;
      if (around.closest('.unseen, .skip, .scroll, svg, thead, option, select')) continue;
      range.selectNodeContents(text);
      const right = Math.max(...[...range.getClientRects()].map((box) => box.right));
      let box: Element | null = around;
      while (box && !/hidden|clip/.test(getComputedStyle(box).overflowX)) box = box.parentElement;
      const edge = box ? box.getBoundingClientRect().right : innerWidth;
      if (right > Math.min(edge, innerWidth) + 1) result.push(text.textContent.trim().slice(0, 60));
    }
    return result;
  });

interface WindowWithAxe {
  readonly axe: {
    run(
      context: string,
      options: object,
    ): Promise<{ violations: { id: string; nodes: { html: string; failureSummary?: string }[] }[] }>;
  };
}

// axe comes with the library that drives it; it is injected by hand, so that two checks cost one injection and no extra
// page.
const ofPlaywright = createRequire(join(packageRoot, 'package.json')).resolve('@axe-core/playwright');
const axe = readFileSync(createRequire(ofPlaywright).resolve('axe-core/axe.min.js'), 'utf8');

/**
 * Measures a page as it is displayed: how much too wide it is, which targets are too small to touch, and its links.
 * Buttons, boxes and navigation are 48 px high or more; links inside a sentence may be smaller. Files (PDF, CSV, the
 * API's description as JSON) are no pages and are tested elsewhere.
 */
async function measure(
  at: Page,
): Promise<{ over: number; small: string[]; links: string[]; headings: number; twice: string[] }> {
  const seen = await at.evaluate(() => ({
    over: document.documentElement.scrollWidth - innerWidth,
    small: [
      ...document.querySelectorAll<HTMLElement>(
        'a.quiet, a.main-action, a[href^="tel:"], button, .places a, .choice, select, textarea, input:not([type=hidden], [type=checkbox], [type=radio])',
      ),
    ]
      .filter((each) => each.offsetHeight > 0 && each.offsetHeight < 48)
      .map((each) => `${each.offsetHeight} px ${each.outerHTML.slice(0, 80)}`),
    headings: document.querySelectorAll('h1').length,
    twice: [...document.querySelectorAll('[id]')].map(({ id }) => id).filter((id, n, all) => all.indexOf(id) !== n),
    links: [...document.querySelectorAll('a[href]:not([download])')].map((link) => link.getAttribute('href') ?? ''),
  }));
  return {
    ...seen,
    links: seen.links
      .map((href) => href.replace(/#.*/, ''))
      .filter((href) => href.startsWith('/') && !/\.(pdf|csv|json)(\?|$)/.test(href)),
  };
}
