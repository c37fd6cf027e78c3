import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import ExcelJS from 'exceljs';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import type { Command, CommandContext } from '../../apps/cli/command.js';
import { recall } from '../../apps/cli/commands/recall.js';
import { summary } from '../../apps/cli/commands/summary.js';
import { trace } from '../../apps/cli/commands/trace.js';
import { recallSuite } from '../support/recall-suite.js';
import { readPdf } from '../support/read-pdf.js';

/** One use case through page, API and command line; print-labels.test.ts does the same with labels. */
const here = recallSuite();
const folder = mkdtempSync(join(tmpdir(), 'alike-'));
let key = '';

beforeAll(async () => {
  const sale = { lot: here.day.pack, jars: '2', sentAt: '2026-03-20T14:00', to: 'Millrace Green market', by: 'OE' };
  await here.write('dispatches', { ...sale, telephone: '802 555 0147' });
  const added = await addKey(here.at.book, 'home', { name: 'till', role: 'owner' }, here.at.clock.now);
  if ('problem' in added) throw new Error(JSON.stringify(added.problem));
  key = added.key;
});
afterAll(() => rmSync(folder, { recursive: true }));

const byPage = async (url: string): Promise<Buffer> => {
  const answer = await here.open(url);
  expect([url, answer.statusCode]).toEqual([url, 200]);
  return answer.rawPayload;
};
const byApi = async (url: string): Promise<Buffer> => {
  const answer = await here.at.web.inject({ url, headers: { authorization: `Bearer ${key}` } });
  expect([url, answer.statusCode]).toEqual([url, 200]);
  return answer.rawPayload;
};
const byCommand = async (command: Command, argv: readonly string[], options: CommandContext['options'] = {}) => {
  const { book, clock, server } = here.at;
  const writeContext = { sugarhouse: 'home', by: 'WE', author: 'WE', now: clock.now, zone: 'America/New_York' };
  const answer = await command.run({
    argv,
    options,
    terminal: process,
    settings: server.settings,
    now: clock.now,
    book: () => Promise.resolve(book),
    writeContext,
  });
  if ('problem' in answer) throw new Error(JSON.stringify(answer.problem));
  return answer.json as Record<string, unknown>;
};
const json = (bytes: Buffer): Record<string, unknown> => JSON.parse(bytes.toString()) as Record<string, unknown>;
/** Its text without who requested it: a person on a page, a key by name over the API. */
const pdfText = async (pdf: Buffer): Promise<string> =>
  (await readPdf(pdf)).pages.map(({ text }) => text.replace(/\b(WE|till)\b( \(WE\))?/g, 'BY')).join('\n');

/** A workbook is a zip, whose parts contain the second of their creation, so the cells are compared. */
const cells = async (file: Buffer): Promise<string> => {
  const workbook = new ExcelJS.Workbook();
  await workbook.xlsx.load(file as unknown as ExcelJS.Buffer);
  return JSON.stringify(workbook.worksheets.map((sheet) => [sheet.name, sheet.getSheetValues()]));
};

test.each(['json', 'csv', 'jsonld', 'xlsx', 'pdf'])(
  'the season as %s is the same file by page, API and command',
  async (format) => {
    const url = `/api/seasons/2026/summary.${format}`;
    expect((await here.open('/season/2026')).body).toContain(`href="${url}"`);
    const out = join(folder, `season.${format}`);
    await byCommand(summary, ['2026'], { out });
    const files = [await byPage(url), await byApi(url), readFileSync(out)];
    const read =
      format === 'pdf' ? pdfText : format === 'xlsx' ? cells : (file: Buffer) => Promise.resolve(file.toString());
    const seen = await Promise.all(files.map(read));
    expect(seen[0]!.length).toBeGreaterThan(400);
    expect([seen[1] === seen[0], seen[2] === seen[0]]).toEqual([true, true]);
  },
);

test('a recall’s list says the same from the lot, from the recall page, by API and by command, and opening it recalls nothing', async () => {
  const lot = here.day.pack;
  const before = await here.entries();
  const out = join(folder, 'recall.pdf');
  const byCli = await byCommand(recall, [lot], { out, 'only-list': true });
  const lists = [
    await byPage(`/lots/${lot}/recall.pdf`),
    await byPage(`/recall/list.pdf?lot=${lot}`),
    await byApi(`/api/lots/${lot}/recall.pdf`),
    readFileSync(out),
  ];
  const [first, ...others] = await Promise.all(lists.map(pdfText));
  expect(first).toContain('NOT RECALLED: this list shows what a recall would affect.');
  expect(first).toContain('802 555 0147');
  expect(others).toEqual([first, first, first]);
  expect(await here.entries()).toBe(before);
  const { reach, calls, dispatches, plans, authorities, hazard } = json(await byApi(`/api/lots/${lot}/recall`));
  expect({ reach, calls, dispatches, plans, authorities, hazard }).toEqual({
    reach: byCli['reach'],
    calls: byCli['calls'],
    dispatches: byCli['dispatches'],
    plans: byCli['plans'],
    authorities: byCli['authorities'],
    hazard: byCli['hazard'],
  });
  expect((await byPage(`/recall?lot=${lot}`)).toString()).toContain(String(reach));
});

test('a trace of a jar, a pack, a boil and sap is the same by API and command, and the page shows it', async () => {
  const jar = printedJarCode(here.day.jars[0] ?? '');
  for (const code of [jar, here.day.pack, '26077A', 'G041']) {
    const { shares: _, members: __, ...byCli } = await byCommand(trace, [code]);
    const { members: ___, ...answered } = json(await byApi(`/api/lots/${code}/trace`));
    expect(answered).toEqual(JSON.parse(JSON.stringify(byCli)));
    const page = (await byPage(code === jar ? `/jars/${jar}` : `/lots/${code}/trace`)).toString();
    for (const lot of [...(byCli['boils'] as string[]), ...(byCli['gatherings'] as string[])])
      expect({ code, lot, shown: page.includes(`href="/lots/${lot}"`) }).toEqual({ code, lot, shown: true });
    const { made, onHand } = byCli['jars'] as { made: number; onHand: number };
    expect(page).toContain(`<dt>made</dt><dd><b>${made}</b></dd><dt>on hand</dt><dd><b>${onHand}</b></dd>`);
  }
});

test('a list of lots of which one is recalled is a recall’s list and names those that are not', async () => {
  const [sound, cloudy] = [await here.aPack(here.boil), await here.aPack(here.boil)];
  await byCommand(recall, [cloudy], { why: 'cloudy on the shelf', out: join(folder, 'one.pdf') });
  for (const url of [`/recall/list.pdf?lot=${here.day.pack}&lot=${cloudy}`, `/lots/${here.boil}/recall.pdf`]) {
    const others = url.startsWith('/lots/') ? sound : here.day.pack;
    const text = (await pdfText(await byPage(url))).replace(/\s+/g, ' ');
    expect(text).not.toContain('NOT RECALLED');
    expect(text).toContain('Reason: cloudy on the shelf');
    expect(text).toContain(`Not recalled: ${others}.`);
    const notice = text.slice(text.indexOf('Please bring this syrup back'));
    expect(notice).toContain(`Lot ${cloudy} `);
    expect(notice).not.toContain(`Lot ${others} `);
  }
});
