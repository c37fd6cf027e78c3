import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addKey, addPerson } from '#libs/actions/accounts/accounts.js';
import { signIn, startBrowser, type BrowserWithServer } from '../support/browser.js';
import { readPdf } from '../support/read-pdf.js';
import { writeDay } from '../support/season-server.js';

let browser: BrowserWithServer;
const password = 'steam over the sugarhouse roof';

beforeAll(async () => {
  browser = await startBrowser({ BOILBOOK_PUBLIC_URL: 'https://jars.tamarack.example' });
  const { book, clock, web } = browser.server;
  await writeDay(browser.server);
  const added = await addPerson(book, 'home', { initials: 'WE', name: 'Wren', role: 'owner', password });
  if ('problem' in added) throw new Error(JSON.stringify(added.problem));
  const made = await addKey(book, 'home', { name: 'probes', role: 'owner' }, clock.now);
  if (!('key' in made)) throw new Error('no key');
  for (const id of ['T7', 'T8'])
    await web.inject({
      method: 'POST',
      url: '/api/instruments',
      headers: { authorization: `Bearer ${made.key}` },
      payload: { id, what: 'thermometer', made: 'digital, thin stem' },
    });
}, 120_000);
afterAll(() => browser.close());

test.each(['boil', 'pack'])(
  'the %s sheet prints on one page, of Letter and of A4, nothing cut off',
  async (sheet) => {
    const { context, page } = await browser.open({ serviceWorker: false, width: 1280, script: false });
    await signIn(page, 'WE', password);
    await page.goto(`/paper-sheets/${sheet}`);
    for (const format of ['Letter', 'A4']) {
      const printed = await readPdf(await page.pdf({ format }));
      expect([format, printed.pages.length]).toEqual([format, 1]);
      const text = printed.text.replace(/\s+/g, ' ');
      expect(text).toContain('write nothing you did not read');
      expect(text).toContain('follow your authority and your own inspection');
    }
    await page.emulateMedia({ media: 'print' });
    await page.setViewportSize({ width: 720, height: 1000 });
    const overflow = await page.locator('.scroll').evaluate((box) => getComputedStyle(box).overflowX);
    const rowMm = await page
      .locator('table.blank tbody tr')
      .first()
      .evaluate((row) => row.clientHeight / (96 / 25.4));
    expect(overflow).toBe('visible');
    expect(rowMm).toBeGreaterThan(7);
    await context.close();
  },
  60_000,
);
