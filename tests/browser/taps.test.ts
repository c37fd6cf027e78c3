import { afterAll, beforeAll, expect, test } from '@jest/globals';
import type { Page } from 'playwright-core';
import { findLot, recordsOf } from '#libs/store/queries/lots.js';
import { postFromPage, startBrowser, type BrowserWithServer } from '../support/browser.js';
import { costTable, countTaps, type Cost, type TapCounter, type JobCost } from '../support/tap-counter.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** Taps, typed letters and opened pages for each job of a season on a phone, against their limits. */
let browser: BrowserWithServer;
let page: Page;
const costs: JobCost[] = [];

beforeAll(async () => {
  browser = await startBrowser();
  ({ page } = await browser.open({ touch: true }));
  page.setDefaultTimeout(8000);
}, 60_000);
afterAll(async () => {
  process.stdout.write(costTable(costs));
  await browser.close();
});

/** Starts at Today, unless the job begins elsewhere, or `here` where the page is open already. */
async function job(name: string, goal: string, work: (phone: TapCounter) => Promise<void>, from = '/'): Promise<Cost> {
  if (from !== 'here') await page.goto(from);
  const phone = countTaps(page);
  await work(phone);
  const cost = phone.cost();
  costs.push({ job: name, cost, goal });
  return cost;
}

/** What somebody wrote earlier: it isn't counted. */
const wrote = (action: string, fields: Record<string, string>): Promise<void> => postFromPage(page, action, fields);

const save = 'main form[method="post"] button.main-action';
const at = (path: string | RegExp): Promise<void> =>
  page.waitForURL((url) => (typeof path === 'string' ? url.pathname === path : path.test(url.pathname)));
const radio = (name: string, value: string): string => `label:has(input[name="${name}"][value="${value}"])`;
/** The newest of the texts that a form offers. */
const firstOffer = (name: string): string => `label:has(input[name="${name}~pick"][value]:not([value=""])) >> nth=0`;

test('set-up', async () => {
  const cost = await job('set-up', 'two short steps, place and zone picked', async (phone) => {
    await phone.type('#f-word', browser.server.lines.at(-1) ?? '');
    await phone.type('#f-name', 'Tamarack Hollow Sugarhouse');
    await phone.pick('#f-place', 'Vermont');
    await phone.tap('button:has-text("Next")');
    await phone.type('#f-initials', 'WE');
    await phone.type('#f-password', 'steam over the roof at night');
    await phone.tap('button:has-text("Create the book")');
    await at('/');
  });
  expect(cost).toMatchObject({ taps: 8, characters: 67, pages: 2 });
});

test('sap, only the required fields', async () => {
  await wrote('/sap/gather', { volume: '80 gal', source: 'North slope, buckets', 'gatheredAt~ago': '120' });
  const cost = await job('sap, least', '3 taps, the amount only', async (phone) => {
    await phone.tap('text="Gather sap"');
    await phone.read('#f-volume', '120');
    await phone.tap(radio('source~pick', 'North slope, buckets'));
    await phone.tap(save);
    await at('/sap');
  });
  expect(cost).toMatchObject({ taps: 3, characters: 0, digits: 3 });
  expect(await page.textContent('.lots')).toContain('120 gal');
});

test('a check in ice', async () => {
  const cost = await job('ice check', '3 taps, 2 to 4 digits', async (phone) => {
    await phone.tap('a[href^="/supporting-records/checks/new"]');
    await phone.read('#f-reads', '32.5');
    await phone.tap(radio('instrument~pick', 'T1'));
    await phone.tap(save);
    await at('/supporting-records/checks');
  });
  expect(cost).toMatchObject({ taps: 3, characters: 0, digits: 4 });
  expect(await page.textContent('.noted')).toContain('T1 reads 0.5 °F high in ice');
});

