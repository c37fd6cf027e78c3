import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import type { LineBody } from '#libs/records/kinds/boil-line.js';
import { readHead } from '#libs/store/log/log.js';
import { findRecord, recordsAbout } from '#libs/store/queries/lots.js';
import { owner, setUp } from '../support/newcomer.js';
import { startServer, posted, signedIn, type TestServer } from '../support/server.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

let server: TestServer;
let cookie = '';
let boil = '';
let once = 0;

beforeAll(async () => {
  server = await startServer();
  await setUp(server);
  cookie = await signedIn(server, 'WE', owner.password);
  const begun = await send('/boils/begin', { 'beganAt~ago': '120' });
  boil = /\/lots\/([^#]+)/.exec(String(begun.headers['location']))?.[1] ?? '';
});
afterAll(() => server.close());

const send = (url: string, fields: Record<string, string>) =>
  posted(server, url, { _once: `fire-${once++}`, ...fields }, { cookie });
const html = async (url = `/lots/${boil}`): Promise<string> =>
  (await server.web.inject({ url, headers: { cookie } })).body;
const seen = async (url?: string): Promise<string> => (await html(url)).replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
const log = (what: string, fields: Record<string, string> = {}) => send(`/boils/${boil}/log/${what}`, fields);
const read = (temperature: string, ago: string, pan = 'finish pan') =>
  log('reading', { temperature, 'temperature~unit': 'F', pan, 'at~ago': ago });
const lines = async (): Promise<LineBody[]> =>
  (await recordsAbout(sugarhouseReader(server.book.read, 'home'), boil, 'line')).map((each) => each.body);

describe('at the pan', () => {
  test('the page asks for boiling water before it shows where the boil finishes today', async () => {
    expect(await seen()).toContain('Today’s finishing temperature is not known yet.');
    await log('water', { waterBoilsAt: '210.4', 'waterBoilsAt~unit': 'F' });
    // 7.5 °F above boiling water is 66.9 °Bx on any day.
    expect(await html()).toMatch(/id="finish">.*finishes at.*217\.9 °F/s);
  });

  test('a reading is in the bar beside the finishing point, with the degrees still to go', async () => {
    const written = await read('213.4', '40');
    expect(written.headers['location']).toBe(`/lots/${boil}#finish`);
    const page = await seen();
    expect(page).toContain('finish pan, 11:20 213.4 °F 4.5 °F to go');
    expect(page).toContain(
      'After two readings of one pan, well above boiling water, the time to draw off is shown here.',
    );
    expect(page).not.toContain('Do not leave the pan.');
  });

  test('two readings of one pan give the time to draw off, and another pan’s don’t change it', async () => {
    await read('211', '30', 'back pan');
    await read('214', '20');
    const page = await seen();
    expect(page).toMatch(/about \d\d:\d\d draw-off, in \d+ (min|h)/);
    expect(page).toContain('True while the fire is even and no fresh sap comes in.');
    expect(await html()).toMatch(/data-near-at="2026-03-20T\d\d:\d\d/);
  });

  test('the page warns near the finishing point, until the boil has ended', async () => {
    await read('216', 'now');
    const page = await html();
    expect(page).toMatch(/role="alert" data-near>Near the finish\. Do not leave the pan\./);
    // A browser can judge a reading before it is sent: from 2.5 °F below the finish.
    expect(page).toMatch(/data-near-from="215\.\d+" data-near-unit="F"/);
  });

  test('a reading of nothing is refused, and no line is written', async () => {
    const before = (await lines()).length;
    const refused = await log('reading', { temperature: '', pan: 'finish pan', 'at~ago': 'now' });
    expect(refused.statusCode).toBe(422);
    expect(refused.body).toContain('enter a reading, or a note');
    expect(await lines()).toHaveLength(before);
  });
});

describe('a one-tap step', () => {
  test('is recorded with the time chosen beside it', async () => {
    await log('fire', { ago: '20' });
    await log('pan', { ago: 'now' });
    expect(
      (await lines()).filter((line) => !line.temperature).map((line) => [line.what, line.at.slice(11, 16)]),
    ).toEqual([
      ['fire', '11:40'],
      ['pan-to-pan', '12:00'],
    ]);
  });

  test('that was queued on a phone has the time of the tap', async () => {
    await log('fire', { takenAt: '2026-03-20T11:51:07-04:00' });
    expect((await lines()).filter((line) => line.what === 'fire').map((line) => line.at.slice(11, 16))).toEqual([
      '11:40',
      '11:51',
    ]);
  });

  test('ends the boil; the syrup made is recorded later, without asking the time again', async () => {
    await log('off', { ago: '5' });
    const body = (await findRecord(sugarhouseReader(server.book.read, 'home'), 'boil', boil))?.body;
    expect(body?.finishedAt?.slice(11, 16)).toBe('11:55');
    expect(await seen()).toContain('Boil ended. The amount of syrup is not recorded yet.');
    expect(await html()).not.toContain('id="finish"');
    const request = await html(`/boils/${boil}/log/finish`);
    expect(request).toContain('name="syrupVolume"');
    expect(request).not.toContain('name="finishedAt"');
    expect((await log('finish', { syrupVolume: '2.9', 'syrupVolume~unit': 'gal' })).statusCode).toBe(303);
    expect((await log('rest', { ago: 'now' })).statusCode).toBe(303);
    expect(await seen()).toContain('Resting since 12:00, 12 h at 00:00.');
  });

  test('with an unknown name is refused and writes nothing', async () => {
    const { entries } = await readHead(server.book.read);
    expect((await log('dance', { ago: 'now' })).statusCode).toBe(404);
    expect((await readHead(server.book.read)).entries).toBe(entries);
  });

  test('for filtering is not offered again for syrup filtered as it was drawn off, on its page, in the list and on Today', async () => {
    const begun = await send('/boils/begin', { 'beganAt~ago': '60' });
    const code = /\/lots\/([^#]+)/.exec(String(begun.headers['location']))?.[1] ?? '';
    await send(`/boils/${code}/log/draw`, {
      volume: '1.1',
      'volume~unit': 'gal',
      filterTemp: '196',
      'filterTemp~unit': 'F',
      filterMedium: 'wool cone',
      'drawnAt~ago': '5',
    });
    await send(`/boils/${code}/log/finish`, { syrupVolume: '1.1', 'syrupVolume~unit': 'gal' });
    for (const url of [`/lots/${code}`, '/boils', '/']) expect(await seen(url)).toContain('filtered, to rest.');
    expect(await seen('/')).not.toMatch(/to filter and rest/);
  });
});
