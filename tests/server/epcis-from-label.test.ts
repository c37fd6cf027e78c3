import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { namesIn, upstreamOf, validated, walkable } from '../support/epcis-walk.js';
import { openPdf, printed, readByFirst } from '../support/read-symbols.js';
import { writeDay } from '../support/season-server.js';
import { startServer, type TestServer } from '../support/server.js';

const address = 'https://jars.tamarack.example';
/** From the range that GS1 keeps for examples (952). */
const gtin = '9520123456788';

let at: TestServer;
let day: Awaited<ReturnType<typeof writeDay>>;
let key = '';
beforeAll(async () => {
  at = await startServer({ BOILBOOK_PUBLIC_URL: address });
  day = await writeDay(at);
  const made = await addKey(at.book, 'home', { name: 'a script', role: 'owner' }, at.clock.now);
  if ('key' in made) key = made.key;
});
afterAll(() => at.close());

const ask = (url: string) => at.web.inject({ url, headers: { authorization: `Bearer ${key}` } });
const send = async (url: string, payload: object) => {
  const answer = await at.web.inject({ method: 'POST', url, payload, headers: { authorization: `Bearer ${key}` } });
  expect([url, answer.statusCode, answer.body]).toEqual([url, 201, expect.any(String)]);
  return answer;
};

test.each([
  ['without an article number', 1, {}, /^\/J\/[0-9A-Z]{8}$/],
  ['with an article number', 2, { gtin }, /^\/01\/09520123456788\/10\/26077A-1\/21\/[0-9A-Z]{8}$/],
])(
  'of a house %s, the address on the label of a sold jar leads to its sap',
  async (_, n, asked, path) => {
    const run = await send(`/api/lots/${day.pack}/labels`, { stock: 'letter-10-up-102x51', from: n, to: n, ...asked });
    const labels = await openPdf((await ask(run.json<{ pdf: string }>().pdf)).rawPayload);
    const [scanned = ''] = await readByFirst(await printed(labels, 1, 300));
    await labels.destroy();
    // Symbols hold fewer modules in capitals; scheme and host are the same in any case.
    const link = new URL(scanned);
    expect([link.origin, link.pathname]).toEqual([address, expect.stringMatching(path)]);
    const code = link.pathname.slice(-8);
    await send('/api/dispatches', {
      id: `S50${n}`,
      lot: day.pack,
      jars: [code],
      sentAt: '2026-03-20T10:00',
      to: 'Millrace Green market',
    });

    const document = (await ask('/api/seasons/2026/summary.jsonld')).json<object>();
    expect(validated(document)).toEqual({ success: true, errors: [] });
    const events = walkable(document);
    const sold = events.filter((event) => event.getBizStep() === 'retail_selling');
    expect(sold.flatMap(namesIn)).toContain(link.href);
    expect(upstreamOf(events, [link.href])).toContain(`${address}/lot/G041`);
    // The lot itself is named by the same keys.
    const lot = path.source.includes('01') ? `${address}/01/09520123456788/10/26077A-1` : `${address}/lot/${day.pack}`;
    expect(upstreamOf(events, [lot])).toContain(`${address}/lot/G041`);
    expect((await ask(lot.slice(address.length))).statusCode).toBeLessThan(400);
  },
  60_000,
);
