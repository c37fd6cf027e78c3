import { mkdtempSync, rmSync } from 'node:fs';
import { createServer, connect, type Server, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import type { BrowserContext, Page } from 'playwright-core';
import { addPerson } from '#libs/actions/accounts/accounts.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findRecord, recordsOf } from '#libs/store/queries/lots.js';
import { phoneWith, pressMain, setUp, beginPack } from '../support/browser.js';
import { startServer, type TestServer } from '../support/server.js';
import { done } from '../support/sugarhouse.js';

/** The phone's connection to the server, which can be cut: the browser is closed and opened again meanwhile. */
let server: TestServer;
let proxy: { base: string; cut(): Promise<void>; mend(): Promise<void> };
const folder = mkdtempSync(join(tmpdir(), 'boilbook-phone-'));
let phone: BrowserContext;
let page: Page;
let pack = '';
const password = 'steam over the roof at night';

beforeAll(async () => {
  server = await startServer();
  server.clock.now = new Date();
  proxy = await startProxy(new URL(await server.web.listen({ port: 0, host: '127.0.0.1' })).port);
  await restart();
  await setUp(page, server);
  done(await addPerson(server.book, 'home', { initials: 'OE', name: 'Oren Ellery', role: 'maker', password }));
  await beginPack(page);
  pack = new URL(page.url()).pathname;
}, 120_000);
afterAll(async () => {
  await phone.close();
  await proxy.cut();
  await server.close();
  rmSync(folder, { recursive: true, force: true });
});

async function restart(): Promise<void> {
  await phone?.close();
  phone = await phoneWith(folder, proxy.base);
  page = phone.pages()[0] ?? (await phone.newPage());
  page.setDefaultTimeout(15_000);
}

const cachedAddresses = (): Promise<string[]> =>
  page.evaluate(async () =>
    (await (await caches.open('boilbook-pages')).keys()).map(({ url }) => new URL(url).pathname),
  );
async function untilCached(...addresses: string[]): Promise<void> {
  for (let tries = 0; tries < 100; tries++) {
    const cached = await cachedAddresses();
    if (addresses.every((each) => cached.includes(each))) return;
    await page.waitForTimeout(100);
  }
  throw new Error(`kept: ${(await cachedAddresses()).join(', ')}`);
}
const waitForQueueNotice = (text: string) =>
  page.waitForFunction((part) => document.querySelector('#away')?.textContent?.includes(part), text, {
    timeout: 30_000,
  });
const reader = () => sugarhouseReader(server.book.read, 'home');

test('the quick form and the forms open offline after a restart, and entries are saved later, once and in order', async () => {
  await page.goto('/');
  await untilCached('/sap/gather', '/boils/begin', '/packs/begin', pack);
  await proxy.cut();
  await restart();
  await page.goto(pack);
  expect(await page.textContent('p.away')).toMatch(/^No connection\. This page was kept on this device, as it was /);
  await page.fill('#f-temperature', '186');
  await page.press('#f-temperature', 'Enter');
  await waitForQueueNotice('1 entry is kept');
  // The same cached form sent twice makes two entries.
  for (const [n, source] of ['North slope', 'South road'].entries()) {
    await page.goto('/sap/gather');
    await page.fill('#f-source', source);
    await page.fill('#f-volume', '40');
    await pressMain(page);
    await waitForQueueNotice(`${n + 2} entries are kept`);
  }
  await restart();
  await page.goto(pack);
  await waitForQueueNotice('3 entries are kept');
  await proxy.mend();
  await page.waitForFunction(() => document.querySelector('#away')?.textContent === '', undefined, { timeout: 30_000 });
  const saved = await findRecord(reader(), 'pack', pack.split('/').at(-1) ?? '');
  expect(saved?.body.fillTemps.map(({ typed }) => typed.split('@')[0])).toEqual(['186 F']);
  expect((await recordsOf(reader(), 'gathering')).map(({ body }) => body.source)).toEqual([
    'North slope',
    'South road',
  ]);
}, 180_000);

/** Once entries are sent, the page moves on to the records they made; that may interrupt a visit. */
async function visit(path: string): Promise<void> {
  for (let tries = 0; ; tries++)
    try {
      await page.goto(path);
      return;
    } catch (fault) {
      if (tries === 5 || !String(fault).includes('interrupted by another navigation')) throw fault;
      await page.waitForLoadState();
    }
}

test('only forms are cached, and any other page says that there is no connection', async () => {
  // `/season` leads here; through a worker, Chromium may take that for a second visit.
  const season = `/season/${server.clock.now.getFullYear()}`;
  for (const path of [
    season,
    '/history',
    '/people',
    '/dispatches',
    '/find?q=26077A',
    '/lots/26077A/labels',
    '/backups',
  ])
    await visit(path);
  const cached = await cachedAddresses();
  for (const path of ['/', season, '/history', '/people', '/dispatches', '/find', '/lots/26077A/labels', '/backups'])
    expect(cached).not.toContain(path);
  await proxy.cut();
  await visit(season);
  expect(await page.textContent('h1')).toBe('No connection');
  await page.click('text="Gather sap"');
  expect(new URL(page.url()).pathname).toBe('/sap/gather');
  // What is typed meanwhile stays: the page is loaded anew only when somebody asks for it.
  await page.fill('#f-source', 'South road');
  await proxy.mend();
  await page.locator('p.away a').waitFor();
  expect(await page.textContent('p.away')).toMatch(/^The connection is back\./);
  expect(await page.inputValue('#f-source')).toBe('South road');
  await page.click('text="Show it as it is now"');
  await page.waitForFunction(() => !document.querySelector('[data-kept-page]'));
  expect(new URL(page.url()).pathname).toBe('/sap/gather');
}, 120_000);

test('another person who signs in finds nothing that was cached for the previous one', async () => {
  await visit(pack);
  await untilCached(pack);
  await phone.clearCookies();
  await visit('/sign-in');
  await page.waitForFunction(async () => (await (await caches.open('boilbook-pages')).keys()).length === 0);
  await page.fill('[name="initials"]', 'OE');
  await page.fill('[name="password"]', password);
  await page.click('main button');
  await untilCached('/sap/gather');
  const persons = await page.evaluate(async () => {
    const cache = await caches.open('boilbook-pages');
    const pages = (await cache.keys()).filter(({ url }) => !url.endsWith('/kept-for'));
    const texts = await Promise.all(pages.map(async (each) => (await cache.match(each))?.text()));
    return texts.map((html) => /data-person="([^"]*)"/.exec(html ?? '')?.[1]);
  });
  expect([...new Set(persons)]).toEqual(['OE']);
}, 120_000);

