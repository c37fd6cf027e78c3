import { afterAll, beforeAll, expect, test } from '@jest/globals';
import type { LineBody } from '#libs/records/kinds/boil-line.js';
import { recordsAbout } from '#libs/store/queries/lots.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { owner, setUp } from '../support/newcomer.js';
import { startServer, posted, signedIn, type TestServer } from '../support/server.js';

let server: TestServer;
let cookie = '';
let boil = '';
let once = 0;

beforeAll(async () => {
  server = await startServer();
  await setUp(server);
  cookie = await signedIn(server, 'WE', owner.password);
  const begun = await send('/boils/begin', {
    'beganAt~ago': '120',
    waterBoilsAt: '210.4',
    'waterBoilsAt~unit': 'F',
  });
  boil = /\/lots\/([^#]+)/.exec(String(begun.headers['location']))?.[1] ?? '';
  await log('reading', { temperature: '215', 'temperature~unit': 'F', pan: 'finish pan', 'at~ago': '10' });
}, 60_000);
afterAll(() => server.close());

const send = (url: string, fields: Record<string, string>) =>
  posted(server, url, { _once: `cup-${once++}`, ...fields }, { cookie });
const log = (what: string, fields: Record<string, string> = {}) => send(`/boils/${boil}/log/${what}`, fields);
const html = async (): Promise<string> => (await server.web.inject({ url: `/lots/${boil}`, headers: { cookie } })).body;
const cup = async (): Promise<string> => /<section id="cup"[^]*?<\/section>/.exec(await html())?.[0] ?? '';
const sample = (density: string, at: string, more: Record<string, string> = {}) =>
  log('cup', { density, 'density~unit': 'Bx', sampleTemp: at, 'sampleTemp~unit': 'F', 'at~ago': 'now', ...more });
const lines = async (): Promise<LineBody[]> =>
  (await recordsAbout(sugarhouseReader(server.book.read, 'home'), boil, 'line')).map((each) => each.body);

test('the sample in the cup is judged by the place’s chart, in large type, with a form to measure again', async () => {
  // Vermont's chart requires 59.0 °Bx at 209 °F; other charts are tested with their places.
  const saved = await sample('57', '209');
  expect([saved.statusCode, saved.headers['location']]).toEqual([303, `/lots/${boil}#cup`]);
  expect(await cup()).toMatch(/class="reading thumb">57 °Bx<\/span> <span class="verdict stops">TOO THIN/);
  expect(await cup()).toContain(`href="/boils/${boil}/log/cup"`);
  await sample('59', '209');
  expect(await cup()).toContain('PASSES, NEAR THE LIMIT');
  await sample('62.5', '209');
  expect(await cup()).toMatch(/62\.5 °Bx<\/span> <span class="verdict (?:passes">heavy enough|stops">TOO HEAVY)/);
});

test('it never changes the pan’s “to go”, nor the reading of the pan, whatever its temperature', async () => {
  const bar = async (): Promise<string> => /id="finish"[^]*?<\/div>/.exec(await html())?.[0] ?? '';
  const before = await bar();
  expect(before).toContain('215 °F');
  expect(before).toContain('2.9 °F to go');
  await sample('60', '219');
  expect(await bar()).toBe(before);
});

test('a sample without its temperature, or with that of the pan, is refused at its box', async () => {
  const count = (await lines()).length;
  const blank = await sample('60', '');
  expect(blank.statusCode).toBe(422);
  expect(blank.body).toContain('href="#f-sampleTemp"');
  const asThePans = await sample('60', '209', { temperature: '219', 'temperature~unit': 'F' });
  expect(asThePans.statusCode).toBe(422);
  expect(await lines()).toHaveLength(count);
});

test('a sample near the limit is reported as such, with the side it is on', async () => {
  const sentences: string[] = [];
  for (let tenths = 590; tenths <= 630; tenths += 2) {
    await sample((tenths / 10).toFixed(1), '150');
    sentences.push(/class="verdict \w+">([^<]+)/.exec(await cup())?.[1] ?? '');
  }
  const inOrder = sentences.filter((word, n) => word !== sentences[n - 1]);
  expect(inOrder).toEqual(['TOO THIN', 'PASSES, NEAR THE LIMIT', 'heavy enough']);
}, 120_000);

test('how syrup runs off the spoon is recorded with the temperature and not judged', async () => {
  await log('reading', { temperature: '216', 'temperature~unit': 'F', spoon: 'two-drops-together', 'at~ago': 'now' });
  expect((await lines()).at(-1)).toMatchObject({ spoon: 'two-drops-together', what: 'reading' });
  expect(await html()).toContain('A sign, never a measurement');
  await log('skim', { ago: 'now' });
  expect((await lines()).at(-1)).toMatchObject({ what: 'skimmed' });
});
