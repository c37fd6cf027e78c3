import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { owner, setUp } from '../support/newcomer.js';
import { writeDay } from '../support/season-server.js';
import { startServer, posted, signedIn, type TestServer } from '../support/server.js';

/** Forms whose values are recorded already, and a boil of which no sap is recorded. */
let server: TestServer;
let cookie = '';
let once = 0;
let pack = '';

beforeAll(async () => {
  server = await startServer();
  await setUp(server);
  cookie = await signedIn(server, 'WE', owner.password);
  pack = (await writeDay(server)).pack;
});
afterAll(() => server.close());

const send = (url: string, fields: Record<string, string>) =>
  posted(server, url, { _once: `already-${once++}`, ...fields }, { cookie });
const html = async (url: string): Promise<string> => (await server.web.inject({ url, headers: { cookie } })).body;
const text = async (url: string): Promise<string> => (await html(url)).replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
const started = async (fields: Record<string, string> = {}): Promise<string> => {
  const begun = await send('/boils/begin', { 'beganAt~ago': '60', ...fields });
  return /\/lots\/([^#]+)/.exec(String(begun.headers['location']))?.[1] ?? '';
};

describe('a form whose values are recorded', () => {
  test('of the boiling point of water shows it with its correction, and no button that saves nothing', async () => {
    const boil = await started({ waterBoilsAt: '88', 'waterBoilsAt~unit': 'F' });
    expect(await text(`/lots/${boil}`)).toContain(
      'No finishing temperature follows from water that boils at 88 °F. Correct it.',
    );
    const page = await html(`/boils/${boil}/log/water`);
    expect(page).toContain(`href="/records/boil/${boil}/correct?field=waterBoilsAt"`);
    expect(page).not.toContain(`action="/boils/${boil}/log/water"`);
    expect(await text(`/boils/${boil}/log/water`)).toContain('Water boils today at: 88 °F Correct');
  });

  test('of the seals shows the count with its correction', async () => {
    const page = await html(`/packs/${pack}/seals`);
    expect(page).toContain(`href="/records/pack/${pack}/correct?field=sealsFailed"`);
    expect(await text(`/packs/${pack}/seals`)).toContain('Seals that failed: 0 Correct');
    // Where none failed, nothing is asked about jars with failed seals.
    expect(page).not.toContain(`action="/packs/${pack}/seals"`);
  });

  test('asks what is still missing beside what is recorded', async () => {
    const boil = await started();
    await send(`/boils/${boil}/log/filter`, { filterTemp: '190', 'filterTemp~unit': 'F' });
    const page = await html(`/boils/${boil}/log/filter`);
    expect(page).toContain('name="filterMedium"');
    expect(page).not.toContain('name="filterTemp"');
    expect(await text(`/boils/${boil}/log/filter`)).toContain('Filtered at: 190 °F Correct');
  });
});

test('a boil without sap says so on its page and on Today until its sap is added', async () => {
  const boil = await started();
  const link = `href="/boils/${boil}/log/sap"`;
  expect(await text(`/lots/${boil}`)).toContain('No sap is recorded for this boil. Add the sap.');
  expect(await text('/')).toContain('No sap is recorded. Add the sap');
  for (const url of [`/lots/${boil}`, '/']) expect(await html(url)).toContain(link);
  await send('/sap/gather', {
    id: 'G77',
    volume: '40',
    'volume~unit': 'gal',
    source: 'upper lines',
    'gatheredAt~ago': '60',
  });
  expect((await send(`/boils/${boil}/log/sap`, { gatherings: 'G77' })).statusCode).toBe(303);
  expect(await text(`/lots/${boil}`)).not.toContain('No sap is recorded');
});

test('the rules of a lot that may go out are not headed by a question', async () => {
  expect(await text(`/lots/${pack}/why`)).toContain(`Rules checked for ${pack}`);
  expect(await text(`/lots/${pack}`)).toContain('Rules checked');
});

test('a wrong code among the sap of a boil is headed by its list, of which the form has two', async () => {
  const wrong = { 'beganAt~ago': '60', 'gatherings~more': 'G999', 'carriedFrom~more': '26001A' };
  const refused = await send('/boils/begin', wrong);
  expect(refused.statusCode).toBe(422);
  const seen = refused.body.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
  expect(seen).toContain('Sap that went in, lot: enter a gathering or receipt of this book');
  expect(seen).toContain('Left in the pans from, lot: enter a boil of this book');
});

test('every list of bought lots to choose from shows their density, which distinguishes sap from syrup', async () => {
  const bought = { supplier: 'Bracken Lane Sugarbush', contact: 'Bracken Lane', 'receivedAt~ago': '60' };
  const amount = { volume: '5', 'volume~unit': 'gal', 'density~unit': 'Bx' };
  await send('/sap/receive', { ...bought, ...amount, id: 'R61', density: '2.1' });
  await send('/sap/receive', { ...bought, ...amount, id: 'R62', density: '66.5', allergens: 'none' });
  await send('/sap/receive', { ...bought, ...amount, id: 'R63' });
  for (const url of ['/boils/begin', '/packs/begin', '/packs/finished']) {
    const seen = await text(url);
    expect(seen).toContain('R61 Bracken Lane Sugarbush, 2.1 °Bx, 5 gal left');
    expect(seen).toContain('R62 Bracken Lane Sugarbush, 66.5 °Bx, 5 gal left');
    expect(seen).toContain('R63 Bracken Lane Sugarbush, density not recorded, 5 gal left');
  }
  expect(await text('/sap')).toContain('Bracken Lane Sugarbush, 66.5 °Bx');
  expect(await text('/')).toContain('5 gal of Bracken Lane Sugarbush’s sap or syrup (density not recorded) left.');
});

test('a held boil is not called ready to pack, on its page and on Today', async () => {
  await send('/sap/gather', {
    id: 'G78',
    volume: '40',
    'volume~unit': 'gal',
    source: 'upper lines',
    'gatheredAt~ago': '60',
  });
  const at = { beganAt: '2026-03-19T08:00', finishedAt: '2026-03-19T16:00' };
  const rested = { restedFrom: '2026-03-19T17:00', restedUntil: '2026-03-20T07:00' };
  const made = { 'gatherings~more': 'G78', syrupVolume: '1', 'syrupVolume~unit': 'gal' };
  const saved = await send('/boils/finished', { ...at, ...rested, ...made, filterTemp: '190', 'filterTemp~unit': 'F' });
  const boil = /\/lots\/([^#]+)/.exec(String(saved.headers['location']))?.[1] ?? '';
  expect(await text(`/lots/${boil}`)).toContain('1 gal rested and ready to pack.');
  expect((await send(`/lots/${boil}/hold`, { why: 'the filter tore' })).statusCode).toBe(303);
  expect(await text(`/lots/${boil}`)).toContain('1 gal rested. ');
  expect(await text('/boils')).not.toContain('1 gal rested and ready');
  const today = await text('/');
  expect(today).toContain(`${boil} HELD 1 gal rested. `);
  expect(today).not.toContain(`${boil} 1 gal rested and ready`);
});

test('a boil held for more sugar than came in leads to its correction first; its release stays below', async () => {
  const at = { beganAt: '2026-03-18T08:00', finishedAt: '2026-03-18T16:00' };
  await send('/sap/gather', {
    id: 'G79',
    gatheredAt: '2026-03-17T08:00',
    volume: '30',
    'volume~unit': 'gal',
    source: 'upper lines',
    sugar: '2.1',
    'sugar~unit': 'Bx',
  });
  const saved = await send('/boils/finished', {
    ...at,
    'gatherings~more': 'G79',
    syrupVolume: '3',
    'syrupVolume~unit': 'gal',
  });
  const boil = /\/lots\/([^#]+)/.exec(String(saved.headers['location']))?.[1] ?? '';
  const page = await html(`/lots/${boil}`);
  expect(page).toMatch(
    new RegExp(`class="main-action[^"]*" href="/records/boil/${boil}/correct"[^>]*>\\s*Correct the amounts`),
  );
  expect(page).toContain(`href="/lots/${boil}/release"`);
});
