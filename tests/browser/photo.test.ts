import { afterAll, beforeAll, expect, test } from '@jest/globals';
import type { Page } from 'playwright-core';
import { jarsOfPack, lotsOf } from '#libs/store/queries/lots.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { startBrowser, pressMain, setUp, type BrowserWithServer } from '../support/browser.js';
import { writeEvening } from '../support/evening-scenario.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

let browser: BrowserWithServer;
let page: Page;
let faults: string[];
let pack: string;
let jar: string;
let label: Buffer;

beforeAll(async () => {
  browser = await startBrowser();
  ({ page, faults } = await browser.open({ serviceWorker: false, width: 820, dots: 2 }));
  await setUp(page, browser.server);
  await writeEvening(browser.server);
  // Without an address that a phone can reach, labels carry only a text code.
  await page.goto('/house?box=publicUrl');
  await page.fill('#f-publicUrl', 'https://jars.tamarack-hollow.example');
  await pressMain(page);
  const { read } = browser.server.book;
  const packs = await lotsOf(sugarhouseReader(read, 'home'), 'pack', undefined, 20);
  pack = packs.find((lot) => lot.state === 'open' && (lot.jars ?? 0) > 0)?.code ?? '';
  for await (const first of jarsOfPack(sugarhouseReader(read, 'home'), pack, 1, 1)) jar = printedJarCode(first.code);
  label = await labelAsItPrints('link');
}, 90_000);
afterAll(() => browser.close());

test('a photo of a jar’s label opens the jar, and the decoder is loaded only then', async () => {
  const came: string[] = [];
  page.on('request', (request) => came.push(new URL(request.url()).pathname));
  await page.goto('/find');
  expect(came).toContain('/assets/photo.js');
  expect(came).not.toContain('/assets/decoder/jsQR.js');
  await choose(await photographed(label, { turned: 11, blurredPx: 0.6 }));
  await page.waitForURL(`**/jars/${jar}`);
  expect(came).toContain('/assets/decoder/jsQR.js');
});

test('a large photo in which the label is small is read as well', async () => {
  await page.goto('/find');
  await choose(await photographed(label, { turned: -4, blurredPx: 0.4, onPx: 3000 }));
  await page.waitForURL(`**/jars/${jar}`);
});

test('a label with a text code instead of a link opens the jar too', async () => {
  const text = await labelAsItPrints('text');
  await page.goto('/find');
  await choose(await photographed(text, { turned: 3, blurredPx: 0 }));
  await page.waitForURL(`**/jars/${jar}`);
});

test('a returned jar is found by a photo of its label', async () => {
  await page.goto('/returns');
  await choose(await photographed(label, { turned: 5, blurredPx: 0.3 }));
  await page.waitForURL(`**/returns/${jar}`);
});

test('where nothing can be read the page says so, and the code is typed', async () => {
  await page.goto('/find');
  await choose(await photographed(undefined, { turned: 0, blurredPx: 0 }));
  await waitForStatus('No symbol was read in this picture. Go nearer, hold still, or type the code.');
  await choose(Buffer.from('no picture at all'));
  await waitForStatus('This picture can’t be opened here. Take it anew, or type the code.');
  await page.fill('#f-q', jar.toLowerCase());
  await page.click('main button.main-action');
  await page.waitForURL(`**/jars/${jar}`);
});

test('jars to send out are entered by photos of them, each once', async () => {
  await page.goto(`/dispatches/new?lot=${pack}`);
  await choose(await photographed(label, { turned: 7, blurredPx: 0 }));
  await waitForStatus(`Read: ${jar}.`);
  await choose(await photographed(label, { turned: -7, blurredPx: 0 }));
  await page.waitForFunction(() => (document.querySelector('#f-photo') as HTMLInputElement).value === '');
  expect(await page.inputValue('[name="jars~codes"]')).toBe(jar);
  await page.fill('#f-to', 'June Pascoe');
  await page.check('input[name="kind"][value="gift"]');
  await pressMain(page);
  await page.waitForURL('**/dispatches');
  expect(await page.textContent('main')).toContain('June Pascoe');
});

test('none of it broke the page’s content policy or sent a request elsewhere', () => {
  expect(faults).toEqual([]);
});

test('without script no photo is offered, and the code can be typed', async () => {
  const plain = await browser.open({ serviceWorker: false, script: false });
  await plain.context.addCookies(await page.context().cookies());
  await plain.page.goto('/find');
  expect(await plain.page.isVisible('#f-photo')).toBe(false);
  await plain.page.fill('#f-q', jar);
  await plain.page.click('main button.main-action');
  expect(new URL(plain.page.url()).pathname).toBe(`/jars/${jar}`);
});

const choose = (picture: Buffer): Promise<void> =>
  page.setInputFiles('#f-photo', { name: 'photo.png', mimeType: 'image/png', buffer: picture });
const waitForStatus = (text: string): Promise<unknown> =>
  page.waitForFunction(
    (formatted) => document.querySelector('.photo [role="status"]')?.textContent === formatted,
    text,
  );

/** The first jar's label as the page previews it before printing, enlarged. */
async function labelAsItPrints(symbol: 'link' | 'text'): Promise<Buffer> {
  await page.goto(`/lots/${pack}/labels`);
  const read = page.locator('text="I have read it: continue to labels"');
  if ((await read.count()) > 0) await read.click();
  await page.goto(`/lots/${pack}/labels?stock=letter-6-up-102x85&symbol=${symbol}`);
  return page.locator('.label-shown').screenshot();
}

interface PhotoOptions {
  readonly turned: number;
  readonly blurredPx: number;
  /** Of the whole picture; the label keeps its size. */
  readonly onPx?: number;
}

/** The label on a grey bench, turned and a little out of focus; the bench alone where there is no label. */
async function photographed(
  picture: Buffer | undefined,
  { turned, blurredPx, onPx = 1200 }: PhotoOptions,
): Promise<Buffer> {
  const url = await page.evaluate(
    async ({ png, turned, blurredPx, onPx }) => {
      const canvas = Object.assign(document.createElement('canvas'), { width: onPx, height: onPx });
      const bench = canvas.getContext('2d')!;
      bench.fillStyle = '#8a8378';
      bench.fillRect(0, 0, onPx, onPx);
      if (png) {
        const bytes = Uint8Array.from(atob(png), (letter) => letter.charCodeAt(0));
        const label = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
        bench.filter = blurredPx > 0 ? `blur(${blurredPx}px)` : 'none';
        bench.translate(onPx / 2, onPx / 2);
        bench.rotate((turned * Math.PI) / 180);
        bench.drawImage(label, -label.width / 2, -label.height / 2);
      }
      return canvas.toDataURL('image/png');
    },
    { png: picture?.toString('base64'), turned, blurredPx, onPx },
  );
  return Buffer.from(url.slice(url.indexOf(',') + 1), 'base64');
}
