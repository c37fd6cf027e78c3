import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { labelStocks } from '#libs/actions/kinds/label-stock.js';
import { record } from '#libs/actions/record/record.js';
import { openPdf, printed, readByFirst, textsOf } from '../support/read-symbols.js';
import { inProcessTerminal, lookInto, type Terminal } from '../support/command-line.js';

let terminal: Terminal;
beforeAll(async () => {
  terminal = inProcessTerminal();
  await terminal.json('demo');
}, 120_000);
afterAll(() => terminal.remove());

test('a stock of the house’s own is listed and printed on, and the printer’s shift is remembered for it', async () => {
  const own = { id: 'own-8-up-90x60', pageWidth: '215.9', pageHeight: '279.4', left: '12.5', top: '14', columns: '2' };
  const sizes = { ...own, rows: '4', labelWidth: '90', labelHeight: '60', pitchX: '95' };
  await lookInto(terminal, async (book) => {
    const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: new Date(), zone: 'America/New_York' };
    expect(await record(book, context, labelStocks, sizes)).toMatchObject({ id: own.id, outcome: 'new' });
  });
  const stocks = await terminal.json<{ name: string }[]>('stocks');
  expect(stocks.map((each) => each.name)).toContain(own.id);
  const first = terminal.path('first.pdf');
  const print = ['labels', '26065A-1', '--stock', own.id, '--to', '3'];
  expect(await terminal.json(...print, '--right', '1.5', '--out', first)).toMatchObject({ labels: 3, endedAt: 3 });
  const second = terminal.path('second.pdf');
  await terminal.json(...print, '--out', second);
  const straight = terminal.path('straight.pdf');
  await terminal.json(...print, '--right', '0', '--out', straight);
  const [moved, again, none] = await Promise.all([first, second, straight].map((file) => openPdf(readFileSync(file))));
  const leftOf = async (document: typeof moved) => (await textsOf(document!, 1))[0]?.xMm ?? NaN;
  expect((await leftOf(moved)) - (await leftOf(none))).toBeCloseTo(1.5, 1);
  expect(await leftOf(again)).toBeCloseTo(await leftOf(moved), 3);
  expect(await readByFirst(await printed(again!, 1, 203))).toHaveLength(3);
  await Promise.all([moved, again, none].map((each) => each!.destroy()));
}, 60_000);
