import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { addPerson } from '#libs/actions/accounts/accounts.js';
import { writeBigBook } from '../generator/big-book.js';
import { engines } from '../support/engines.js';
import { posted, signedIn, startServer, type TestServer } from '../support/server.js';

/** Two servers over one book: what one of them has kept of earlier pages is never shown once the other wrote. */
describe.each(engines())('Two servers over one book on $name', (engine) => {
  const password = 'two kettles on one arch';
  let one: TestServer;
  let other: TestServer;
  let pack = '';
  const cookies = new Map<TestServer, string>();
  beforeAll(async () => {
    await engine.start();
    const location = await engine.freshKeeping();
    const same = { engine: { ...engine, freshKeeping: () => Promise.resolve(location) } };
    [one, other] = [await startServer({}, same), await startServer({}, same)];
    for (const server of [one, other]) server.clock.now = new Date('2006-03-05T12:00:00Z');
    pack = `${(await writeBigBook(one.book, 4)).lastBoil}-2`;
    await addPerson(one.book, 'home', { initials: 'WE', name: 'WE', role: 'owner', password });
    for (const server of [one, other]) cookies.set(server, await signedIn(server, 'WE', password));
  }, 60_000);
  afterAll(async () => {
    await one.close();
    await other.close();
    await engine.stop();
  });

  async function page(server: TestServer, url: string): Promise<string> {
    const answer = await server.web.inject({ url, headers: { cookie: cookies.get(server)! } });
    expect([url, answer.statusCode]).toEqual([url, 200]);
    return answer.body;
  }
  const addresses = [
    ...['/', '/packs', '/boils', '/season/2006', '/season/2006/pictures'],
    ...['/packs?q=held', '/packs?sort=-onhand', '/boils?sort=-left'],
  ];
  const rowIn = (html: string): string =>
    new RegExp(`<li><a class="row two" href="/lots/${pack}">.*?</a></li>`).exec(html)?.[0] ?? '';

  test('a lot that the other server holds is held on the next page, within the same minute', async () => {
    // Twice, so that everything that is kept was kept before.
    for (const server of [one, other, one, other]) for (const url of addresses) await page(server, url);
    expect(rowIn(await page(one, '/packs'))).not.toContain('held');
    const cookie = cookies.get(other)!;
    const held = await posted(other, `/lots/${pack}/hold`, { why: 'a doubt about the lid', by: 'WE' }, { cookie });
    expect([held.statusCode, held.headers.location]).toEqual([303, `/lots/${pack}`]);
    for (const server of [one, other]) {
      expect(rowIn(await page(server, '/packs'))).toContain('class="stamp small held"');
      expect(await page(server, '/')).toMatch(new RegExp(`<h2[^>]*>Held.*${pack}`));
      expect(await page(server, '/packs?q=held')).toContain(`1 of 12 packs`);
      expect(await page(server, '/season/2006')).toContain('held');
    }
    for (const url of addresses) expect(body(await page(one, url))).toBe(body(await page(other, url)));
  });

  test('sap that the other server records is on Today at once', async () => {
    const before = await page(one, '/');
    const cookie = cookies.get(other)!;
    const made = await posted(
      other,
      '/sap/gather',
      { gatheredAt: '2006-03-05T06:00', source: 'the far bush', volume: '90 gal', by: 'WE' },
      { cookie },
    );
    expect(made.statusCode).toBe(303);
    expect(before).not.toContain('90 gal from the far bush');
    expect(await page(one, '/')).toContain('90 gal from the far bush waiting');
    expect(body(await page(one, '/'))).toBe(body(await page(other, '/')));
  });

  /** Without the idempotency keys of its forms, which differ each time a page is drawn. */
  const body = (html: string): string => html.replace(/[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}/g, '');
});