test('signing out removes all cached pages from the device', async () => {
  await visit('/account');
  await page.click('form[action="/sign-out"] button');
  await page.waitForURL('**/sign-in');
  await page.waitForFunction(async () => (await (await caches.open('boilbook-pages')).keys()).length === 0);
  await proxy.cut();
  await visit('/sap/gather');
  expect(await page.textContent('h1')).toBe('No connection');
  expect(await page.locator('main a').count()).toBe(0);
  await proxy.mend();
}, 120_000);

/** A port in front of the server's that can be closed and opened again under the same address. */
async function startProxy(to: string) {
  const sockets = new Set<Socket>();
  let listening: Server | undefined;
  let port = 0;
  const mend = async (): Promise<void> => {
    const fresh = createServer((near) => {
      const far = connect(Number(to), '127.0.0.1');
      for (const socket of [near, far]) {
        sockets.add(socket);
        socket.on('error', () => {});
        socket.on('close', () => (sockets.delete(socket), near.destroy(), far.destroy()));
      }
      near.pipe(far).pipe(near);
    });
    await new Promise<void>((resolve) => fresh.listen(port, '127.0.0.1', resolve));
    listening = fresh;
    const address = fresh.address();
    if (address && typeof address === 'object') port = address.port;
  };
  const cut = async (): Promise<void> => {
    const closed = new Promise<void>((resolve) => (listening ? listening.close(() => resolve()) : resolve()));
    for (const socket of sockets) socket.destroy();
    listening = undefined;
    await closed;
  };
  await mend();
  return { base: `http://127.0.0.1:${port}`, cut, mend };
}
