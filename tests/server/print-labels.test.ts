import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { printLabels } from '#libs/actions/labels/print-labels.js';
import { recordsAbout } from '#libs/store/queries/lots.js';
import { labels } from '../../apps/cli/commands/labels.js';
import type { CommandContext } from '../../apps/cli/command.js';
import { recallSuite } from '../support/recall-suite.js';
import { openPdf, printed, readByFirst } from '../support/read-symbols.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

const here = recallSuite();
const folder = mkdtempSync(join(tmpdir(), 'labels-'));
let pack = '';
let key = '';

beforeAll(async () => {
  // Jars 7 to 11 are held by the cold reading; 1 to 6 and 12 are not.
  const fillTemps = ['186 F jar 6', '176 F jars 7-9', '185 F jar 12'];
  pack = await here.aPack(here.boil, { fromLots: [`${here.boil}:0.8 gal`], jars: '12', fillTemps });
  const added = await addKey(here.at.book, 'home', { name: 'till', role: 'maker' }, here.at.clock.now);
  if ('problem' in added) throw new Error(JSON.stringify(added.problem));
  key = added.key;
});
afterAll(() => rmSync(folder, { recursive: true }));

const headers = () => ({ authorization: `Bearer ${key}` });
const throughPage = async (fields: Record<string, string>): Promise<Buffer> => {
  const answer = await here.send(`/lots/${pack}/labels`, fields);
  expect(answer.statusCode).toBe(303);
  return (await here.open(String(answer.headers.location))).rawPayload;
};
const throughApi = async (body: Record<string, unknown>): Promise<Buffer> => {
  const url = `/api/lots/${pack}/labels`;
  const answer = await here.at.web.inject({ method: 'POST', url, payload: body, headers: headers() });
  expect([answer.statusCode, answer.body]).toEqual([201, expect.stringContaining('Held, and left out: jars 7–11.')]);
  return (await here.at.web.inject({ url: String(answer.headers.location), headers: headers() })).rawPayload;
};
const throughCommand = async (options: Record<string, string>): Promise<Buffer> => {
  const out = join(folder, `${Object.keys(options).join('-')}-labels.pdf`);
  const { book, clock, server } = here.at;
  const writeContext = { sugarhouse: 'home', by: 'OE', author: 'OE', now: clock.now, zone: 'America/New_York' };
  const bench: CommandContext = {
    argv: [pack],
    options: { ...options, out },
    terminal: process,
    settings: server.settings,
    now: clock.now,
    book: () => Promise.resolve(book),
    writeContext,
  };
  const answer = await labels.run(bench);
  if ('problem' in answer) throw new Error(JSON.stringify(answer.problem));
  expect(answer.warnings?.[0]).toBe('Held, and left out: jars 7–11.');
  return readFileSync(out);
};
const runs = async () =>
  (await recordsAbout(sugarhouseReader(here.at.book.read, 'home'), pack, 'labels')).map(
    ({ body: { stock, from, to, skip, ended, right, down } }) => ({ stock, from, to, skip, ended, right, down }),
  );

test('where nobody chose a sheet and none was used, the first that holds the label is chosen', async () => {
  const tall = await here.aPack(here.boil, {
    container: 'glass jar 16 fl oz',
    fromLots: [`${here.boil}:0.2 gal`],
    jars: '1',
  });
  await here.send(`/lots/${tall}/labels/read`, {});
  const { body } = await here.open(`/lots/${tall}/labels`);
  expect(body).toContain('As it will print');
  expect(body).not.toContain('does not fit');
  expect(body).toMatch(/value="letter-10-up-102x51" checked/);
});

test('page, API and command line print the same sheet of the same jars and record the same run', async () => {
  const first = await throughApi({ stock: 'letter-10-up-102x51', right: 0.4, down: -0.3 });
  // Neither stock nor shift is given again: the last stock, shifted as it was last.
  const sheets = [await throughPage({}), await throughCommand({}), await throughApi({})];
  for (const sheet of sheets) expect(sheet.equals(first)).toBe(true);
  const run = { stock: 'letter-10-up-102x51', skip: 0, ended: 7, right: '0.4', down: '-0.3' };
  const spans = [
    { ...run, from: 1, to: 6 },
    { ...run, from: 12, to: 12 },
  ];
  expect(await runs()).toEqual([...spans, ...spans, ...spans, ...spans]);
  const what = (await recordsAbout(sugarhouseReader(here.at.book.read, 'home'), pack, 'labels')).map(
    ({ body }) => body.what,
  );
  expect(what.map((each) => each === 'printed')).toEqual([true, true, false, false, false, false, false, false]);
});

test('the same request sent twice with its key is one run', async () => {
  const before = (await runs()).length;
  for (const _ of [1, 2]) {
    const sent = { url: `/api/lots/${pack}/labels`, payload: { from: 2, to: 3 } };
    const headersOfIt = { ...headers(), 'idempotency-key': 'labels of the evening' };
    expect((await here.at.web.inject({ method: 'POST', ...sent, headers: headersOfIt })).statusCode).toBe(201);
  }
  expect(await runs()).toHaveLength(before + 1);
});

test('labels that could not be drawn or delivered are not recorded', async () => {
  const before = await runs();
  const writeContext = { sugarhouse: 'home', by: 'OE', author: 'OE', now: here.at.clock.now, zone: 'America/New_York' };
  const gone = printLabels(here.at.book, writeContext, { lot: pack }, () =>
    Promise.reject(new Error('the disk is full')),
  );
  await expect(gone).rejects.toThrow('the disk is full');
  const wrong = await printLabels(here.at.book, writeContext, { lot: pack, skip: 99 });
  expect(wrong).toMatchObject({ problem: { kind: 'invalid', faults: [{ field: 'skip' }] } });
  expect(await runs()).toEqual(before);
});

test('until phones can reach the book the QR code holds text, one line says how to get a link, and a link is refused', async () => {
  await here.send(`/lots/${pack}/labels/read`, {});
  const text = (await here.open(`/lots/${pack}/labels`)).body;
  expect(text).toMatch(
    /<p class="soft">No public address is set\. Labels carry a text symbol[^<]*BOILBOOK_PUBLIC_URL\. <a href="\/house\?box=publicUrl#f-publicUrl">/,
  );
  const sheet = await openPdf(await throughPage({ from: '1', to: '2', stock: 'letter-10-up-102x51' }));
  const symbols = await readByFirst(await printed(sheet, 1, 300));
  expect(symbols).toEqual([expect.stringContaining(`LOT ${pack} JAR`), expect.stringContaining(`LOT ${pack} JAR`)]);
  await sheet.destroy();
  for (const query of ['symbol=link', 'gtin=9520123456788']) {
    const answer = await here.at.web.inject({ url: `/api/lots/${pack}/labels.pdf?${query}`, headers: headers() });
    expect([answer.statusCode, answer.body]).toEqual([409, expect.stringContaining('No public address is set')]);
  }
});
