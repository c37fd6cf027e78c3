import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { addPerson } from '#libs/actions/accounts/accounts.js';
import { findRecord, lotsOf } from '#libs/store/queries/lots.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { jarsOfPacks, lotsDownstream, ofKind } from '#libs/store/queries/trace.js';
import { writeBigBook, type BigBook } from '../generator/big-book.js';
import { startServer, signedIn, type TestServer } from '../support/server.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

let at: TestServer;
let big: BigBook;
let cookie = '';

beforeAll(async () => {
  at = await startServer();
  big = await writeBigBook(at.book, 60);
  at.clock.now = new Date('2030-01-01T12:00:00Z');
  const password = 'steam over the roof of WE';
  await addPerson(at.book, 'home', { initials: 'WE', name: 'WE', role: 'maker', password });
  cookie = await signedIn(at, 'WE', password);
}, 60_000);
afterAll(() => at.close());

const open = async (url: string): Promise<string> => {
  const answer = await at.web.inject({ url, headers: { cookie } });
  expect([url, answer.statusCode]).toEqual([url, 200]);
  return answer.body;
};
const jarsOn = (body: string): string[] =>
  [...body.matchAll(/<a class="row" href="\/jars\/([0-9A-Z-]+)">/g)].map((each) => each[1] ?? '');
const nextOf = (body: string, param: string): string | undefined =>
  [...body.matchAll(/href="([^"]+)">the next hundred →/g)]
    .map((each) => (each[1] ?? '').replaceAll('&amp;', '&'))
    .find((address) => address.endsWith(`#${param}`));

async function jarsBelow(lot: string): Promise<Set<string>> {
  const packs = ofKind(await lotsDownstream(sugarhouseReader(at.book.read, 'home'), lot), 'pack').map(
    (pack) => pack.code,
  );
  const codes = new Set<string>();
  for await (const jar of jarsOfPacks(sugarhouseReader(at.book.read, 'home'), packs))
    codes.add(printedJarCode(jar.code));
  return codes;
}

describe('a lot with very many jars', () => {
  test('its trace shows a hundred jars and the count; the next hundreds lead to every jar once', async () => {
    const expected = await jarsBelow(big.wideBoil);
    expect(expected.size).toBeGreaterThan(300);
    const seen: string[] = [];
    for (let url: string | undefined = `/lots/${big.wideBoil}/trace`; url;) {
      const body = await open(url.replace(/#.*/, ''));
      expect(body).toContain(`Every jar: ${expected.size.toLocaleString('en')}`);
      const shown = jarsOn(body);
      expect(shown.length).toBeLessThanOrEqual(100);
      seen.push(...shown);
      url = nextOf(body, 'every');
    }
    expect([seen.length, new Set(seen)]).toEqual([expected.size, expected]);
  });

  test('the file of its jars has a line for each, and the destination of those listed in a dispatch', async () => {
    const lines = (await open(`/lots/${big.wideBoil}/jars.csv`)).trimEnd().split('\r\n').slice(1);
    const codes = lines.map((line) => line.split(',')[0]?.replaceAll('"', ''));
    const expected = await jarsBelow(big.wideBoil);
    expect([codes.length, new Set(codes)]).toEqual([expected.size, expected]);
    const named = (await findRecord(sugarhouseReader(at.book.read, 'home'), 'dispatch', 'T0'))?.body.codes ?? [];
    expect(named).toHaveLength(3);
    for (const code of named)
      expect(lines.find((line) => line.includes(printedJarCode(code)))).toContain('"T0","Millrace Green"');
  });

  test('the file of its dispatches has each of them with the jars it lists', async () => {
    const body = await open(`/lots/${big.wideBoil}/dispatches.csv`);
    const packs = new Set(
      ofKind(await lotsDownstream(sugarhouseReader(at.book.read, 'home'), big.wideBoil), 'pack').map(
        (each) => each.code,
      ),
    );
    const sent = Array.from({ length: 60 }, (_, n) => [`S${n}`, `T${n}`])
      .flat()
      .filter((id) => body.includes(`"${id}",`));
    expect(body.trimEnd().split('\r\n')).toHaveLength(sent.length + 1);
    for (const id of sent) {
      const dispatch = (await findRecord(sugarhouseReader(at.book.read, 'home'), 'dispatch', id))?.body;
      expect(packs.has(dispatch?.lot ?? '')).toBe(true);
    }
  });

  test('a recall’s packs stop at a hundred as well, with a link to the rest', async () => {
    const packs = await lotsOf(sugarhouseReader(at.book.read, 'home'), 'pack');
    const recall = await open(`/recall?${packs.map((pack) => `lot=${pack.code}`).join('&')}`);
    expect(recall).toContain(`1–100 of ${packs.length} packs`);
    const next = await open((nextOf(recall, 'packs') ?? '').replace(/#.*/, ''));
    expect(next).toContain(`101–${packs.length} of ${packs.length} packs`);
    expect(next).toContain('← those before');
  });

  test('a trace shows how much of the syrup each boil gave, and which boils left only the contents of their pans in it', async () => {
    // The first pack of the fourth boil: 2.1 gal of its own boil, 0.1 gal of the first.
    const body = await open('/lots/06060D-1/trace');
    const formatted = body.replace(/<[^>]+>|&ensp;/g, ' ').replace(/\s+/g, ' ');
    expect(formatted).toContain('Syrup of 06060D 95 % 2.1 gal 06060A 5 % 12.8 fl oz');
    expect(formatted).toContain('Only the syrup left in their pans 06060B 06060C');
    expect(formatted).toMatch(
      /Syrup, by volume drawn for it 2\.2 gal in jars 2\.12 gal not in jars: shrink, filters, the kettle, or left over 9\.6 fl oz/,
    );
  });

  test('a trace of sap shows how much syrup was made from it, and how much was boiled away', async () => {
    const formatted = (await open('/lots/G4/trace')).replace(/<[^>]+>|&ensp;/g, ' ').replace(/\s+/g, ' ');
    // 120 gal, all of the sap of a boil that made 6.5 gal.
    expect(formatted).toContain('Sap, by volume in all 120 gal became syrup 6.5 gal boiled away 113.5 gal');
  });

  test('an invalid position in a list starts it at its first row', async () => {
    for (const place of ['0', '-5', 'x', '1e9', '999999999'])
      expect(jarsOn(await open(`/lots/${big.wideBoil}/trace?every=${place}`)).length).toBe(100);
    expect(await open(`/lots/${big.wideBoil}/trace?every=90000`)).toContain('none of ');
  });
});
