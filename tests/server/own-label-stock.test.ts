import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { countLabels, labelCountSentences } from '#libs/actions/labels/label-count.js';
import { addPerson } from '#libs/actions/accounts/accounts.js';
import { jarLink } from '#libs/labels/content/address.js';
import { loadOwnStocks } from '#libs/actions/labels/label-stocks.js';
import { countRecords, recordsAbout } from '#libs/store/queries/lots.js';
import { openPdf, printed, readByFirst, textsOf } from '../support/read-symbols.js';
import { startServer, posted, signedIn, type TestServer } from '../support/server.js';
import { writeDay } from '../support/season-server.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

let at: TestServer;
let day: Awaited<ReturnType<typeof writeDay>>;
let cookie: string;

beforeAll(async () => {
  at = await startServer({ BOILBOOK_PUBLIC_URL: 'https://boilbook.example' });
  day = await writeDay(at);
  const password = 'steam over the sugarhouse roof';
  const added = await addPerson(at.book, 'home', { initials: 'WE', name: 'Wren', role: 'maker', password });
  if ('problem' in added) throw new Error(JSON.stringify(added.problem));
  cookie = await signedIn(at, 'WE', password);
}, 60_000);
afterAll(() => at.close());

const get = async (url: string) => at.web.inject({ url, headers: { cookie } });
const send = (url: string, fields: Record<string, string>) => posted(at, url, fields, { cookie });
const own = {
  id: 'own-8-up-90x60',
  pageWidth: '215.9',
  pageHeight: '11 in',
  left: '12,5',
  top: '14',
  columns: '2',
  rows: '4',
  labelWidth: '90',
  labelHeight: '60',
  pitchX: '95',
  pitchY: '62 mm',
  corner: '2',
};
const query = (fields: Record<string, string>) => new URLSearchParams(fields).toString();
/** An empty value is written as the attribute's name alone. */
const valueOf = (html: string, name: string): string | undefined => {
  const found = new RegExp(`name="${name}" value(?:="([^"]*)")?`).exec(html);
  return found ? (found[1] ?? '') : undefined;
};

test('the sheet and one label are previewed from what is typed, without script, and nothing is written', async () => {
  const empty = await get('/stocks/new');
  expect(empty.body).toContain('Enter the sizes');
  for (const name of Object.keys(own)) expect(valueOf(empty.body, name)).toBe('');
  const some = await get(`/stocks/new?${query({ pageWidth: '215.9' })}`);
  expect(some.body).toContain('Page height is still missing.');
  const all = await get(`/stocks/new?${query(own)}`);
  expect(all.body).toContain('Page of 215.9 × 279.4 mm with 2 × 4 labels of 90 × 60 mm');
  expect(all.body).toMatch(/<desc id="[^"]*">Label: Tamarack Hollow; [^<]*Maple syrup/);
  expect(await countRecords(sugarhouseReader(at.book.read, 'home'), 'stock')).toBe(0);
});

test.each<[string, Record<string, string>, string]>([
  ['labels that overlap', { pitchX: '80' }, 'Labels overlap sideways: 90 mm wide every 80 mm.'],
  ['labels off the page', { rows: '5' }, 'The last row leaves the page by 42.6 mm.'],
  ['a label too small for a symbol', { labelHeight: '12' }, 'A label under 15 mm has no room'],
  ['a name that ships', { id: 'roll-57x32' }, 'a name that no stock has that comes with the book'],
  ['a name with capitals', { id: 'Own One' }, 'a name of small letters, digits and dashes'],
  ['no width', { pageWidth: '' }, 'Page width: enter a length from 1 to 1500 mm'],
  ['a hundred and one rows', { rows: '101' }, 'a whole number from 1 to 100'],
])('%s is refused in a sentence, and what was typed stays', async (_what, change, text) => {
  const answer = await send('/stocks/new', { ...own, note: 'drawer under the till', ...change });
  expect(answer.statusCode).toBeGreaterThanOrEqual(400);
  expect(answer.statusCode).toBeLessThan(500);
  expect(answer.body).toContain(text);
  expect(valueOf(answer.body, 'left')).toBe('12,5');
  expect(answer.body).toContain('drawer under the till');
  expect(await countRecords(sugarhouseReader(at.book.read, 'home'), 'stock')).toBe(0);
});

