import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { recordsOf } from '#libs/store/queries/lots.js';
import { owner, setUp } from '../support/newcomer.js';
import { posted, signedIn, startServer, type TestServer } from '../support/server.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

let at: TestServer;
let cookie = '';
beforeAll(async () => {
  at = await startServer();
  await setUp(at);
  cookie = await signedIn(at, 'WE', owner.password);
  const boil = { beganAt: '2026-03-10T08:00', finishedAt: '2026-03-10T14:00', syrupVolume: '3 gal', lot: '26069A' };
  expect((await posted(at, '/boils/finished', boil, { cookie })).statusCode).toBe(303);
});
afterAll(() => at.close());

const pack = {
  packedAt: '2026-03-11T10:00',
  'fromLots~more': '26069A',
  'fromLots~more~amount': '1.5',
  'fromLots~unit': 'gal',
  'container~kind': 'glass jar',
  'container~size': 'half pint',
  jars: '24',
  'fillTemps~unit': 'F',
  'fillTemps~row~1~temp': '187',
  'fillTemps~row~1~from': '12',
  'fillTemps~row~1~clock': '10:10',
  'fillTemps~row~1~thermometer': 'T1',
  'fillTemps~row~2~temp': '186',
  'fillTemps~row~2~from': '13',
  'fillTemps~row~2~to': '24',
};

test('a reading, its jar, its time and its thermometer have boxes of their own and are one reading in the record', async () => {
  const both = { ...pack, instruments: 'H2', 'instruments~pick': 'T1' };
  expect((await posted(at, '/packs/finished', both, { cookie })).statusCode).toBe(303);
  const [record] = await recordsOf(sugarhouseReader(at.book.read, 'home'), 'pack');
  expect(record?.typed).toMatchObject({
    fillTemps: '187 F@10:10#T1 jar 12;186 F jars 13-24',
    fromLots: '26069A:1.5 gal',
    container: 'glass jar half pint',
    instruments: 'T1;H2',
  });
  expect(record?.body.container.volume.typed).toBe('8 fl oz');
});

test('invalid text in a box is reported at that box, and all boxes stay as they were filled', async () => {
  const refused = await posted(at, '/packs/finished', { ...pack, 'fillTemps~row~2~temp': 'warm' }, { cookie });
  expect(refused.statusCode).toBe(422);
  for (const box of ['fillTemps~row~1~temp" value="187"', 'fillTemps~row~2~temp" value="warm"', 'value="1.5"'])
    expect(refused.body).toContain(box);
  expect(faultsAt(refused.body)).toEqual({
    'fillTemps~row~2~temp': 'Enter a temperature like 184, in the unit above, not “warm”',
  });
  expect(refused.body).toContain('<a href="#f-fillTemps~row~2~temp">Reading 2, temperature: enter a temperature');
});

test('each invalid box of readings and lots is reported by itself, and no other box is marked', async () => {
  const slips = {
    ...pack,
    'fromLots~more~amount': 'three',
    'fillTemps~row~1~temp': '250',
    'fillTemps~row~2~clock': '25:70',
    'fillTemps~row~3~temp': '185',
    'fillTemps~row~3~thermometer': 'T 1',
    'fillTemps~row~4~temp': '185',
    'fillTemps~row~4~from': 'the blue ones',
    'fillTemps~row~5~from': '20',
    'fillTemps~row~6~temp': '183.5',
    'fillTemps~row~7~temp': '184',
    'fillTemps~row~7~from': '16',
    'fillTemps~row~7~to': '9',
    'fillTemps~row~8~temp': '184',
    'fillTemps~row~8~from': '9-16',
  };
  const { body, statusCode } = await posted(at, '/packs/finished', slips, { cookie });
  expect(statusCode).toBe(422);
  expect(faultsAt(body)).toEqual({
    'fromLots~more~amount': expect.stringMatching(/^Enter an amount like 3.*“three”$/),
    'fillTemps~row~1~temp': expect.stringMatching(/^Enter a temperature in the jar of at most 225 °F/),
    'fillTemps~row~2~clock': 'Enter a time like 14:10, not “25:70”',
    'fillTemps~row~3~thermometer': expect.stringContaining('“T 1”'),
    'fillTemps~row~4~from': expect.stringContaining('“the blue ones”'),
    'fillTemps~row~5~temp': 'Enter the temperature',
    'fillTemps~row~7~to': 'Enter 16 or a higher number, not “9”',
    'fillTemps~row~8~from': 'Enter the number of the first jar, like 9, not “9-16”',
  });
  for (const box of ['value="three"', 'value="250"', 'value="25:70"', 'value="T 1"', 'value="the blue ones"'])
    expect(body).toContain(box);
  const again = { ...slips, 'fromLots~more': '26999Z', 'fromLots~more~amount': '1.5' };
  expect(faultsAt((await posted(at, '/packs/finished', again, { cookie })).body)).not.toHaveProperty(
    'fromLots~more~amount',
  );
});

