import { createHash, X509Certificate } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from '@jest/globals';
import type { BrowserContext, Page } from 'playwright-core';
import { phoneWith } from '../support/browser.js';
import { endAll, started, temporaryFolder } from '../support/server-process.js';

const folder = mkdtempSync(join(tmpdir(), 'boilbook-tls-phone-'));
let phone: BrowserContext;
let page: Page;
afterAll(async () => {
  await phone?.close();
  endAll();
  rmSync(folder, { recursive: true, force: true });
});

/** A flag makes Chromium trust the server's key, as a phone does once the house's authority is installed. */
async function restart(base: string, trusted: string): Promise<void> {
  await phone?.close();
  phone = await phoneWith(folder, base, [`--ignore-certificate-errors-spki-list=${trusted}`]);
  page = phone.pages()[0] ?? (await phone.newPage());
  page.setDefaultTimeout(20_000);
}

const cached = (): Promise<string[]> =>
  page.evaluate(async () =>
    (await (await caches.open('boilbook-pages')).keys()).map(({ url }) => new URL(url).pathname),
  );

test('over the house’s own TLS, forms open offline after a restart, and entries are saved once', async () => {
  const data = temporaryFolder();
  const first = await started(data, {}, ['--lan', '--tls']);
  const port = new URL(first.address).port;
  const leaf = new X509Certificate(readFileSync(join(data, 'tls', 'server.crt'), 'utf8'));
  const key = createHash('sha256')
    .update(leaf.publicKey.export({ type: 'spki', format: 'der' }))
    .digest('base64');
  await restart(first.address, key);
  await page.goto('/');
  expect(await page.evaluate(() => window.isSecureContext)).toBe(true);
  await page.fill('#f-word', /valid for one hour: (\S+)/.exec(first.output())?.[1] ?? '');
  await page.fill('#f-name', 'Tamarack Hollow Sugarhouse');
  await page.selectOption('#f-place', 'Vermont');
  await page.click('button:has-text("Next")');
  await page.fill('#f-initials', 'WE');
  await page.fill('#f-password', 'steam over the roof at night');
  await page.click('button:has-text("Create the book")');
  await page.waitForURL((url) => url.pathname === '/');
  for (let tries = 0; tries < 200 && !(await cached()).includes('/sap/gather'); tries++) await page.waitForTimeout(100);
  expect(await cached()).toContain('/sap/gather');

  first.child.kill('SIGTERM');
  await first.ended;
  await restart(first.address, key);
  await page.goto('/sap/gather');
  expect(await page.textContent('p.away')).toMatch(/^No connection\. This page was kept on this device/);
  await page.fill('#f-volume', '40');
  await page.fill('#f-source', 'South road');
  await page.click('main form[method="post"] button.main-action');
  await page.waitForFunction(() => document.querySelector('#away')?.textContent?.startsWith('1 entry is kept'));
  await restart(first.address, key);
  await page.goto('/sap/gather');
  await page.waitForFunction(() => document.querySelector('#away')?.textContent?.startsWith('1 entry is kept'));

  await started(data, { BOILBOOK_PORT: port }, ['--lan', '--tls'], { isOwned: true });
  await page.waitForFunction(() => document.querySelector('#away')?.textContent === '', undefined, { timeout: 40_000 });
  await page.goto('/sap');
  expect(await page.locator('.lots a.row').count()).toBe(1);
  expect(await page.textContent('.lots')).toMatch(/40 gal.*South road/s);
}, 180_000);

test('with a certificate that the device doesn’t trust, no page is cached and the book does not open', async () => {
  const other = await started(temporaryFolder(), {}, ['--lan', '--tls']);
  await expect(page.goto(other.address)).rejects.toThrow(/ERR_CERT_AUTHORITY_INVALID/);
}, 60_000);
