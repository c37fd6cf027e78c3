import { afterAll, beforeAll, expect, test } from '@jest/globals';
import type { Page } from 'playwright-core';
import { record } from '#libs/actions/record/record.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { packsUnderway } from '#libs/actions/kinds/pack.js';
import { findLot } from '#libs/store/queries/lots.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { aBrowser, setUp, type ABrowser } from '../support/browser.js';
import { cureTaps } from '../support/cure-taps.js';
import { hands, type Hands } from '../support/hands.js';
import { done } from '../support/sugarhouse.js';

/** How many taps it takes on a phone to clear a hold: the benchmark of the seasons uses these figures. */
let browser: ABrowser;
let page: Page;
const day = new Date(Date.now() - 2 * 86_400_000).toISOString().slice(0, 10);
const save = 'main form[method="post"] button.main-action';
const radio = (name: string, value: string): string => `label:has(input[name="${name}"][value="${value}"])`;

beforeAll(async () => {
  browser = await aBrowser();
  ({ page } = await browser.open({ touch: true }));
  page.setDefaultTimeout(8000);
  await setUp(page, browser.server);
  await write('instrument', { id: 'T1', what: 'thermometer', at: `${day}T05:00` });
  await write('check', { instrument: 'T1', at: `${day}T05:30`, how: 'ice', reads: '29 F' });
  await write('boil', { beganAt: `${day}T06:00`, syrupVolume: '8 gal', filterTemp: '190 F', defoamer: 'none' });
}, 60_000);
afterAll(() => browser.close());

async function write(kind: string, fields: Record<string, string>): Promise<string> {
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: new Date(), zone: 'America/New_York' };
  const of = kind === 'pack' ? packsUnderway : kindByName.get(kind as 'boil')!;
  return done(await record(browser.server.book, { ...context, clockIsRight: true }, of, { by: 'WE', ...fields })).id;
}

let packs = 0;
const coldPack = async (fillTemps: string): Promise<string> => {
  const [boil] = await browser.server.book.read.rows<{ code: string }>`SELECT code FROM lot WHERE kind = 'boil'`;
  return write('pack', {
    fromLots: `${boil?.code}:1 gal`,
    packedAt: `${day}T1${packs++}:00`,
    densityReading: '61 Bx',
    densityAt: '185 F',
    container: 'glass jar 8 fl oz',
    jars: '12',
    fillTemps,
    sealsFailed: '0',
  });
};
const state = async (lot: string) => (await findLot(sugarhouseReader(browser.server.book.read, 'home'), lot))?.state;
const at = (path: string): Promise<void> => page.waitForURL((url) => url.pathname === path);

async function cure(lot: string, work: (hand: Hands) => Promise<void>): Promise<{ taps: number; digits: number }> {
  expect(await state(lot)).toBe('held');
  await page.goto(`/lots/${lot}`);
  const hand = hands(page);
  await work(hand);
  await at(`/lots/${lot}`);
  expect(await state(lot)).toBe('released');
  const { taps, digits, characters } = hand.cost();
  expect(characters).toBe(0);
  return { taps, digits };
}

test('twelve cold jars are packed again the next day, and released', async () => {
  const lot = await coldPack('176 F jar 12');
  const cost = await cure(lot, async (hand) => {
    await hand.tap('a[href$="/act"]');
    await hand.tap(radio('way', 'reheated-and-repacked'));
    await hand.tap(radio('cause', 'cold-jar'));
    await hand.tap(radio('jars~pick', 'all'));
    await hand.read('[name="fillTemps~row~1~temp"]', '188');
    await hand.read('[name="fillTemps~row~1~from"]', '12');
    await hand.tap(save);
    await at(`/lots/${lot}/release`);
    await hand.tap(save);
  });
  expect(cost).toEqual(cureTaps.packedAgain);
});

test('twelve cold jars are destroyed, and the lot released', async () => {
  const lot = await coldPack('176 F jar 12');
  const cost = await cure(lot, async (hand) => {
    await hand.tap('a[href$="/act"]');
    await hand.tap(radio('way', 'destroyed'));
    await hand.tap(radio('cause', 'cold-jar'));
    await hand.tap(radio('jars~pick', 'all'));
    await hand.tap(save);
    await at(`/lots/${lot}/release`);
    await hand.tap(save);
  });
  expect(cost).toEqual(cureTaps.destroyed);
});

test('a pack that is perhaps hot enough is released with a reason', async () => {
  const lot = await coldPack('178 F#T1 jar 12');
  await page.goto(`/lots/${lot}`);
  const hand = hands(page);
  await hand.tap('a[href$="/release"]');
  await hand.type('#f-why', 'two others read 182 in the jar');
  await hand.tap(save);
  await at(`/lots/${lot}`);
  expect(await state(lot)).toBe('released');
  expect({ taps: hand.cost().taps, digits: hand.cost().digits }).toEqual(cureTaps.released);
});

test('a cold jar at the bench is poured back with one tap', async () => {
  const [boil] = await browser.server.book.read.rows<{ code: string }>`SELECT code FROM lot WHERE kind = 'boil'`;
  const lot = await write('pack', {
    fromLots: `${boil?.code}:1 gal`,
    packedAt: new Date(Date.now() - 600_000).toISOString(),
    container: 'glass jar 8 fl oz',
  });
  await page.goto(`/lots/${lot}`);
  await page.fill('#f-temperature', '176');
  await page.click('form[action$="/fill"] button.main-action');
  await page.locator('.verdict:has-text("TOO COLD")').waitFor();
  const hand = hands(page);
  await hand.tap('form.poured-back button');
  await page.locator('form.poured-back').waitFor({ state: 'detached' });
  expect({ taps: hand.cost().taps, digits: hand.cost().digits }).toEqual(cureTaps.pouredBackAtOnce);
});

test('the quick form names an unchecked thermometer before the first jar, and no longer once it was checked', async () => {
  const [boil] = await browser.server.book.read.rows<{ code: string }>`SELECT code FROM lot WHERE kind = 'boil'`;
  await write('instrument', { id: 'T2', what: 'thermometer', at: `${day}T05:00` });
  const lot = await write('pack', {
    fromLots: `${boil?.code}:1 gal`,
    packedAt: new Date(Date.now() - 300_000).toISOString(),
    container: 'glass jar 8 fl oz',
  });
  await page.goto(`/lots/${lot}`);
  expect(await page.textContent('.to-check')).toMatch(/^\s*T2 was not checked this season: check it first/);
  await page.click('form.fill-form summary');
  await page.fill('#f-thermometer', 'T2');
  await page.fill('#f-temperature', '181');
  await page.click('form[action$="/fill"] button.main-action');
  await page.locator('.to-check:has-text("Within 2 °F of the limit")').waitFor();
  await page.click('.to-check a');
  await page.fill('#f-reads', '32');
  expect(await page.isChecked('input[name="instrument~pick"][value="T2"]')).toBe(true);
  await page.click(save);
  await at('/supporting-records/checks');
  await page.goto(`/lots/${lot}`);
  expect(await page.locator('.to-check').count()).toBe(0);
});