test('an own stock is saved, logged, listed and corrected, and its name is unique', async () => {
  const saved = await send('/stocks/new', own);
  expect([saved.statusCode, saved.headers.location]).toEqual([303, '/stocks']);
  const [stock] = await loadOwnStocks(sugarhouseReader(at.book.read, 'home'));
  expect(stock).toMatchObject({ name: own.id, leftMm: 12.5, pageHeightMm: 279.4, pitchYMm: 62, columns: 2, rows: 4 });
  expect((await get('/stocks')).body).toContain(`/records/stock/${own.id}/correct`);
  expect((await get(`/records/stock/${own.id}`)).statusCode).toBe(200);
  expect((await get(`/stocks/${own.id}/alignment.pdf`)).headers['content-type']).toBe('application/pdf');
  const twice = await send('/stocks/new', { ...own, labelWidth: '80' });
  expect(twice.statusCode).toBeGreaterThanOrEqual(400);
  const put = await send(`/records/stock/${own.id}/correct`, { why: 'measured again', top: '14.5' });
  expect(put.statusCode).toBe(303);
  expect((await loadOwnStocks(sugarhouseReader(at.book.read, 'home'))).map((each) => each.topMm)).toEqual([14.5]);
  expect((await send(`/records/stock/${own.id}/correct`, { why: 'typed wrong', top: '200' })).statusCode).not.toBe(303);
  const result = await get('/api/label-stocks');
  expect(result.body).toContain(own.id);
});

test('labels print on it: shifted as requested, remembered for this stock alone, and a jar is read from its sheet', async () => {
  const { pack } = day;
  await send(`/lots/${pack}/labels/read`, {});
  const page = await get(`/lots/${pack}/labels`);
  expect(page.body).toContain(`value="${own.id}"`);
  const wrong = await send(`/lots/${pack}/labels`, { stock: own.id, right: '0.33' });
  expect(wrong.body).toContain('tenths of a millimetre');
  expect(valueOf(wrong.body, 'right')).toBe('0.33');
  const run = await send(`/lots/${pack}/labels`, { stock: own.id, from: '1', to: '11', right: '0.5', down: '-0,7' });
  expect(run.statusCode).toBe(303);
  const pdf = await get(String(run.headers.location));
  const still = await get(`/api/lots/${pack}/labels.pdf?stock=${own.id}&from=1&to=11&right=0&down=0`);
  const [moved, straight] = await Promise.all([openPdf(pdf.rawPayload), openPdf(still.rawPayload)]);
  const [first] = await textsOf(moved, 1);
  const [there] = await textsOf(straight, 1);
  expect((first?.xMm ?? 0) - (there?.xMm ?? 0)).toBeCloseTo(0.5, 1);
  expect((first?.baselineMm ?? 0) - (there?.baselineMm ?? 0)).toBeCloseTo(-0.7, 1);
  const links = day.jars.slice(0, 8).map((code) => jarLink('https://boilbook.example', code));
  expect((await readByFirst(await printed(moved, 1, 300))).sort()).toEqual(links.sort());
  await Promise.all([moved.destroy(), straight.destroy()]);

  const next = (await get(`/lots/${pack}/labels`)).body;
  expect(next).toMatch(new RegExp(`value="${own.id}" checked`));
  expect([valueOf(next, 'right'), valueOf(next, 'down')]).toEqual(['0.5', '-0.7']);
  expect(next).toContain('continue at place 4 of the last sheet');
  expect(next).toContain(`/lots/${pack}/labels?stock=${own.id}&amp;skip=3`);
  expect(valueOf((await get(`/lots/${pack}/labels?stock=${own.id}&skip=3`)).body, 'skip')).toBe('3');

  // The boxes still hold the other stock's shift: unchanged, they don't count for this one.
  const other = { stock: 'letter-10-up-102x51', was: own.id, right: '0.5', down: '-0.7', from: '12', to: '30' };
  const on = await send(`/lots/${pack}/labels`, other);
  expect(String(on.headers.location)).toContain('right=0&down=0');
  expect(valueOf((await get(`/lots/${pack}/labels?stock=${own.id}`)).body, 'right')).toBe('0.5');
  const runs = await recordsAbout(sugarhouseReader(at.book.read, 'home'), pack, 'labels');
  expect(runs.map(({ body }) => [body['stock'], body['ended'], body['right']])).toEqual([
    [own.id, 3, '0.5'],
    ['letter-10-up-102x51', 9, ''],
  ]);
});

test('spoiled labels are recorded on a small form, and the counts match the jars once they are reprinted', async () => {
  const { pack } = day;
  const says = async () => (await get(`/lots/${pack}`)).body;
  expect(await says()).toContain('30 jars, 30 labels printed.');
  const form = `/lots/${pack}/labels/spoiled`;
  expect(valueOf((await get(form)).body, 'from')).toBe('');
  const outside = await send(form, { from: '31', note: 'smeared' });
  expect(outside.body).toContain('1 to 30');
  expect(outside.body).toContain('smeared');
  expect((await send(form, {})).statusCode).toBe(422);
  expect((await send(form, { from: 'x' })).statusCode).toBe(422);
  expect((await send(form, { from: '17', note: 'smeared' })).statusCode).toBe(303);
  expect(await says()).toContain('1 spoiled label not printed again yet.');
  await send(`/lots/${pack}/labels`, { stock: own.id, from: '17', to: '17', skip: '3' });
  expect(await says()).toContain('30 jars, 30 labels printed, 1 spoiled, 1 printed again.');
  expect(await says()).toContain('Labels and jars come out even.');
});