test('an unknown lot, and a reading at an impossible time, are reported at their boxes', async () => {
  const slips = { ...pack, 'fromLots~more': '26099Z' };
  expect(faultsAt((await posted(at, '/packs/finished', slips, { cookie })).body)).toEqual({
    'fromLots~more': expect.stringMatching(/^Enter a boil or pack or receipt of this book .*26099Z/),
  });
  const early = { ...pack, packedAt: '2026-03-10T09:00', 'fillTemps~row~1~clock': '07:10' };
  expect(faultsAt((await posted(at, '/packs/finished', early, { cookie })).body)).toEqual({
    'fillTemps~row~1~clock': expect.stringMatching(/^Enter a time after boil 26069A began/),
  });
  const none = Object.fromEntries(Object.entries(pack).filter(([name]) => !name.startsWith('fromLots~more')));
  expect(faultsAt((await posted(at, '/packs/finished', none, { cookie })).body)).toEqual({
    'fromLots~more': 'Tick a lot, or enter its code',
  });
});

/** The boxes marked as invalid, each with the sentence that describes it. */
function faultsAt(body: string): Record<string, string> {
  const boxes = [
    ...body.matchAll(/<input[^>]*aria-describedby="(f-[^" ]*~[^" ]*-fault)"[^>]*aria-invalid="true"[^>]*>/g),
  ];
  return Object.fromEntries(
    boxes.map(([, id = '']) => {
      const fault = new RegExp(`<span class="fault" id="${id}">([^<]*)</span>`).exec(body)?.[1] ?? 'nothing';
      return [id.slice(2, -'-fault'.length), fault];
    }),
  );
}

