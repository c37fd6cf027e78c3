// Caches the forms and keypads of whoever is signed in, so that they open offline, even after the phone was restarted.
// Entries written on them wait in the browser (scripts/waiting.js); this file never touches them.
'use strict';
const pages = 'boilbook-pages';
const files = 'boilbook-files';
/**
 * Whose pages are cached, by the key that the server sends with each page: one book, sugarhouse and person at a time.
 */
const owner = '/kept-for';
/** A cached page is for a night without a connection, then it expires. */
const mostHours = 72;
/** On a weak network a cached page is shown before the connection times out. */
const patienceMs = 4000;

self.addEventListener('install', (event) => event.waitUntil(self.skipWaiting()));
self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()));
self.addEventListener('message', (event) => event.waitUntil(cacheAll(event.data?.keep ?? [])));

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== 'GET' || origin !== self.location.origin) return;
  // Documents are not handled here.
  if (request.mode === 'navigate' && !/\.[a-z]+$/.test(pathname)) event.respondWith(page(event));
  else if (/^\/assets\/(?!decoder\/)/.test(pathname)) event.respondWith(file(event));
});

async function page(event) {
  const { request } = event;
  const cached = await cachedPage(request.url);
  const answering = fetch(request);
  const caching = answering
    .then((answer) => cacheInTurn(request.url, answer.headers.has('Boilbook-Keep') ? answer.clone() : answer))
    .catch(() => {});
  event.waitUntil(caching);
  try {
    return await (cached ? Promise.race([answering, tooLate()]) : answering);
  } catch {
    return cached ?? listOfCached();
  }
}

const tooLate = () => new Promise((_, reject) => setTimeout(() => reject(new Error('no answer')), patienceMs));

/** Style sheet, script and typefaces are the same for everyone: the newest, else the cached ones. */
async function file(event) {
  const { request } = event;
  const cache = await caches.open(files);
  try {
    const answer = await fetch(request);
    if (answer.status === 200) event.waitUntil(cache.put(request, answer.clone()));
    return answer;
  } catch (fault) {
    const cached = await cache.match(request);
    if (cached) return cached;
    throw fault;
  }
}

async function cacheAll(urls) {
  for (const url of urls)
    await fetch(url, { headers: { 'Boilbook-Keeping': 'yes' }, redirect: 'manual' })
      .then((answer) => cacheInTurn(new URL(url, self.location.origin).href, answer))
      .catch(() => {});
}

/** One request after the other, so that two people's pages are never in the cache together. */
let lastWrite = Promise.resolve();
function cacheInTurn(url, answer) {
  lastWrite = lastWrite.then(() => cachePage(url, answer)).catch(() => {});
  return lastWrite;
}

async function cachePage(url, answer) {
  const person = answer.headers.get('Boilbook-For');
  if (person === null) return;
  if (person !== (await cachedOwner())) await caches.delete(pages);
  if (person === 'nobody') return;
  const cache = await caches.open(pages);
  await cache.put(owner, new Response(person));
  const [address] = url.split('#');
  if (answer.status !== 200 || !answer.headers.has('Boilbook-Keep')) return void (await cache.delete(address));
  const headers = new Headers(answer.headers);
  for (const name of ['Content-Encoding', 'Content-Length']) headers.delete(name);
  headers.set('Boilbook-Kept-At', new Date().toISOString());
  await cache.put(address, new Response(await answer.text(), { headers }));
}

const cachedOwner = async () => (await (await caches.open(pages)).match(owner))?.text();

async function cachedPage(url) {
  const cached = await (await caches.open(pages)).match(url.split('#')[0]);
  const at = Date.parse(cached?.headers.get('Boilbook-Kept-At') ?? '');
  if (!(Date.now() - at < mostHours * 3_600_000)) return undefined;
  return new Response(markedAsCached(await cached.text(), new Date(at)), { headers: cached.headers });
}

/**
 * Marks it as an older copy, removes messages of the last save, and gives each form a new token, since each use is a
 * new entry.
 */
const markedAsCached = (html, at) =>
  html
    .replace(/<form[^>]* data-undo[\s\S]*?<\/form>/g, '')
    .replace(/<div class="noted" role="status">[\s\S]*?<\/div>/g, '')
    .replace(/name="_once" value="[^"]*"/g, () => `name="_once" value="${crypto.randomUUID()}"`)
    .replace(
      '<p class="away" role="status" id="away"',
      `<p class="away" role="status" data-kept-page="">No connection. This page was kept on this device, as it was ${timeOf(at)}; what you write waits here until the connection is back.</p>$&`,
    );

const timeOf = (at) => at.toLocaleString('en-US', { dateStyle: 'medium', timeStyle: 'short' });

async function listOfCached() {
  const cache = await caches.open(pages);
  const links = [];
  for (const { url } of await cache.keys()) {
    const html = (await cachedPage(url)) && (await (await cache.match(url)).text());
    if (html) links.push(`<li><a class="quiet" href="${addressOf(url)}">${titleIn(html)}</a></li>`);
  }
  const body = `<h1>No connection</h1><p class="now">The computer that keeps the book can’t be reached from here.</p>${
    links.length > 0
      ? `<p>These pages are kept on this device. What you write on them waits here and goes in when the connection is back.</p><ul class="log-buttons">${links.join('')}</ul>`
      : '<p>Look whether this device is on the network of the sugarhouse and the computer is on, then try again.</p>'
  }`;
  return new Response(
    `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><meta name="color-scheme" content="light dark"><title>No connection</title><link rel="stylesheet" href="/assets/book.css"></head><body><main id="page">${body}</main></body></html>`,
    {
      status: 503,
      headers: {
        'Content-Type': 'text/html; charset=utf-8',
        'Content-Security-Policy': "default-src 'none'; style-src 'self'; font-src 'self'; base-uri 'none'",
      },
    },
  );
}

const addressOf = (url) => {
  const { pathname, search } = new URL(url);
  return `${pathname}${search}`.replaceAll('&', '&amp;');
};

/** Already escaped: it is cut out of a page. */
const titleIn = (html) => (/<title>([^<]*)<\/title>/.exec(html)?.[1] ?? 'A page').split(' · ')[0];