test('an article number of one’s own goes into the QR code, and one with a wrong check digit is refused at its box', async () => {
  const { pack } = day;
  const request = { stock: own.id, from: '1', to: '2', gtin: '952 0123456788' };
  const sheet = await send(`/lots/${pack}/labels`, request);
  expect(sheet.statusCode).toBe(303);
  const pdf = await openPdf((await get(String(sheet.headers.location))).rawPayload);
  const path = (code: string) => `HTTPS://BOILBOOK.EXAMPLE/01/09520123456788/10/${pack}/21/${code}`;
  expect((await readByFirst(await printed(pdf, 1, 300))).sort()).toEqual(day.jars.slice(0, 2).map(path).sort());
  await pdf.destroy();
  const opened = await get(`/01/09520123456788/10/${pack}/21/${day.jars[0]}`);
  expect([opened.statusCode, opened.body.includes(pack)]).toEqual([200, true]);

  // Without a jar it is the page of the lot, for anyone; with another number, or of another lot, there is none.
  const lot = await at.web.inject(`/01/09520123456788/10/${pack}`);
  expect([lot.statusCode, lot.body.includes(`<code>${pack}</code>`)]).toEqual([200, true]);
  expect(lot.body).toContain('Tamarack Hollow Sugarhouse');
  expect(lot.body).not.toContain('Jar code');
  expect(lot.body.match(/<h1[ >]/g)).toHaveLength(1);
  expect((await at.web.inject(`/01/00012345678905/10/${pack}`)).statusCode).toBe(404);
  expect((await at.web.inject(`/01/09520123456788/10/${day.cold}`)).statusCode).toBe(404);
  const events = await get('/api/seasons/2026/summary.jsonld');
  expect(events.body).toContain(`/01/09520123456788/10/${pack}"`);

  const wrong = await send(`/lots/${pack}/labels`, { ...request, gtin: '9520123456780' });
  expect(wrong.statusCode).toBe(422);
  expect(wrong.body).toContain('your own GTIN of 8, 12, 13 or 14 digits with a valid check digit');
  expect(valueOf(wrong.body, 'gtin')).toBe('9520123456780');
});

test('a refusal marks the sheets that a label fits on, the house’s own too, and a retired one is no longer offered but stays in the book', async () => {
  const { pack } = day;
  const tiny = { ...own, id: 'own-tiny-22x16', labelWidth: '22', labelHeight: '16', pitchX: '25', pitchY: '20' };
  expect((await send('/stocks/new', tiny)).statusCode).toBe(303);
  const refused = await send(`/lots/${pack}/labels`, { stock: tiny.id, from: '1', to: '1' });
  expect(refused.statusCode).toBe(409);
  expect(refused.body.match(/does not fit on this sheet/g)).toHaveLength(1);
  expect(refused.body).toMatch(new RegExp(`value="${own.id}"/><span><b>Fits: </b>`));
  expect(refused.body).not.toMatch(new RegExp(`value="${tiny.id}"[^>]*/><span><b>`));
  expect((await get(`/lots/${pack}/labels`)).body).toContain(`value="${own.id}"`);
  const away = await send(`/records/stock/${own.id}/correct`, { ...own, used: 'no', why: 'the drawer is empty' });
  expect(away.statusCode).toBe(303);
  expect((await get(`/lots/${pack}/labels`)).body).not.toContain(`value="${own.id}"`);
  expect((await get('/stocks')).body).toMatch(new RegExp(`Not used any more[^]*${own.id}`));
  await send(`/records/stock/${own.id}/correct`, { ...own, used: 'yes', why: 'found more' });
  expect((await get(`/lots/${pack}/labels`)).body).toContain(`value="${own.id}"`);
});

test('each jar’s first label is printed and every further one as a reprint, however the runs overlap', () => {
  const count = countLabels(
    [
      { from: 5, to: 15 },
      { from: 1, to: 10 },
      { from: 3, to: 3, what: 'spoiled' },
    ],
    20,
  );
  expect(count).toEqual({ jars: 20, printed: 15, spoiled: 1, reprinted: 6 });
  expect(labelCountSentences(count)).toEqual([
    '20 jars, 15 labels printed, 1 spoiled, 6 printed again.',
    '5 jars without a label so far.',
    '5 labels more than jars: destroy what is left over and record it as spoiled.',
  ]);
  expect(labelCountSentences(countLabels([], 3))).toEqual(['3 jars, no labels printed yet.']);
});
