import { afterAll, beforeAll, beforeEach, expect, test } from '@jest/globals';
import type { Page } from 'playwright-core';
import { addHouse } from '#libs/actions/accounts/add-house.js';
import { addPerson } from '#libs/actions/accounts/accounts.js';
import type { Book } from '#libs/store/book.js';
import { writeContext, done } from '../support/sugarhouse.js';
import { startBrowser, pressMain, setUp, type BrowserWithServer } from '../support/browser.js';

/** Several people and books share one device: a queued entry is sent to the book that it was written for, and to no other. */
let browser: BrowserWithServer;
let page: Page;
const password = 'steam over the roof at night';

beforeAll(async () => {
  browser = await startBrowser();
  ({ page } = await browser.open());
  await setUp(page, browser.server);
  const { book } = browser.server;
  done(await addPerson(book, 'home', { initials: 'OE', name: 'Oren Ellery', role: 'maker', password }));
  const result = {
    town: 'Harrow Notch, Vermont',
    place: 'Vermont',
    hydrometerMadeFor: '60-F',
    zone: 'America/New_York',
  };
  done(
    await addHouse(book, writeContext({ now: new Date() }), 'bracken-lane', {
      name: 'Bracken Lane Sugarbush',
      prefix: 'BL',
      ...result,
    }),
  );
  done(await addPerson(book, 'bracken-lane', { initials: 'WE', name: 'Wren', role: 'maker', password }));
}, 60_000);
afterAll(() => browser.close());

beforeEach(async () => {
  await page.goto('/account');
  if (await page.locator('form[action="/sign-out"]').count()) await signOut();
});

const signOut = async (): Promise<void> => {
  await page.goto('/account');
  await page.click('form[action="/sign-out"] button');
  await page.waitForURL('**/sign-in');
};
const signIn = async (initials: string, house = ''): Promise<void> => {
  await page.goto('/sign-in');
  await page.fill('[name="initials"]', initials);
  await page.fill('[name="password"]', password);
  await page.fill('[name="house"]', house);
  await page.click('main button');
  await page.waitForURL((url) => url.pathname === '/');
};
const practise = async (): Promise<void> => {
  // The page that offers it is for a book without an owner; the address itself works for anyone signed in.
  await page.evaluate(() => fetch('/practice', { method: 'POST' }).then((answer) => answer.text()));
  await page.goto('/');
  await page.waitForSelector('aside.practice');
};
const queueOffline = async (source: string): Promise<void> => {
  await page.goto('/sap/gather');
  await page.fill('#f-source', source);
  await page.fill('#f-volume', '40');
  await page.context().setOffline(true);
  await pressMain(page);
  await page.waitForFunction(() => document.querySelector('#away')?.textContent?.startsWith('1 entry is kept'));
};
const waitForQueueNotice = (text: string) =>
  page.waitForFunction((part) => document.querySelector('#away')?.textContent?.includes(part), text, {
    timeout: 30_000,
  });
const waitForEmptyQueue = () => page.waitForFunction(() => document.querySelector('#away')?.textContent === '');
const savedIn = async (book: Book, source: string): Promise<{ sugarhouse: string; by: string }[]> =>
  book.read.rows<{ sugarhouse: string; by: string }>`SELECT sugarhouse, "by" FROM record
    WHERE kind = 'gathering' AND typed LIKE ${`%${source}%`}`;
const untilSaved = async (book: Book, source: string): Promise<void> => {
  for (let tries = 0; tries < 100 && (await savedIn(book, source)).length === 0; tries++)
    await page.waitForTimeout(100);
};

test('an entry queued in practice is never written into the record; it is saved when practice is open again', async () => {
  await signIn('WE');
  await practise();
  const practice = await browser.server.server.practice();
  await queueOffline('practice bush');
  await page.context().clearCookies();
  await page.context().setOffline(false);
  await signIn('WE');
  await waitForQueueNotice('1 entry for the practice book');
  await page.goto('/packs');
  await waitForQueueNotice('1 entry for the practice book');
  expect(await savedIn(browser.server.book, 'practice bush')).toEqual([]);
  await practise();
  await untilSaved(practice, 'practice bush');
  expect(await savedIn(practice, 'practice bush')).toEqual([{ sugarhouse: 'home', by: 'WE' }]);
  expect(await savedIn(browser.server.book, 'practice bush')).toEqual([]);
  await waitForEmptyQueue();
});

test('another person who signs in on the device does not send it; it stays until its writer is back', async () => {
  await signIn('WE');
  await queueOffline('south bush');
  await page.context().clearCookies();
  await page.context().setOffline(false);
  await signIn('OE');
  await waitForQueueNotice('1 entry for the record book of Tamarack Hollow Sugarhouse, as WE: kept on this device');
  expect(await savedIn(browser.server.book, 'south bush')).toEqual([]);
  await page.click('#away >> text="Show"');
  await waitForQueueNotice('south bush');
  await signOut();
  await signIn('WE', 'BL');
  await waitForQueueNotice('Tamarack Hollow Sugarhouse, as WE');
  expect(await savedIn(browser.server.book, 'south bush')).toEqual([]);
  await signOut();
  await signIn('WE');
  await untilSaved(browser.server.book, 'south bush');
  expect(await savedIn(browser.server.book, 'south bush')).toEqual([{ sugarhouse: 'home', by: 'WE' }]);
});

