import { beforeAll, expect, test } from '@jest/globals';
import { plain } from '../support/documented-season.js';
import { readPdf } from '../support/read-pdf.js';
import { hiddenFieldsIn, recallSuite } from '../support/recall-suite.js';

const here = recallSuite();
const { open, write, aPack } = here;
const page = async (url: string): Promise<string> => plain((await open(url)).body.replace(/<[^>]+>/g, ' '));

let pack = '';
beforeAll(async () => {
  pack = await aPack(here.boil, { fromLots: [`${here.boil}:2.6 gal`], jars: '40' });
  const send = async (jars: string, kind: string, to: string, hour: number) =>
    write('dispatches', { lot: pack, jars, kind, to, sentAt: `2026-03-20T0${hour}:00`, by: 'JP' });
  await send('12', 'sale', 'Millrace Green market', 6);
  await send('4', 'gift', 'Neighbours at the mill', 7);
  await send('1', 'sample', 'fair judges', 7);
  await send('2', 'broken', 'shelf', 8);
  await send('2', 'returned', 'millrace green  market', 9);
});

test('the call list, its script, its PDF and the JSON say what a buyer still has after a return', async () => {
  const calls = await page(`/recall/calls?lot=${pack}`);
  expect(calls).toMatch(/Millrace Green market , 10 jars/);
  expect(calls).toMatch(/2 jars of \S+ returned, 20 Mar/);
  expect(await page(`/recall/call?lot=${pack}&to=Millrace+Green+market`)).toMatch(/2 jars of lot \S+ came back on/);
  const answer = (await open(`/api/lots/${pack}/recall`)).json<{ calls: unknown[]; reach: string }>();
  expect(answer.calls).toMatchObject([
    { to: 'Millrace Green market', jars: 10, jarsReturned: 2 },
    { jars: 4, jarsReturned: 0 },
    { jars: 1 },
  ]);
  expect(answer.reach).toContain(
    '14 jars sent out and 1 given as a sample; to call: Millrace Green market 10, Neighbours at the mill 4, fair judges 1.',
  );
  const pdf = await readPdf((await open(`/recall/list.pdf?lot=${pack}`)).rawPayload);
  expect(plain(pdf.text)).toMatch(/Millrace Green market, 10 jars/);
  expect(plain(pdf.text)).toContain('5 kept, samples, broken or returned = 40');
});

test('a return from somebody who is on no dispatch is said, since the calls then add up to more', async () => {
  await write('dispatches', {
    ...{ lot: pack, jars: '1', kind: 'returned', to: 'a customer', sentAt: '2026-03-20T10:00', by: 'JP' },
  });
  const answer = (await open(`/api/lots/${pack}/recall`)).json<{ reach: string }>();
  expect(answer.reach).toContain('13 jars sent out and 1 given as a sample');
  expect(answer.reach).toContain('; 1 of these was returned, it is not known by whom.');
});

test('the sentence of a held pack adds up to the jars made, and returned jars have a row of their own', async () => {
  expect((await here.send(`/lots/${pack}/hold`, { why: 'a doubt' })).statusCode).toBeLessThan(400);
  const lot = await page(`/lots/${pack}`);
  expect(lot).toMatch(/21 jars wait, of 40: 13 sent out, 2 broken, 1 given as samples, 3 returned and set apart\./);
  expect(lot).toMatch(/samples 1 broken 2 returned, set apart 3/);
});

test('jars that broke are not listed as sent to somebody', async () => {
  expect(await page('/dispatches')).toMatch(/2 jars of \S+ \(shelf\)/);
});

test('with jars out, a pack with mould leads to its recall, and says how many are out', async () => {
  const mouldy = await aPack(here.boil);
  await write('dispatches', { lot: mouldy, jars: '2', kind: 'sale', to: 'the stall', sentAt: '2026-03-20T06:00' });
  const none = await aPack(here.boil);
  for (const lot of [mouldy, none]) {
    const url = `/returns/${await here.firstJar(lot)}`;
    const said = { said: 'mould on the top', mould: 'yes', hold: 'yes' };
    expect((await here.send(url, { ...hiddenFieldsIn((await open(url)).body), ...said })).statusCode).toBe(303);
  }
  expect((await open(`/lots/${mouldy}`)).body).toMatch(
    new RegExp(`<a class="[^"]*next-action" href="/lots/${mouldy}/recall">\\s*Recall: 2 jars out`),
  );
  expect((await open(`/lots/${none}`)).body).toMatch(/class="main-action next-action" href="[^"]*\/act"/);
});
