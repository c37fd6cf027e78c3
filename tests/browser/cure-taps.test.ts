import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import type { Page } from 'playwright-core';
import { record } from '#libs/actions/record/record.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { packsUnderway } from '#libs/actions/kinds/pack.js';
import { findLot, findRecord } from '#libs/store/queries/lots.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { startBrowser, setUp, type BrowserWithServer } from '../support/browser.js';
import { cureTaps } from '../support/cure-taps.js';
import { countTaps, type TapCounter } from '../support/tap-counter.js';
import { done } from '../support/sugarhouse.js';

/** How many taps it takes on a phone to clear a hold: the benchmark of the seasons uses these figures. */
let browser: BrowserWithServer;
let page: Page;
const day = new Date(Date.now() - 2 * 86_400_000).toISOString().slice(0, 10);
const save = 'main form[method="post"] button.main-action';
const radio = (name: string, value: string): string => `label:has(input[name="${name}"][value="${value}"])`;
/** The newest of the texts that a form offers. */
const firstOffer = (name: string): string => `label:has(input[name="${name}~pick"][value]:not([value=""])) >> nth=0`;

beforeAll(async () => {
  browser = await startBrowser();
  ({ page } = await browser.open({ serviceWorker: false, touch: true }));
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
    densityBy: 'hydrometer',
    container: 'glass jar 8 fl oz',
    jars: '12',
    fillTemps,
    sealsFailed: '0',
  });
};
const state = async (lot: string) => (await findLot(sugarhouseReader(browser.server.book.read, 'home'), lot))?.state;
const at = (path: string): Promise<void> => page.waitForURL((url) => url.pathname === path);

async function cure(
  lot: string,
  work: (phone: TapCounter) => Promise<void>,
): Promise<{ taps: number; digits: number }> {
  expect(await state(lot)).toBe('held');
  await page.goto(`/lots/${lot}`);
  const phone = countTaps(page);
  await work(phone);
  await at(`/lots/${lot}`);
  expect(await state(lot)).toBe('released');
  const { taps, digits, characters } = phone.cost();
  expect(characters).toBe(0);
  return { taps, digits };
}

test('twelve cold jars are packed again the next day, and released', async () => {
  const lot = await coldPack('176 F jar 12');
  const cost = await cure(lot, async (phone) => {
    await phone.tap('a[href$="/act"]');
    await phone.tap(firstOffer('found'));
    await phone.tap(radio('way', 'reheated-and-repacked'));
    await phone.tap(radio('cause', 'cold-jar'));
    await phone.tap(radio('jars~pick', 'all'));
    await phone.read('[name="fillTemps~row~1~temp"]', '188');
    await phone.read('[name="fillTemps~row~1~from"]', '12');
    await phone.tap(save);
    await at(`/lots/${lot}/release`);
    await phone.tap(firstOffer('why'));
    await phone.tap(save);
  });
  expect(cost).toEqual(cureTaps.packedAgain);
});

test('twelve cold jars are destroyed, and the lot released', async () => {
  const lot = await coldPack('176 F jar 12');
  const cost = await cure(lot, async (phone) => {
    await phone.tap('a[href$="/act"]');
    await phone.tap(firstOffer('found'));
    await phone.tap(radio('way', 'destroyed'));
    await phone.tap(radio('cause', 'cold-jar'));
    await phone.tap(radio('jars~pick', 'all'));
    await phone.tap(save);
    await at(`/lots/${lot}/release`);
    await phone.tap(firstOffer('why'));
    await phone.tap(save);
  });
  expect(cost).toEqual(cureTaps.destroyed);
});

test('a pack that is perhaps hot enough is released with a reason', async () => {
  const lot = await coldPack('178 F#T1 jar 12');
  await page.goto(`/lots/${lot}`);
  const phone = countTaps(page);
  await phone.tap('a[href$="/release"]');
  await phone.type('#f-why', 'two others read 182 in the jar');
  await phone.tap(save);
  await at(`/lots/${lot}`);
  expect(await state(lot)).toBe('released');
  expect({ taps: phone.cost().taps, digits: phone.cost().digits }).toEqual(cureTaps.released);
});

test('a cold jar is poured back while filling with one tap', async () => {
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
  const phone = countTaps(page);
  await phone.tap('form.poured-back button');
  await page.locator('form.poured-back').waitFor({ state: 'detached' });
  expect({ taps: phone.cost().taps, digits: phone.cost().digits }).toEqual(cureTaps.pouredBackAtOnce);
});

