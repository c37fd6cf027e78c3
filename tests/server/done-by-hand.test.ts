import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { seasonDocument } from '#libs/actions/season/season-document.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findLot, findRecord, recordsOf } from '#libs/store/queries/lots.js';
import { owner, setUp } from '../support/newcomer.js';
import { bytesOf, readPdf } from '../support/read-pdf.js';
import { writeDay } from '../support/season-server.js';
import { done } from '../support/sugarhouse.js';
import { originOn, startServer, signedIn, type TestServer } from '../support/server.js';

let server: TestServer;
let cookie = '';
let day: Awaited<ReturnType<typeof writeDay>>;
let once = 0;

beforeAll(async () => {
  server = await startServer();
  await setUp(server);
  day = await writeDay(server);
  cookie = await signedIn(server, 'WE', owner.password);
}, 60_000);
afterAll(() => server.close());

const reader = () => sugarhouseReader(server.book.read, 'home');
const page = async (url: string): Promise<string> => (await server.web.inject({ url, headers: { cookie } })).body;
/** A browser sends each ticked box separately; a list of them has one name. */
async function send(url: string, fields: Record<string, string | readonly string[]>) {
  const single = Object.entries(fields).map(([name, value]) => [name, [value].flat()[0] ?? ''] as const);
  const more = Object.entries(fields).flatMap(([name, value]) =>
    [value]
      .flat()
      .slice(1)
      .map((each) => `&${encodeURIComponent(name)}=${encodeURIComponent(each)}`),
  );
  const form = new URLSearchParams({
    ...(await originOn(server, cookie)),
    _once: `ticks-${once++}`,
    ...Object.fromEntries(single),
  }).toString();
  return server.web.inject({
    method: 'POST',
    url,
    headers: { cookie, origin: 'http://localhost', 'content-type': 'application/x-www-form-urlencoded' },
    payload: form + more.join(''),
  });
}

const ticks = ['handling', 'benchReady', 'benchFilled'];

test('steps done by hand are ticked by a person: no form pre-ticks them, nor does “same as last time”', async () => {
  for (const url of ['/sap/gather', '/packs/begin', '/packs/finished', `/records/pack/${day.pack}/correct?field=all`])
    for (const address of [url, `${url}${url.includes('?') ? '&' : '?'}same=1`]) {
      const boxes = [...(await page(address)).matchAll(/<input type="checkbox" name="(\w+)"[^>]*>/g)].filter(
        ([, name]) => ticks.includes(name ?? ''),
      );
      expect([address, boxes.length > 0]).toEqual([address, true]);
      expect([address, boxes.filter(([box]) => box.includes('checked'))]).toEqual([address, []]);
    }
});

test('sap that was strained, packed in snow and partly thrown out is recorded so, and only the rest counts', async () => {
  const saved = await send('/sap/gather', {
    volume: '40 gal',
    source: 'South road',
    'gatheredAt~ago': 'now',
    handling: ['strained', 'packed-in-snow'],
    thrownOut: '3 gal',
  });
  expect(saved.statusCode).toBe(303);
  const sap = (await recordsOf(reader(), 'gathering')).at(-1);
  expect(sap?.body).toMatchObject({ handling: ['strained', 'packed-in-snow'], thrownOut: { typed: '3 gal' } });
  expect((await findLot(reader(), sap?.id ?? ''))?.millilitres).toBeCloseTo(40 * 3785.41, -1);
  const shown = (await page(`/lots/${sap?.id}`)).replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
  expect(shown).toContain('What was done strained · packed in snow');
  expect(shown).toContain('thrown out 3 gal');
});

test('ticked steps are added as they are done, printed as ticked, and only the warming of jars is judged', async () => {
  const [boil] = await recordsOf(reader(), 'boil');
  const begun = await send('/packs/begin', {
    'fromLots~more': boil?.id ?? '',
    'fromLots~more~amount': '0.2 gal',
    container: 'glass jar 8 fl oz',
    'packedAt~ago': 'now',
    benchReady: ['lids-new', 'jars-hot'],
  });
  const pack = /\/lots\/([^#]+)/.exec(String(begun.headers['location']))?.[1] ?? '';
  const finished = await send(`/packs/${pack}/finish`, { jars: '3', benchFilled: ['rims-wiped'] });
  expect(finished.statusCode).toBe(303);
  expect((await findRecord(reader(), 'pack', pack))?.body).toMatchObject({
    benchReady: ['lids-new', 'jars-hot'],
    benchFilled: ['rims-wiped'],
  });
  const rules = (await findLot(reader(), pack))?.verdict?.findings.map(({ rule }) => rule) ?? [];
  expect(rules).toContain('density-not-read');
  expect(rules).not.toContain('not-preheated');
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: server.clock.now, zone: 'America/New_York' };
  const request = { year: '2026', format: 'pdf', base: '', lotPages: true };
  const pdf = (
    await readPdf(await bytesOf(done(await seasonDocument(server.book, context, request)).write))
  ).text.replace(/\s+/g, ' ');
  expect(pdf).toContain('Bench checklist: lids new, jars hot, rims wiped.');
  expect(pdf).toContain('Bench checklist: not recorded.');
}, 60_000);

test('a value that isn’t on the list is refused with the list, and the paper sheet has squares to tick', async () => {
  const refused = await send('/sap/gather', { volume: '40', source: 'South road', handling: 'blessed' });
  expect(refused.statusCode).toBe(422);
  expect(refused.body).toContain('one of strained, packed-in-snow');
  expect(await page('/paper-sheets/pack')).toContain('filled to the shoulder');
  // Copied from the sheet, a count of seals needs its time.
  expect((await page('/paper-sheets/pack')).replace(/\s+/g, ' ')).toMatch(
    /Seals, when cold.*failed _+.*counted on _+ at _+/,
  );
  expect(await page('/paper-sheets/boil')).toContain('Off the spoon');
});