test('no page of a pack, a boil or a corrective action needs several values in one box', async () => {
  for (const url of [
    '/dispatches/new',
    '/packs/finished',
    '/packs/begin',
    '/boils/finished',
    '/boils/begin',
    '/lots/26069A/act',
  ]) {
    const { body, statusCode } = await at.web.inject({ url, headers: { cookie } });
    expect([url, statusCode]).toEqual([url, 200]);
    expect(body).not.toMatch(/26077A:3 gal|@10:10|T1;H2|#T1|9-16|13-18|13-24/);
  }
});

test('earlier texts are offered newest first, but never readings or observations, and nothing is preselected', async () => {
  for (const [n, source] of ['South road', 'North slope, buckets'].entries()) {
    const gathering = {
      volume: '40 gal',
      source,
      gatheredAt: `2026-03-1${n}T08:00`,
      condition: 'odd words',
      sugar: '2.3 Bx',
    };
    expect((await posted(at, '/sap/gather', gathering, { cookie })).statusCode).toBe(303);
  }
  const page = (await at.web.inject({ url: '/sap/gather', headers: { cookie } })).body;
  expect(page.indexOf('value="North slope, buckets"')).toBeLessThan(page.indexOf('value="South road"'));
  expect(page).not.toMatch(/odd words|2\.3 Bx|40 gal"/);
  expect(page).not.toMatch(/value="North slope, buckets" checked/);
  const again = (await at.web.inject({ url: '/sap/gather?same=1', headers: { cookie } })).body;
  expect(again).toMatch(/value="North slope, buckets" checked/);
});

test('picking a supplier fills in their contact details; typing a name does not', async () => {
  const first = { volume: '5 gal', supplier: 'Bracken Lane', contact: 'the red barn', receivedAt: '2026-03-12T09:00' };
  await posted(at, '/sap/receive', first, { cookie });
  const picked = { volume: '6 gal', 'supplier~pick': 'Bracken Lane', receivedAt: '2026-03-13T09:00' };
  expect((await posted(at, '/sap/receive', picked, { cookie })).statusCode).toBe(303);
  expect((await recordsOf(sugarhouseReader(at.book.read, 'home'), 'receipt')).at(-1)?.body).toMatchObject({
    supplier: 'Bracken Lane',
    contact: 'the red barn',
  });
  const typed = { volume: '6 gal', supplier: 'Bracken Lane', receivedAt: '2026-03-13T10:00' };
  expect((await posted(at, '/sap/receive', typed, { cookie })).statusCode).toBe(422);
});

test('“same as last time” picks the filter’s name at the draw-off, but no temperature or amount', async () => {
  const earlier = {
    beganAt: '2026-03-10T07:00',
    finishedAt: '2026-03-10T12:00',
    syrupVolume: '2.5 gal',
    filterTemp: '191.5 F',
    filterMedium: 'wool cone',
    defoamer: 'sunflower oil',
    defoamerAllergens: 'none',
  };
  expect((await posted(at, '/boils/finished', earlier, { cookie })).statusCode).toBe(303);
  const begun = await posted(at, '/boils/begin', { 'beganAt~ago': 'now' }, { cookie });
  const boil = /\/lots\/([^#?]+)/.exec(String(begun.headers['location']))?.[1] ?? '';
  const page = async (url: string): Promise<string> => (await at.web.inject({ url, headers: { cookie } })).body;
  expect(await page(`/boils/${boil}/log/draw`)).toContain('Same as last time');
  const draw = await page(`/boils/${boil}/log/draw?same=1`);
  expect(draw).toMatch(/value="wool cone" checked/);
  expect(draw).not.toMatch(/191\.5|2\.5 gal|value="2\.5"/);
  const defoamer = await page(`/boils/${boil}/log/defoamer?same=1`);
  expect(defoamer).toMatch(/value="sunflower oil" checked/);
  expect(defoamer).not.toMatch(/name="defoamerAllergens[^"]*"[^>]*(?:value="none"[^>]*checked| value="none")/);
});

test('jars of a corrective action are a first and a last number each; an invalid one is reported at its box', async () => {
  const lot = '26069A-2';
  expect(
    (await posted(at, '/packs/finished', { ...pack, lot, sealsFailed: '0', sealsAt: '2026-03-12T09:00' }, { cookie }))
      .statusCode,
  ).toBe(303);
  const action = { found: 'third jar at 178 F', way: 'inspected', cause: 'slow-filling', 'jars~pick': '' };
  const act = (jars: Record<string, string>) => posted(at, `/lots/${lot}/act`, { ...action, ...jars }, { cookie });
  const wrong = await act({ 'jars~from~1': '16', 'jars~to~1': '9', 'jars~from~2': 'two' });
  expect(wrong.statusCode).toBe(422);
  expect(faultsAt(wrong.body)).toEqual({
    'jars~to~1': 'Enter 16 or a higher number, not “9”',
    'jars~from~2': 'Enter the number of the first jar, like 9, not “two”',
  });
  for (const box of ['jars~from~1" value="16"', 'jars~to~1" value="9"']) expect(wrong.body).toContain(box);
  expect((await act({ 'jars~from~1': '9', 'jars~to~1': '16', 'jars~from~2': '20' })).statusCode).toBe(303);
  const [saved] = (await recordsOf(sugarhouseReader(at.book.read, 'home'), 'action')).slice(-1);
  expect(saved?.body.jars).toMatchObject({ typed: '9-16 and 20', all: false, count: 9 });
  const slip = {
    'correction~field': 'jars',
    'correction~why': 'a slip in typing',
    'jars~from~1': '9',
    'jars~to~1': '12',
  };
  const corrected = await posted(at, `/records/action/${saved?.id}/correct`, slip, { cookie });
  expect(corrected.statusCode).toBe(303);
  const [after] = (await recordsOf(sugarhouseReader(at.book.read, 'home'), 'action')).slice(-1);
  expect(after?.body.jars).toMatchObject({ typed: '9-12', count: 4 });
});

test('only the form from paper offers lots with nothing left; they can be picked or typed, and typed text takes precedence', async () => {
  const boil = { beganAt: '2026-03-11T08:00', finishedAt: '2026-03-11T09:00', syrupVolume: '1.5 gal', lot: '26070A' };
  expect((await posted(at, '/boils/finished', boil, { cookie })).statusCode).toBe(303);
  const typed = { ...pack, 'fromLots~more': '26098Z', 'fromLots~more~pick': '26070A' };
  expect(faultsAt((await posted(at, '/packs/finished', typed, { cookie })).body)).toHaveProperty('fromLots~more');
  const picked = { ...pack, 'fromLots~more': '', 'fromLots~more~pick': '26070A', packedAt: '2026-03-11T11:00' };
  expect((await posted(at, '/packs/finished', picked, { cookie })).statusCode).toBe(303);
  const last = (await recordsOf(sugarhouseReader(at.book.read, 'home'), 'pack')).at(-1);
  expect(last?.typed['fromLots']).toBe('26070A:1.5 gal');
  const form = async (url: string) => (await at.web.inject({ url, headers: { cookie } })).body;
  expect(await form('/packs/finished')).toContain('name="fromLots~more~pick" value="26070A"');
  expect(await form('/packs/begin')).toContain('name="fromLots~more"');
  expect(await form('/packs/begin')).not.toContain('26070A');
});

test('a calculator has numbers with a unit picked beside them, and pan readings with a box for the time', async () => {
  const answered = async (name: string, query: Record<string, string>) =>
    (await at.web.inject({ url: `/calculators/${name}?${new URLSearchParams(query).toString()}`, headers: { cookie } }))
      .body;
  const pan = {
    'readings~pair~1~first': '215',
    'readings~pair~1~second': '20:10',
    'readings~pair~2~first': '216.5',
    'readings~pair~2~second': '20:20',
    'readings~unit': 'F',
    waterBoils: '211',
    'waterBoils~unit': 'F',
    density: '66.9',
    'density~unit': 'Bx',
  };
  expect(await answered('thickening', pan)).toContain('66.9 Bx in about 7 minutes');
  const late = await answered('thickening', { ...pan, 'readings~pair~2~second': 'later' });
  expect(late).toContain('value="later"');
  expect(late).toContain('a reading with its time');
  const jars = { syrup: '5', 'syrup~unit': 'gal', 'sizes~unit': 'fl oz', 'sizes~pair~1~first': '16' };
  expect(await answered('jar-plan', { ...jars, 'sizes~pair~1~second': '12' })).toContain('12 of 16 fl oz');
  // The content of one jar is offered in small units first: a bare 8 doesn't mean 8 gallons.
  expect(await answered('weight', {})).toMatch(/name="volume~unit"[^>]*><option value="fl oz" selected>/);
  const scale = { weights: '503\n502', 'weights~unit': 'g', volume: '8', 'volume~unit': 'fl oz', density: '66.9 Bx' };
  expect(await answered('weighed-jars', { ...scale, tare: '190', 'tare~unit': 'g' })).toContain(
    '2 jars average 312.5 g',
  );
});

test('jars are sent out by first and last number in separate boxes; another count beside them is refused', async () => {
  const lot = '26069A-2';
  const sale = { lot, to: 'Millrace Green market', sentAt: '2026-03-18T10:00', 'jars~from~1': '3', 'jars~to~1': '4' };
  const both = await posted(at, '/dispatches/new', { ...sale, jars: '3' }, { cookie });
  expect([both.statusCode, both.body]).toEqual([422, expect.stringContaining('value="3"')]);
  expect((await posted(at, '/dispatches/new', { ...sale, jars: '', kind: 'broken' }, { cookie })).statusCode).toBe(303);
  const [sent] = (await recordsOf(sugarhouseReader(at.book.read, 'home'), 'dispatch')).slice(-1);
  expect(sent?.body).toMatchObject({ jars: 2, lot });
  expect(sent?.body.codes).toHaveLength(2);
});
