import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { owner, setUp } from '../support/newcomer.js';
import { startServer, posted, signedIn, type TestServer } from '../support/server.js';
import { writeDay } from '../support/season-server.js';

describe("an inspector's view", () => {
  let at: TestServer;
  let cookie = '';
  let link = '';
  let linkPage = '';
  beforeAll(async () => {
    at = await startServer({ BOILBOOK_PUBLIC_URL: 'https://jars.example' });
    await setUp(at);
    await writeDay(at);
    const own = await signedIn(at, owner.initials, owner.password);
    const result = { name: 'Inspector', days: '7' };
    linkPage = (await posted(at, '/people/links', { ...result, _once: 'one-link' }, { cookie: own })).body;
    link = /https:\/\/jars\.example(\/guest\/[\w-]{43})/.exec(linkPage)?.[1] ?? '';
    const opened = await posted(at, link, {});
    expect([opened.statusCode, opened.headers.location]).toEqual([303, '/season']);
    cookie = opened.cookies.map((each) => `${each.name}=${each.value}`).join('; ');
  }, 60_000);
  afterAll(() => at.close());
  const open = (url: string) => at.web.inject({ url, headers: { cookie } });

  test('is opened by a link with its full address, a QR code and a button that shares it', () => {
    expect(link).not.toBe('');
    expect(linkPage).toContain(`aria-label="QR code for https://jars.example${link}"`);
    expect(linkPage).toContain(`data-share="https://jars.example${link}"`);
  });

  test('opens on the season: the summary first, then a box to find a jar', async () => {
    expect((await open('/season')).headers.location).toBe('/season/2026');
    const { body, statusCode } = await open('/season/2026');
    expect(statusCode).toBe(200);
    const [pdf, find, lots] = ['/api/seasons/2026/summary.pdf', 'action="/find"', '>Lots</h2>'].map((text) =>
      body.indexOf(text),
    );
    expect(Math.min(pdf ?? -1, find ?? -1, lots ?? -1)).toBeGreaterThan(0);
    expect([pdf, find, lots]).toEqual([pdf, find, lots].sort((a, b) => (a ?? 0) - (b ?? 0)));
    const text = body.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
    expect(text).toMatch(/not counted \d+ °F/);
    const document = await open('/api/seasons/2026/summary.pdf');
    expect([document.statusCode, document.rawPayload.subarray(0, 5).toString()]).toEqual([200, '%PDF-']);
  });

  test('shows no form that an inspector may not use, on any linked page', async () => {
    const seen = new Set<string>();
    const waiting = ['/season/2026', '/', '/find', '/boils', '/packs'];
    for (const url of waiting) {
      if (seen.has(url) || seen.size > 60) continue;
      seen.add(url);
      const { body, headers, statusCode } = await open(url);
      expect({ url, refused: statusCode === 403 }).toEqual({ url, refused: false });
      if (!String(headers['content-type']).startsWith('text/html')) continue;
      const forms = [...body.matchAll(/<form method="post" action="([^"]*)"/g)].map((form) => form[1]);
      for (const action of forms.filter((each) => each !== undefined && each !== '/sign-out')) {
        const sent = await posted(at, action ?? '', { _once: `try ${action}` }, { cookie });
        expect({ url, action, refused: sent.statusCode === 403 }).toEqual({ url, action, refused: false });
      }
      if (url.startsWith('/season') || url === '/')
        waiting.push(...[...body.matchAll(/href="(\/[^"#]*)"/g)].map((each) => each[1] ?? '/').filter(isPage));
    }
    expect(seen.size).toBeGreaterThan(8);
  });
});

const isPage = (href: string): boolean => !/^\/(?:api|assets|sign-out|manifest)|\.\w{3,6}$/.test(href);