describe('the check of a thermometer at the pad', () => {
  const begun = async (): Promise<string> => {
    const [boil] = await browser.server.book.read.rows<{ code: string }>`SELECT code FROM lot WHERE kind = 'boil'`;
    const lot = await write('pack', {
      fromLots: `${boil?.code}:1 gal`,
      packedAt: houseTime(Date.now() - 300_000),
      container: 'glass jar 8 fl oz',
    });
    await page.goto(`/lots/${lot}`);
    return lot;
  };
  const houseTime = (atMs: number): string =>
    new Date(atMs).toLocaleString('sv-SE', { timeZone: 'America/New_York' }).slice(0, 16).replace(' ', 'T');
  const read = async (degrees: string): Promise<void> => {
    await page.fill('#f-temperature', degrees);
    await page.click('form[action$="/fill"] button.main-action');
    await page.locator(`.judged:has-text("${degrees} °F")`).waitFor();
  };

  test('is the first, strong step of a pack until it is put off, and stands in the way of no reading', async () => {
    const lot = await begun();
    expect(await page.textContent('.to-check')).toMatch(
      /^\s*Check the thermometer first\. T1 was not checked today\.\s*In boiling water\s*In ice\s*Later\s*$/,
    );
    expect(await page.locator('main .main-action:not(.second)').allTextContents()).toEqual(['In boiling water']);
    await read('188');
    expect(await page.locator('.to-check').count()).toBe(1);
    const phone = countTaps(page);
    await phone.tap('.to-check form[action$="/check-later"] button');
    await page.locator('.to-check').waitFor({ state: 'detached' });
    expect(phone.cost()).toMatchObject({ taps: 1, digits: 0, characters: 0 });
    await read('187');
    expect(await page.locator('.to-check').count()).toBe(0);
    const { body } = (await findRecord(sugarhouseReader(browser.server.book.read, 'home'), 'pack', lot))!;
    expect(body.thermometerCheck).toBe('later');
  });

  test('put off, it is asked again by a reading within 2 °F of the limit, with the cheapest way out', async () => {
    await read('181');
    expect(await page.textContent('.to-check')).toMatch(
      /Within 2 °F of the limit\. T1 was not checked today: heat the syrup a little, and pour this jar back while it is hot\./,
    );
    await page.click('.to-check form[action$="/poured-back"] button');
    await page.locator('.judged:has-text("poured back")').waitFor();
    expect(await page.locator('.to-check').count()).toBe(0);
  });

  test('takes a tap, the reading and Save, ticks nothing beforehand but the only thermometer, and leads back', async () => {
    const lot = await begun();
    const phone = countTaps(page);
    await phone.tap('.to-check a:has-text("In ice")');
    await page.locator('#f-reads').waitFor();
    expect(await page.inputValue('#f-reads')).toBe('');
    await phone.read('#f-reads', '32.5');
    await phone.tap(save);
    await at(`/lots/${lot}`);
    expect(phone.cost()).toMatchObject({ taps: 2, digits: 4, characters: 0 });
    expect(await page.textContent('.noted')).toContain('T1 reads 0.5 °F high in ice');
    expect(await page.locator('.to-check').count()).toBe(0);
  });

  test('found wrong, it says so at each step, and a reading by it that holds its jars is not called hot enough', async () => {
    const boiling = { instrument: 'T1', how: 'boiling-water', should: '210.4 F', reads: '210.4 F' };
    await write('check', { ...boiling, at: houseTime(Date.now() - 3_600_000) });
    const lot = await begun();
    await page.goto(`/supporting-records/checks/new?how=boiling-water&instrument=T1&pack=${lot}`);
    await page.fill('#f-reads', '216');
    await page.click('summary:has-text("What it should read")');
    await page.fill('#f-should', '210.4');
    await page.click(save);
    await at(`/lots/${lot}`);
    expect(await page.textContent('.to-check')).toMatch(/T1 was found wrong\. Take another one/);
    await read('190');
    expect(await page.textContent('.judged .verdict')).toBe('HELD');
    expect(await page.textContent('.judged')).toContain(
      'by a thermometer taken to be T1, whose checks disagree with no adjustment recorded between them',
    );
    // It asks for an adjustment that nobody recorded: the first of the two checks is where that is recorded.
    await page.click('summary:has-text("Findings")');
    await page.click('a:has-text("It was adjusted in between")');
    expect(page.url()).toMatch(/\/records\/check\/\w+\/correct\?field=done$/);
    await page.fill('#f-done', 'nut under the dial turned until it read 210');
    await page.fill('[aria-label="Why, in other words"]', 'it was left out');
    await page.click(save);
    await page.goto(`/lots/${lot}`);
    expect(await page.textContent('.judged')).toContain('hot enough');
    expect(await page.textContent('.stamp')).toContain('HELD');
  });

  test('of several the pad names the one that a reading names, and it may be any that was checked until then', async () => {
    await write('instrument', { id: 'T2', what: 'thermometer', at: `${day}T05:00` });
    await begun();
    expect(await page.locator('.to-check:has-text("first")').count()).toBe(0);
    await page.click('form.fill-form summary');
    await page.fill('#f-thermometer', 'T2');
    await read('188');
    expect(await page.textContent('.to-check')).toMatch(/T2 was not checked this season\./);
  });
});
