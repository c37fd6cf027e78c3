import { createReadStream, createWriteStream, existsSync, statSync } from 'node:fs';
import { link, unlink } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { fileURLToPath } from 'node:url';
import { createBrotliDecompress } from 'node:zlib';
import chromium from '@sparticuz/chromium';
import { chromium as playwright, type Browser, type BrowserContext, type Page } from 'playwright-core';
import { startServer, type TestServer } from './server.js';

export interface ABrowser {
  readonly base: string;
  readonly server: TestServer;
  /** A person with a browser of their own: size, script on or off, day or night. */
  open(recordOptions?: RecordOptions): Promise<{ context: BrowserContext; page: Page; faults: string[] }>;
  close(): Promise<void>;
}
export interface RecordOptions {
  readonly width?: number;
  readonly script?: boolean;
  readonly theme?: 'light' | 'dark';
  readonly touch?: boolean;
  /** Screen pixels per CSS pixel. */
  readonly dots?: number;
  /** The device's own time zone. */
  readonly zone?: string;
}

/** The real server on a real port, with a real browser. */
export async function aBrowser(env: Record<string, string> = {}, switches: readonly string[] = []): Promise<ABrowser> {
  const server = await startServer(env);
  // Browsers expire cookies by their own clock, so the book uses the same one.
  server.clock.now = new Date();
  const base = await server.web.listen({ port: 0, host: '127.0.0.1' });
  const browser = await launch(switches);
  return {
    base,
    server,
    open: async ({ width = 390, script = true, theme = 'light', touch = false, dots = 1, zone } = {}) => {
      const context = await browser.newContext({
        baseURL: base,
        viewport: { width, height: 844 },
        javaScriptEnabled: script,
        colorScheme: theme,
        hasTouch: touch,
        deviceScaleFactor: dots,
        ...(zone ? { timezoneId: zone } : {}),
      });
      const page = await context.newPage();
      page.setDefaultTimeout(15_000);
      const faults: string[] = [];
      page.on('pageerror', (fault) => faults.push(`${page.url()}: ${fault.message}`));
      page.on('console', (line) => {
        if (line.type() === 'error') faults.push(`${page.url()}: ${line.text()}`);
      });
      // Nothing may be requested from other servers.
      page.on('request', (request) => {
        if (!/^(data|blob):/.test(request.url()) && !request.url().startsWith(base))
          faults.push(`went to ${request.url()}`);
      });
      return { context, page, faults };
    },
    close: async () => {
      await browser.close();
      await server.close();
    },
  };
}

/**
 * Chromium from npm with its usual switches for small machines, without those that make it lenient and those that
 * emulate a graphics card in software: no page here needs one, and it takes a third of a page's time. Its processes are
 * forked from one that has loaded the program (the zygote): starting each anew takes twice the processor time.
 */
const launch = async (switches: readonly string[]): Promise<Browser> => {
  const options = await launchOptions(switches);
  return restartAfterCrash(() => playwright.launch(options));
};

/**
 * A Chromium that crashes before it has opened is started again, at most twice: about once in a few thousand starts it
 * dies of a fault in its own threads, before any page is asked for. Each crash is printed. Other errors are thrown.
 */
async function restartAfterCrash<T>(start: () => Promise<T>, restarts = 2): Promise<T> {
  try {
    return await start();
  } catch (fault) {
    const crash = /signal=SIG(SEGV|BUS|TRAP|ABRT|ILL)/.exec(String(fault));
    if (!crash || restarts === 0) throw fault;
    console.warn(`Chromium crashed at its start (${crash[0]}); it is started again.`);
    return restartAfterCrash(start, restarts - 1);
  }
}

async function launchOptions(switches: readonly string[] = []) {
  return {
    executablePath: await unpackedChromium(),
    args: [
      ...chromium.args.filter((each) => !left.includes(each)),
      '--disable-background-networking',
      '--disable-gpu',
      ...switches,
    ],
  };
}

/**
 * The program of the package, unpacked once a version. It gets its name when it is whole, so that another worker or a
 * later run never starts a half-written file; the package's own unpacking writes in place.
 */
async function unpackedChromium(): Promise<string> {
  const packed = fileURLToPath(new URL('../../bin/chromium.br', import.meta.resolve('@sparticuz/chromium')));
  const program = join(tmpdir(), `boilbook-chromium-${statSync(packed).size}`);
  if (existsSync(program)) return program;
  const unfinished = `${program}-${process.pid}`;
  await pipeline(createReadStream(packed), createBrotliDecompress(), createWriteStream(unfinished, { mode: 0o700 }));
  try {
    // Unlike a rename, this leaves a program alone that another worker has unpacked and started meanwhile.
    await link(unfinished, program);
  } catch (fault) {
    if (!existsSync(program)) throw fault;
  } finally {
    await unlink(unfinished);
  }
  return program;
}

const left = [
  '--single-process',
  '--no-zygote',
  '--disable-web-security',
  '--allow-running-insecure-content',
  '--ignore-gpu-blocklist',
  '--in-process-gpu',
  '--use-gl=angle',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
];

/** A browser that keeps its storage in a folder, as a phone does over a restart. */
export const phoneWith = async (
  folder: string,
  baseURL: string,
  switches: readonly string[] = [],
): Promise<BrowserContext> => {
  const options = { ...(await launchOptions(switches)), baseURL, viewport: { width: 390, height: 844 } };
  return restartAfterCrash(() => playwright.launchPersistentContext(folder, options));
};

/** Claims the new book with the code that the server printed. */
export async function setUp(page: Page, server: TestServer): Promise<void> {
  await page.goto('/');
  await page.fill('#f-word', server.lines.at(-1) ?? '');
  await page.fill('#f-name', 'Tamarack Hollow Sugarhouse');
  await page.selectOption('#f-place', 'Vermont');
  await page.click('summary:has-text("Address")');
  await page.fill('#f-address', '12 Hollow Lane');
  await page.fill('#f-town', 'Harrow Notch, Vermont');
  await page.fill('#f-postcode', '05000');
  await page.click('button:has-text("Next")');
  await page.fill('#f-initials', 'WE');
  await page.fill('#f-person', 'Wren Ellery');
  await page.fill('#f-password', 'steam over the roof at night');
  await page.click('button:has-text("Create the book")');
  await page.waitForURL((url) => url.pathname === '/');
}

/** The main button at the bottom of a form. */
export const pressMain = (page: Page): Promise<void> => page.click('main form[method="post"] button.main-action');

/** A finished boil of 3 gal and a pack begun from it; the page is then the pack's, at its quick form. */
export async function packBegun(page: Page): Promise<void> {
  await page.goto('/boils/finished');
  await page.fill('#f-beganAt', '2026-03-18T07:30');
  await page.fill('#f-syrupVolume', '3');
  await pressMain(page);
  await page.waitForURL('**/lots/26077A');
  await page.click('text="Pack this syrup"');
  await page.fill('#f-container', 'glass jar 8 fl oz');
  await pressMain(page);
  await page.waitForURL('**/lots/*#fill');
}
