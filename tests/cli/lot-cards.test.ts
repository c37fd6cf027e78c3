import { existsSync, readFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { inProcessTerminal, type Terminal } from '../support/command-line.js';
import { owner, setUp } from '../support/newcomer.js';
import { openPdf, textsOf } from '../support/read-symbols.js';
import { posted, signedIn, startServer, type TestServer } from '../support/server.js';
import { writeDay } from '../support/season-server.js';

let terminal: Terminal;
let at: TestServer;
let cookie = '';
let day: Awaited<ReturnType<typeof writeDay>>;
beforeAll(async () => {
  terminal = inProcessTerminal();
  await terminal.json('demo');
  at = await startServer();
  await setUp(at);
  cookie = await signedIn(at, owner.initials, owner.password);
  day = await writeDay(at);
});
afterAll(async () => {
  terminal.remove();
  await at.close();
});

const textOf = async (pdf: Buffer): Promise<string> => {
  const document = await openPdf(pdf);
  const text = (await textsOf(document, 1)).map((each) => each.text).join(' ');
  await document.destroy();
  return text;
};
const got = (url: string) => at.web.inject({ url, headers: { cookie } });

test.each(['neck', 'seal', 'tray', 'case', 'shelf'])('%s cards say the same from page and API', async (card) => {
  const page = await got(`/lots/${day.pack}/tags/${card}.pdf`);
  const api = await got(`/api/lots/${day.pack}/cards.pdf?card=${card}`);
  expect([page.statusCode, api.statusCode]).toEqual([200, 200]);
  const text = await textOf(page.rawPayload);
  expect(text).toContain(day.pack);
  expect(await textOf(api.rawPayload)).toBe(text);
});

test('a tray card names who packed it, not who prints the card', async () => {
  const text = await textOf((await got(`/api/lots/${day.pack}/cards.pdf?card=tray`)).rawPayload);
  expect(text).toMatch(/By OE/);
});

test('cards that a held lot can’t have, and unknown cards, are refused', async () => {
  for (const url of [`/lots/${day.cold}/tags/neck.pdf`, `/api/lots/${day.cold}/cards.pdf?card=neck`])
    expect((await got(url)).statusCode).toBe(409);
  const hold = await got(`/api/lots/${day.cold}/cards.pdf?card=hold`);
  expect(hold.statusCode).toBe(200);
  // Not the initials of whoever prints the card.
  expect(await textOf(hold.rawPayload)).toMatch(/\d{4}-\d\d-\d\d, by the rule/);
  expect((await got(`/api/lots/${day.pack}/cards.pdf?card=hold`)).statusCode).toBe(404);
  expect((await got(`/api/lots/${day.pack}/cards.pdf?card=crate`)).statusCode).toBe(422);
  expect((await got(`/lots/${day.pack}/tags/crate.pdf`)).statusCode).toBe(404);
});

test('each card of a held or recalled lot carries its stamp', async () => {
  for (const card of ['tray', 'case', 'shelf']) {
    const held = await textOf((await got(`/lots/${day.cold}/tags/${card}.pdf`)).rawPayload);
    expect(held).toMatch(/HELD .*Held do not send out, sell or use/);
    const open = await textOf((await got(`/lots/${day.pack}/tags/${card}.pdf`)).rawPayload);
    expect(open).not.toMatch(/HELD|do not send out/);
    const file = terminal.path(`recalled-${card}.pdf`);
    await terminal.json('cards', '26092A-1', '--card', card, '--out', file);
    expect(await textOf(readFileSync(file))).toMatch(/RECALLED .*Recalled do not send out, sell or use/);
  }
  const file = terminal.path('recalled.pdf');
  await terminal.json('cards', '26092A-1', '--card', 'hold', '--out', file);
  expect(await textOf(readFileSync(file))).toMatch(/RECALLED .*mould in two jars.*A recall is final/);
});

test('a case card leaves which jars are in the case to the pen', async () => {
  const text = await textOf((await got(`/lots/${day.pack}/tags/case.pdf`)).rawPayload);
  expect(text).toMatch(/Pack 30 jars .*Jars in this case .*Their numbers/);
});

test('a vessel card says when syrup that no longer rests has rested', async () => {
  const boil = day.pack.split('-')[0] ?? '';
  const text = await textOf((await got(`/lots/${boil}/tags/vessel.pdf`)).rawPayload);
  expect(text).toMatch(/Rested 2026-03-18 20:00 to 2026-03-19 09:00/);
  expect(text).not.toContain('Resting since');
});

test('the command writes neck tags with the story, one for each jar', async () => {
  const file = terminal.path('neck.pdf');
  const written = await terminal.json('cards', '26065A-1', '--card', 'neck', '--out', file);
  expect(written).toMatchObject({ lot: '26065A-1', card: 'neck', pages: 5 });
  expect(await textOf(readFileSync(file))).toMatch(/26065A-1/);
});

test('the command refuses as the page does, and leaves no file', async () => {
  const file = terminal.path('held.pdf');
  const held = await terminal.run('cards', '26079A-1', '--card', 'seal', '--out', file);
  expect(held.exit).toBe(4);
  const what = await terminal.run('cards', '26065A-1', '--card', 'crate', '--out', file);
  expect([what.exit, what.err]).toEqual([2, expect.stringContaining('one of neck, seal, tray')]);
  expect((await terminal.run('cards', '26065A-1', '--card', 'neck', '--out', 'neck.txt')).exit).toBe(2);
  expect(existsSync(file)).toBe(false);
});

test('neck tags keep a day and its month on one line', async () => {
  const file = terminal.path('tags.pdf');
  await terminal.json('cards', '26065A-1', '--card', 'neck', '--out', file);
  const document = await openPdf(readFileSync(file));
  const lines = (await textsOf(document, 1)).map(({ text }) => text);
  await document.destroy();
  expect(lines.filter((line) => /Packed/.test(line))).not.toEqual([]);
  for (const line of lines.filter((each) => /Packed/.test(each))) expect(line).not.toMatch(/\d$/);
});

test('a maker’s name of one long word is broken on the neck tag, and none of it is left out', async () => {
  const name = 'Tamarackhollowsugarhouseontheridge'.repeat(4);
  await posted(at, '/house', { name, place: 'Vermont', hydrometerMadeFor: '60-F' }, { cookie });
  const tag = await got(`/lots/${day.pack}/tags/neck.pdf`);
  expect(tag.statusCode).toBe(200);
  const text = await textOf(tag.rawPayload);
  expect(text).toContain(day.pack);
  expect(text.replace(/-? +/g, '')).toContain(name);
});
