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

export interface BrowserWithServer {
  readonly base: string;
  readonly server: TestServer;
  /** Opens a window with cookies and storage of its own; `faults` collects script errors and requests to other servers. */
  open(options?: WindowOptions): Promise<{ context: BrowserContext; page: Page; faults: string[] }>;
  close(): Promise<void>;
}
export interface WindowOptions {
  readonly width?: number;
  readonly script?: boolean;
  readonly theme?: 'light' | 'dark';
  readonly touch?: boolean;
  /** Screen pixels per CSS pixel. */
  readonly dots?: number;
  /** The device's own time zone. */
  readonly zone?: string;
  /**
   * Whether pages may install the service worker, which loads every form into its cache at the first visit. False where
   * a test is not about work without a connection: that takes a quarter of its processor time.
   */
  readonly serviceWorker?: boolean;
}

/** Starts the real server on a real port, and a real browser for it. */
export async function startBrowser(
  env: Record<string, string> = {},
  switches: readonly string[] = [],
): Promise<BrowserWithServer> {
  const server = await startServer(env);
  // Browsers expire cookies by their own clock, so the book uses the same one.
  server.clock.now = new Date();
  const base = await server.web.listen({ port: 0, host: '127.0.0.1' });
  const browser = await launch(switches);
  return {
    base,
    server,
    open: async ({
      width = 390,
      script = true,
      theme = 'light',
      touch = false,
      dots = 1,
      zone,
      serviceWorker = true,
    } = {}) => {
      const context = await browser.newContext({
        baseURL: base,
        viewport: { width, height: 844 },
        javaScriptEnabled: script,
        colorScheme: theme,
        hasTouch: touch,
        deviceScaleFactor: dots,
        serviceWorkers: serviceWorker ? 'allow' : 'block',
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
 * forked from one that has loaded the program (the zygote): starting each by itself takes twice the processor time. Its
 * JavaScript collects garbage and compiles on one thread, which takes a tenth less in short pages.
 */
const launch = async (switches: readonly string[]): Promise<Browser> => {
  const options = await launchOptions(switches);
  return restartAfterCrash(() => playwright.launch(options));
};

/**
 * A Chromium that crashes before it has opened is started again, at most twice: about once in one or two hundred starts
 * it faults in the C library, before any page is requested. Each crash is printed. Other errors are thrown.
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
      '--js-flags=--single-threaded',
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

const house = {
  name: 'Tamarack Hollow Sugarhouse',
  place: 'Vermont',
  hydrometerMadeFor: '60-F',
  address: '12 Hollow Lane',
  town: 'Harrow Notch, Vermont',
  postcode: '05000',
};
const owner = { initials: 'WE', person: 'Wren Ellery', password: 'steam over the roof at night' };

/** Sets the new book up in the browser, page by page, with the code that the server printed. */
export async function setUpByPage(page: Page, server: TestServer): Promise<void> {
  await page.goto('/');
  await page.fill('#f-word', server.lines.at(-1) ?? '');
  await page.fill('#f-name', house.name);
  await page.selectOption('#f-place', house.place);
  await page.click('summary:has-text("Address")');
  for (const name of ['address', 'town', 'postcode'] as const) await page.fill(`#f-${name}`, house[name]);
  await page.click('button:has-text("Next")');
  for (const name of ['initials', 'person', 'password'] as const) await page.fill(`#f-${name}`, owner[name]);
  await page.click('button:has-text("Create the book")');
  await page.waitForURL((url) => url.pathname === '/');
}

/**
 * Sets the same book up by a request and leaves the owner signed in in this window, with no page open: a sixth of the
 * processor time of `setUpByPage`.
 */
export async function setUp(page: Page, server: TestServer): Promise<void> {
  await postForm(page, '/set-up', () => ({ ...house, ...owner, word: server.lines.at(-1) ?? '' }));
}

/** Signs a person in by a request, in this window. */
export const signIn = (page: Page, initials: string, password: string): Promise<void> =>
  postForm(page, '/sign-in', () => ({ initials, password }));

/**
 * Asks for a form, which makes the server print a setup code, and posts it outside the page with the cookies of its
 * window. Throws unless the server redirects.
 */
async function postForm(page: Page, path: string, fields: () => Record<string, string>): Promise<void> {
  const { origin } = new URL((await page.request.get(path)).url());
  const answer = await page.request.post(path, { form: fields(), headers: { origin }, maxRedirects: 0 });
  if (answer.status() !== 303) throw new Error(`${path}: ${answer.status()} ${await answer.text()}`);
}

/** The main button at the bottom of a form. */
export const pressMain = (page: Page): Promise<void> => page.click('main form[method="post"] button.main-action');

/** A finished boil of 3 gal and a pack begun from it; the page is then the pack's, at its quick form. */
export async function beginPack(page: Page): Promise<void> {
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

/** Posts a form by the page's own script, as its person; throws with the page's summary of faults if it is refused. */
export const postFromPage = (page: Page, action: string, fields: Record<string, string>): Promise<void> =>
  page.evaluate(
    async ([to, texts]) => {
      const answer = await fetch(to, { method: 'POST', body: new URLSearchParams(texts) });
      const summary = /class="summary"[^]*?<\/div>/.exec(await answer.clone().text())?.[0];
      if (!answer.redirected) throw new Error(`${to}: ${answer.status} ${summary}`);
    },
    [action, fields] as const,
  );
