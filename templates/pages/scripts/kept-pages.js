// Calls all, one (begin), origin (origin). Is called by begin.
/* registers the worker that lets pages open offline: browsers allow it only over TLS and on the machine itself */
async function cachePages() {
  if (!window.isSecureContext || !navigator.serviceWorker) return;
  // On the sign-in page nobody is signed in, so nothing is cached.
  if (!origin()) return void (one('form[action="/sign-in"]') && (await caches.delete('boilbook-pages')));
  // An untrusted certificate, or a browser without storage: the pages work all the same.
  await navigator.serviceWorker.register('/worker.js').catch(() => {});
  const { active } = await navigator.serviceWorker.ready;
  // The first page was loaded before there was a worker to cache it.
  const own = navigator.serviceWorker.controller ? [] : [location.pathname + location.search];
  active.postMessage({ keep: [...new Set([...own, ...(cachedRecently() ? [] : usualPages())])] });
}

const usualPages = () =>
  one('a[href="/sap/gather"]')
    ? [
        '/sap/gather',
        '/boils/begin',
        '/packs/begin',
        ...all('a[data-underway]').map((link) => link.getAttribute('href')),
      ]
    : [];

/**
 * The usual pages change little: they are fetched again after a quarter of an hour, and when somebody else signs in.
 */
function cachedRecently() {
  const { book, house, person } = origin();
  const mark = `${book} ${house} ${person}`;
  const [at, before] = (sessionStorage.getItem('kept-pages') ?? '').split('|');
  if (before === mark && Date.now() - Number(at) < 900_000) return true;
  if (one('a[href="/sap/gather"]')) sessionStorage.setItem('kept-pages', `${Date.now()}|${mark}`);
  return false;
}

/**
 * A kept page says that there is no connection until the server answers again. Then it links to the page as it is now:
 * it does not load it by itself, since something may be typed in its boxes.
 */
function watchForConnection(notice) {
  const look = async () => {
    const answer = await fetch('/healthz', { cache: 'no-store' }).catch(() => undefined);
    if (!answer?.ok) return;
    clearInterval(timer);
    removeEventListener('online', look);
    const link = document.createElement('a');
    Object.assign(link, { href: location.pathname + location.search, textContent: 'Show it as it is now' });
    notice.replaceChildren('The connection is back. This is the page as it was kept on this device. ', link, '.');
  };
  const timer = setInterval(look, 10_000);
  addEventListener('online', look);
}
