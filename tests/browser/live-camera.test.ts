import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import QRCode from 'qrcode';
import sharp from 'sharp';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { jarsOfPack, lotsOf } from '#libs/store/queries/lots.js';
import { startBrowser, pressMain, setUp, type BrowserWithServer } from '../support/browser.js';
import { writeEvening } from '../support/evening-scenario.js';

const folder = mkdtempSync(join(tmpdir(), 'boilbook-camera-'));
const film = join(folder, 'camera.y4m');
let browser: BrowserWithServer;
let [jar, other] = ['', ''];
let pack: string;

beforeAll(async () => {
  browser = await startBrowser({}, [
    '--use-fake-ui-for-media-stream',
    '--use-fake-device-for-media-stream',
    `--use-file-for-fake-video-capture=${film}`,
  ]);
  const { page, context } = await browser.open({ serviceWorker: false });
  await setUp(page, browser.server);
  await writeEvening(browser.server);
  const reader = sugarhouseReader(browser.server.book.read, 'home');
  const packs = await lotsOf(reader, 'pack', undefined, 20);
  pack = packs.find((lot) => lot.state === 'open' && (lot.jars ?? 0) > 0)?.code ?? '';
  for await (const each of jarsOfPack(reader, pack, 1, 2)) [jar, other] = [other, printedJarCode(each.code)];
  writeFileSync(film, await filmOf([jar, other].map((code) => `HTTPS://JARS.TAMARACK-HOLLOW.EXAMPLE/J/${code}`)));
  cookies = await context.cookies();
  await context.close();
}, 120_000);
let cookies: { name: string; value: string; domain: string; path: string }[];
afterAll(async () => {
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
});

test('the live camera reads a label: Find opens the jar, and a tray is scanned jar by jar, to send out and to take back', async () => {
  const { page, context } = await browser.open({ serviceWorker: false });
  await context.addCookies(cookies);
  await page.goto('/find');
  expect(await page.locator('script[src*="jsQR"]').count()).toBe(0);
  await page.click('button:has-text("Scan with the camera")');
  await page.waitForURL(/\/jars\/....-....$/, { timeout: 60_000 });
  expect([jar, other]).toContain(page.url().slice(-9));

  for (const tray of [`/dispatches/new?lot=${pack}`, '/dispatches/new?kind=returned']) {
    await page.goto(tray);
    await page.click('button:has-text("Scan with the camera")');
    await page.waitForFunction(() =>
      /2 jars in the list/.test(document.querySelector('[data-photo] [role="status"]')?.textContent ?? ''),
    );
    // The film starts again: jars already in the list are not added.
    await page.waitForTimeout(4500);
    expect((await page.inputValue('[name="jars~codes"]')).split('\n').sort()).toEqual([jar, other].sort());
    expect(await page.locator('[data-photo] video').isVisible()).toBe(true);
    await page.click('button:has-text("Stop the camera")');
    expect(await page.locator('[data-photo] video').isVisible()).toBe(false);
  }
  await page.fill('#f-to', 'Millrace Green market');
  await pressMain(page);
  await page.waitForURL('**/dispatches');
  expect(await page.textContent('main')).toMatch(/2 jars of \S+ back from Millrace Green market/);
}, 120_000);

/** A film of one label after the other, two seconds each, as Chromium takes it for a camera (YUV4MPEG2, 4:2:0). */
async function filmOf(labels: readonly string[]): Promise<Buffer> {
  const frames = await Promise.all(labels.map(frameOf));
  const film = frames.flatMap((frame) => Array.from({ length: 8 }, () => frame));
  return Buffer.concat([Buffer.from(`YUV4MPEG2 W640 H480 F4:1 Ip A1:1 C420jpeg\n`), ...film]);
}

async function frameOf(text: string): Promise<Buffer> {
  const symbol = await QRCode.toBuffer(text, { width: 300, margin: 4 });
  const [width, height] = [640, 480];
  const { data } = await sharp({ create: { width, height, channels: 3, background: '#ddd' } })
    .composite([{ input: symbol }])
    .greyscale()
    .raw()
    .toBuffer({ resolveWithObject: true });
  const luma = Buffer.from(data.subarray(0, width * height));
  return Buffer.concat([Buffer.from('FRAME\n'), luma, Buffer.alloc((width * height) / 2, 128)]);
}
