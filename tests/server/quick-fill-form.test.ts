import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findRecord, recordsOf } from '#libs/store/queries/lots.js';
import { writeEvening } from '../support/evening-scenario.js';
import { owner, setUp } from '../support/newcomer.js';
import { posted, signedIn, startServer, type TestServer } from '../support/server.js';

let server: TestServer;
let cookie = '';
let pack = '';
let once = 0;

beforeAll(async () => {
  server = await startServer();
  await setUp(server);
  await writeEvening(server);
  cookie = await signedIn(server, 'WE', owner.password);
  const boil = (await recordsOf(sugarhouseReader(server.book.read, 'home'), 'boil'))[0]?.id ?? '';
  const begun = await send('/packs/begin', {
    'fromLots~more': `${boil}:0.5 gal`,
    container: 'glass jar 8 fl oz',
    'packedAt~ago': 'now',
  });
  pack = /\/lots\/([^#]+)/.exec(String(begun.headers['location']))?.[1] ?? '';
});
afterAll(() => server.close());

const send = (url: string, fields: Record<string, string>) =>
  posted(server, url, { _once: `quick-${once++}`, ...fields }, { cookie });
const fill = (temperature: string, more: Record<string, string> = {}) =>
  send(`/packs/${pack}/fill`, { temperature, 'temperature~unit': 'F', ...more });
const stored = async () =>
  (await findRecord(sugarhouseReader(server.book.read, 'home'), 'pack', pack))?.body.fillTemps ?? [];
/** The sentence at a box; undefined where the box is not marked. */
const faultAt = (body: string, box: string): string | undefined => {
  const isMarked = new RegExp(`<input[^>]*id="f-${box}"[^>]*aria-invalid="true"`).test(body);
  return isMarked ? new RegExp(`id="f-${box}-fault">([^<]*)<`).exec(body)?.[1]?.replaceAll('&quot;', '"') : undefined;
};

test('a wrong thermometer id is marked at the thermometer box, and the temperature at its own', async () => {
  const { body, statusCode } = await fill('warm', { thermometer: 'T 1' });
  expect(statusCode).toBe(422);
  expect(faultAt(body, 'thermometer')).toBe('Enter the id on the thermometer like T1, without spaces (typed: "T 1")');
  expect(faultAt(body, 'temperature')).toMatch(/^Enter a temperature like 186 F/);
  expect(faultAt(body, 'jars')).toBeUndefined();
  expect(body).toContain('<a href="#f-thermometer">Thermometer: enter the id');
  expect(body).toMatch(/name="thermometer"[^>]*value="T 1"|value="T 1"[^>]*name="thermometer"/);
  expect(await stored()).toEqual([]);
});

test('the thermometers of the house are there to pick, none beforehand, and a pick stays picked', async () => {
  const page = (await server.web.inject({ url: `/lots/${pack}`, headers: { cookie } })).body;
  expect(page).toMatch(/name="thermometer~pick" value="T1"\/>/);
  expect(page).toMatch(/name="thermometer~pick" value checked/);
  const refused = await fill('warm', { 'thermometer~pick': 'T1' });
  expect(refused.body).toMatch(/name="thermometer~pick" value="T1" checked/);
});

test.each([
  ['thermometer', 'T1;200 F'],
  ['thermometer', 'T1 jars 1-48'],
  ['thermometer', 'T1#T2'],
  ['jars', 'jar 3;200 F'],
  ['jars', 'jar 3|200 F jar 4'],
  ['jars', 'jar 3 poured back'],
  ['jars', 'the blue ones'],
])('the %s box with %p adds no second reading and changes no other', async (box, typed) => {
  const { body, statusCode } = await fill('178', { [box]: typed });
  expect(statusCode).toBe(422);
  expect(faultAt(body, box)).toContain(`(typed: "${typed}")`);
  expect(await stored()).toEqual([]);
});

test('the boxes of one reading are one reading in the record, each part by itself', async () => {
  expect((await fill('188', { thermometer: '', 'thermometer~pick': 'T1', jars: '9-16', ago: '5' })).statusCode).toBe(
    303,
  );
  expect(await stored()).toMatchObject([
    {
      typed: '188 F@11:55#T1 jars 9-16',
      temperature: { degrees: 188, unit: 'F', typed: '188 F' },
      clock: '11:55',
      thermometer: 'T1',
      jars: 'jars 9-16',
    },
  ]);
});

test('the history shows a reading and its source lots in plain words', async () => {
  await fill('187', { thermometer: 'T1' });
  const page = (await server.web.inject({ url: `/lots/${pack}`, headers: { cookie } })).body;
  expect(page).toContain('188 °F at 11:55, thermometer T1, jars 9-16');
  expect(page).toContain('<ins>187 °F at 12:00, thermometer T1</ins>');
  expect(page).toMatch(/0\.5 gal of \w+/);
  const history = page.slice(page.indexOf('class="entry-list"'));
  expect(history.replace(/<input[^>]*>/g, '')).not.toMatch(/\d F@|#T1|:0\.5 gal/);
  const record = (await server.web.inject({ url: `/records/pack/${pack}`, headers: { cookie } })).body;
  expect(record).toContain('188 °F at 11:55, thermometer T1, jars 9-16 · 187 °F at 12:00, thermometer T1');
});