let boil = '';
test('a boil: four readings, density, draw-off, filter, rest', async () => {
  const before = new Date(Date.now() - 2 * 86_400_000).toISOString().slice(0, 10);
  await wrote('/boils/finished', {
    beganAt: `${before}T08:00`,
    finishedAt: `${before}T11:00`,
    syrupVolume: '1 gal',
    filterMedium: 'wool cone',
  });
  const cost = await job('a boil', '30 taps, 0 beyond readings', async (phone) => {
    await phone.tap('text="Start a boil"');
    await phone.tap('label.take >> nth=0');
    await phone.read('#f-waterBoilsAt', '210.5');
    await phone.tap(save);
    await at(/^\/lots\//);
    boil = decodeURIComponent(new URL(page.url()).pathname.split('/').pop() ?? '');
    const pan = async (digits: string): Promise<void> => {
      await phone.read('#f-temperature', digits);
      await phone.tap('form[action$="/log/reading"] button.main-action');
      await page.locator(`.finish-bar:has-text("${digits} °F")`).waitFor();
    };
    for (const digits of ['212', '214.5', '216', '217.5']) await pan(digits);
    await phone.tap('a[href$="/log/reading"]');
    await phone.read('#f-density', '66.9');
    await phone.tap(save);
    await at(`/lots/${boil}`);
    await phone.tap('a[href$="/log/draw"]');
    await phone.read('#f-volume', '3');
    await phone.read('#f-temp', '217.8');
    await phone.tap(save);
    await at(`/lots/${boil}`);
    await phone.tap('a[href$="/log/finish"]');
    await phone.read('#f-syrupVolume', '3');
    await phone.tap(save);
    await at(`/lots/${boil}`);
    await phone.tap('a[href$="/log/filter"]');
    await phone.read('#f-filterTemp', '190');
    await phone.tap(radio('filterMedium~pick', 'wool cone'));
    await phone.tap(save);
    await at(`/lots/${boil}`);
    await phone.tap('button[formaction$="/log/rest"]');
    await page.locator('.now:has-text("Resting since")').waitFor();
  });
  expect(cost.taps).toBeLessThanOrEqual(28);
  expect(cost.characters).toBe(0);
});

test('a mistake is undone', async () => {
  await page.goto('/sap/gather');
  await page.fill('#f-volume', '1200');
  await page.click(radio('source~pick', 'North slope, buckets'));
  await page.click(save);
  await page.locator('form[data-undo] button').waitFor();
  const slip = (await recordsOf({ sql: browser.server.book.read, sugarhouse: 'home' }, 'gathering')).at(-1)?.id;
  const cost = await job(
    'undo a slip',
    '1 tap',
    async (phone) => {
      await phone.tap('form[data-undo] button');
      await page.locator('.noted:has-text("Undone")').waitFor();
    },
    'here',
  );
  expect(cost).toMatchObject({ taps: 1, characters: 0, digits: 0 });
  const left = await recordsOf({ sql: browser.server.book.read, sugarhouse: 'home' }, 'gathering');
  expect(left.map((each) => each.id)).not.toContain(slip);
});

let pack = '';
test('a pack of 24: four readings, density, seals', async () => {
  const cost = await job('a pack of 24', '22 taps, 0 beyond readings', async (phone) => {
    await phone.tap(`a[href^="/packs/begin?from="]`);
    await phone.tap(radio('container~kind', 'glass jar'));
    await phone.tap(radio('container~size', 'half pint'));
    await phone.tap(save);
    await at(/^\/lots\//);
    pack = decodeURIComponent(new URL(page.url()).pathname.split('/').pop() ?? '');
    for (const [degrees, jar] of [
      ['188', '6'],
      ['187', '12'],
      ['186', '18'],
      ['185', '24'],
    ] as const) {
      await phone.read('#f-temperature', degrees);
      await phone.read('#f-upTo', jar);
      await phone.tap('form[action$="/fill"] button.main-action');
      await page.locator(`.reading.thumb:has-text("${degrees} °F")`).waitFor();
    }
    await phone.tap('a[href$="/finish"]');
    await phone.read('#f-jars', '24');
    await phone.read('#f-densityReading', '61');
    await phone.read('#f-densityAt', '185');
    await phone.tap(radio('densityBy', 'hydrometer'));
    await phone.tap(save);
    await at(`/lots/${pack}`);
    await phone.tap('a[href$="/seals"]');
    await phone.read('#f-sealsFailed', '0');
    await phone.tap(save);
    await at(`/lots/${pack}`);
  });
  expect(cost.taps).toBeLessThanOrEqual(22);
  expect(cost.characters).toBe(0);
  const made = (await recordsOf(sugarhouseReader(browser.server.book.read, 'home'), 'pack')).at(-1)?.body;
  expect(made?.container).toMatchObject({ typed: 'glass jar half pint', volume: { typed: '8 fl oz' } });
});

test('a lot is held, corrected and released', async () => {
  const cost = await job(
    'hold → act → release',
    '10 taps, one sentence',
    async (phone) => {
      await phone.tap('a[href$="/hold"]');
      await phone.type('#f-why', 'a lid of the last tray flexes');
      await phone.tap(save);
      await at(`/lots/${pack}`);
      await phone.tap('a[href$="/act"]');
      await phone.tap(firstOffer('found'));
      await phone.tap(radio('way', 'inspected'));
      await phone.tap(radio('cause', 'slow-filling'));
      await phone.tap(radio('jars~pick', 'all'));
      await phone.tap(save);
      await at(`/lots/${pack}/release`);
      await phone.tap(firstOffer('why'));
      await phone.tap(save);
      await at(`/lots/${pack}`);
    },
    `/lots/${pack}`,
  );
  expect(cost.taps).toBeLessThanOrEqual(10);
  expect(cost.characters).toBe('a lid of the last tray flexes'.length);
  const [action] = (await recordsOf({ sql: browser.server.book.read, sugarhouse: 'home' }, 'action')).slice(-1);
  expect(action?.body).toMatchObject({
    found: 'a lid of the last tray flexes',
    done: 'inspected',
    cause: 'slow-filling',
  });
  const lot = await findLot({ sql: browser.server.book.read, sugarhouse: 'home' }, pack);
  expect(lot?.state).toBe('released');
});

test('a cold jar is caught at once', async () => {
  const [other] = await recordsOf({ sql: browser.server.book.read, sugarhouse: 'home' }, 'boil');
  await page.goto(`/packs/begin?from=${other?.id}`);
  await page.click(radio('container~kind', 'glass jar'));
  await page.click(radio('container~size', 'half pint'));
  await page.click(save);
  await at(/^\/lots\//);
  await page.fill('#f-temperature', '176');
  await page.click('form[action$="/fill"] button.main-action');
  await page.locator('.verdict:has-text("TOO COLD")').waitFor();
  const cost = await job(
    'a cold jar caught at once',
    '1 tap: poured back, filled again',
    async (phone) => {
      await phone.tap('form.poured-back button');
      await page.locator('form.poured-back').waitFor({ state: 'detached' });
    },
    'here',
  );
  expect(cost).toMatchObject({ taps: 1, characters: 0, digits: 0 });
  const code = decodeURIComponent(new URL(page.url()).pathname.split('/').pop() ?? '');
  const packs = await recordsOf({ sql: browser.server.book.read, sugarhouse: 'home' }, 'pack');
  const fills = packs.find((each) => each.id === code)?.body.fillTemps ?? [];
  expect(fills.map((fill) => fill.pouredBack ?? false)).toContain(true);
});

test('a dispatch to a known buyer', async () => {
  // Jars of today are warm, and their seals can't be checked before tomorrow.
  const [earlier] = await recordsOf(sugarhouseReader(browser.server.book.read, 'home'), 'boil');
  const cold = `${earlier?.id}-9`;
  await wrote('/packs/finished', {
    lot: cold,
    'fromLots~more': `${earlier?.id}:0.5 gal`,
    packedAt: `${earlier?.body.beganAt.slice(0, 10)}T12:00`,
    densityReading: '61 Bx',
    densityAt: '185 F',
    densityBy: 'hydrometer',
    container: 'glass jar 8 fl oz',
    jars: '8',
    fillTemps: '186 F jar 8',
    sealsFailed: '0',
    // The pack was filled more than twelve hours ago.
    sealsAt: new Date(Date.now() - 60_000).toISOString(),
    by: 'WE',
  });
  await wrote('/dispatches/new', {
    lot: cold,
    jars: '2',
    to: 'Millrace Green market',
    contact: 'stall 4',
    'sentAt~ago': 'now',
  });
  const cost = await job('a dispatch', '4 taps, 0 for a known buyer', async (phone) => {
    await phone.tap('text="Send out"');
    await phone.read('#f-jars', '6');
    await phone.tap(radio('lot', cold));
    await phone.tap(radio('to~pick', 'Millrace Green market'));
    await phone.tap(save);
    await at('/dispatches');
  });
  expect(cost).toMatchObject({ taps: 4, characters: 0, digits: 1 });
  const [newest] = (await recordsOf(sugarhouseReader(browser.server.book.read, 'home'), 'dispatch')).slice(-1);
  expect(newest?.body).toMatchObject({ to: 'Millrace Green market', contact: 'stall 4', jars: 6 });
});

test('a link for a guest', async () => {
  const cost = await job('guest link', '2 taps, link, QR and share button', async (phone) => {
    await phone.tap('footer a[href="/people"]');
    await phone.tap('text="Make a guest link for 7 days"');
    await page.locator('[data-share]').waitFor();
  });
  expect(cost).toMatchObject({ taps: 2, characters: 0, digits: 0 });
  const link = (await page.getAttribute('[data-share]', 'data-share')) ?? '';
  expect(await page.locator('.address-symbol svg').getAttribute('aria-label')).toContain(link);
  expect((await fetch(link)).status).toBe(200);
});