test('another person’s entry can be discarded, after a second question', async () => {
  await signIn('WE');
  await queueOffline('lost bush');
  await page.context().clearCookies();
  await page.context().setOffline(false);
  await signIn('OE');
  await page.click('#away >> text="Show"');
  await page.click('#away >> text="Discard"');
  await waitForQueueNotice('lost bush');
  await page.click('#away >> text="Discard for good"');
  await waitForEmptyQueue();
  expect(await savedIn(browser.server.book, 'lost bush')).toEqual([]);
});

test('a tab left open for one person sends nothing once another is signed in, and keeps what was typed in it', async () => {
  await signIn('WE');
  const stale = await page.context().newPage();
  await stale.goto('/sap/gather');
  await stale.fill('#f-source', 'stale bush');
  await stale.fill('#f-volume', '12');
  await signOut();
  await signIn('OE');
  await pressMain(stale);
  await stale.waitForSelector('text="Not saved: made for another book"');
  expect(await stale.textContent('main')).toContain('stale bush');
  await stale.click('text="Keep it on this device until then"');
  await stale.waitForFunction(() => document.querySelector('#away')?.textContent?.includes('as WE: kept on this'));
  await stale.close();
  expect(await savedIn(browser.server.book, 'stale bush')).toEqual([]);
  await signOut();
  await signIn('WE');
  await untilSaved(browser.server.book, 'stale bush');
  expect(await savedIn(browser.server.book, 'stale bush')).toEqual([{ sugarhouse: 'home', by: 'WE' }]);
  await page.goto('/sap/gather');
  expect(await page.inputValue('#f-source')).toBe('');
});

test('an entry queued by an earlier version of the page is shown with a question, and sent only when confirmed', async () => {
  await signIn('WE');
  await page.evaluate(
    () =>
      new Promise<void>((resolve, reject) => {
        const opening = indexedDB.open('boilbook', 1);
        opening.onerror = () => reject(new Error('not opened'));
        opening.onsuccess = () => {
          const turn = opening.result.transaction('waiting', 'readwrite');
          const body = '_once=of-an-earlier-page&source=old+bush&volume=9&volume~unit=gal&gatheredAt=2026-03-18T07:30';
          turn.objectStore('waiting').add({ action: '/sap/gather', body });
          turn.oncomplete = () => resolve();
        };
      }),
  );
  await page.goto('/packs');
  await waitForQueueNotice('doesn’t say for which book');
  await waitForQueueNotice('source old bush');
  await page.waitForTimeout(1000);
  expect(await savedIn(browser.server.book, 'old bush')).toEqual([]);
  await page.click('#away >> text=/^Send it to the record book of Tamarack/');
  await untilSaved(browser.server.book, 'old bush');
  await waitForEmptyQueue();
  expect(await savedIn(browser.server.book, 'old bush')).toHaveLength(1);
});

test('what was typed and not sent is filled in again only for the person who typed it, in the same book', async () => {
  await signIn('WE');
  await page.goto('/sap/gather');
  await page.fill('#f-source', 'draft bush');
  const atPractice = () => signIn('WE').then(practise);
  for (const other of [() => signIn('OE'), () => signIn('WE', 'BL'), atPractice]) {
    await page.context().clearCookies();
    await other();
    await page.goto('/sap/gather');
    expect(await page.inputValue('#f-source')).toBe('');
  }
  await page.context().clearCookies();
  await signIn('WE');
  await page.goto('/sap/gather');
  expect(await page.inputValue('#f-source')).toBe('draft bush');
  await page.click('text="Clear it"');
});

test('what was typed when the session had ended is still there after signing in', async () => {
  await signIn('WE');
  await page.goto('/lots/none');
  await page.goto('/sap/gather');
  await page.fill('#f-source', 'door bush');
  await page.fill('#f-volume', '7');
  await page.context().clearCookies();
  await pressMain(page);
  await page.waitForURL('**/sign-in**');
  await signIn('WE');
  await page.goto('/sap/gather');
  expect(await page.inputValue('#f-source')).toBe('door bush');
  await page.click('text="Clear it"');
});

test('a draft kept by an earlier version of the page is offered and not filled in', async () => {
  await signIn('WE');
  await page.goto('/sap/gather');
  const name = await page.getAttribute('form[data-draft]', 'data-draft');
  await page.evaluate(
    (draft) => localStorage.setItem('drafts', JSON.stringify({ [draft]: { fields: [['source', 'early bush']] } })),
    name ?? '',
  );
  await page.reload();
  expect(await page.inputValue('#f-source')).toBe('');
  await page.click('text="Fill it in"');
  expect(await page.inputValue('#f-source')).toBe('early bush');
  await page.click('text="Clear it"');
});
