import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addPerson } from '#libs/actions/accounts/accounts.js';
import { packsUnderway } from '#libs/actions/kinds/pack.js';
import { record } from '#libs/actions/record/record.js';
import { readHead } from '#libs/store/log/log.js';
import { findLot, findRecord } from '#libs/store/queries/lots.js';
import { startServer, posted, signedIn, type TestServer } from '../support/server.js';
import { writeDay } from '../support/season-server.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

let at: TestServer;
let day: Awaited<ReturnType<typeof writeDay>>;
const cookies: Record<string, string> = {};

beforeAll(async () => {
  at = await startServer();
  day = await writeDay(at);
  for (const initials of ['WE', 'OE']) {
    const password = `steam over the roof of ${initials}`;
    const added = await addPerson(at.book, 'home', { initials, name: initials, role: 'maker', password });
    if ('problem' in added) throw new Error(JSON.stringify(added.problem));
    cookies[initials] = await signedIn(at, initials, password);
  }
}, 60_000);
afterAll(() => at.close());

const opened = async (initials: string, url: string) => {
  const answer = await at.web.inject({ url, headers: { cookie: cookies[initials] ?? '' } });
  expect([url, answer.statusCode]).toEqual([url, 200]);
  return hiddenFieldsIn(answer.body);
};
/** The hidden fields of the form that a page carries, as a browser sends them back. */
const hiddenFieldsIn = (html: string): Record<string, string> =>
  Object.fromEntries(
    [...html.matchAll(/<input type="hidden" name="(_once|_seen)" value="([^"]*)"/g)].map(([, name, value]) => [
      name ?? '',
      value ?? '',
    ]),
  );
const send = (initials: string, url: string, fields: Record<string, string>) =>
  posted(at, url, fields, { cookie: cookies[initials] ?? '' });
const entries = async (): Promise<number> => (await readHead(at.book.read)).entries;

test.each<[string, (pack: string) => string, Record<string, string>, string]>([
  [
    'a correction',
    (pack) => `/records/pack/${pack}/correct?field=all`,
    { why: 'read the wrong line', clarity: 'clear' },
    'read the wrong line',
  ],
  [
    'a corrective action',
    (pack) => `/lots/${pack}/act`,
    { found: 'a lid flexed', done: 'packed again' },
    'a lid flexed',
  ],
  ['a hold', (pack) => `/lots/${pack}/hold`, { why: 'lids flex' }, 'lids flex'],
  ['a recall', (pack) => `/lots/${pack}/recall`, { why: 'mould at a buyer' }, 'mould at a buyer'],
  [
    'a dispatch',
    (pack) => `/dispatches/new?lot=${pack}`,
    { jars: '2', to: 'Millrace Green', 'sentAt~ago': 'now' },
    'Millrace Green',
  ],
  ['a count', (pack) => `/dispatches/count?lot=${pack}`, { jars: '11', 'countedAt~ago': 'now' }, '11'],
  ['colour and looks', (pack) => `/packs/${pack}/looks`, { clarity: 'clear' }, 'clear'],
])(
  '%s after another person’s entry needs a confirmation, and is saved on the second press',
  async (_, formOf, fields, saved) => {
    const pack = await aPack();
    const url = formOf(pack);
    const whole = { ...fields, ...(url.startsWith('/dispatches') ? { lot: pack } : {}) };
    const mine = await opened('WE', url);
    expect(Number(mine['_seen'])).toBeGreaterThanOrEqual(
      (await findLot(sugarhouseReader(at.book.read, 'home'), pack))?.lastSeq ?? 1,
    );
    await add('OE', pack, { note: `the third lid of ${pack} was dented` });
    const before = await entries();

    const request = await send('WE', url.replace(/\?.*/, ''), { ...mine, ...whole });
    expect(request.statusCode).toBe(409);
    expect(request.body).toContain(`OE wrote about ${pack} at 12:00`);
    expect(request.body).toContain(`the third lid of ${pack} was dented`);
    expect(request.body).toContain(saved);
    expect(await entries()).toBe(before);

    const again = await send('WE', url.replace(/\?.*/, ''), { ...hiddenFieldsIn(request.body), ...whole });
    expect(again.statusCode).toBe(303);
    expect(await entries()).toBe(before + 1);
  },
);

test('a release needs a confirmation when another person wrote in the meantime', async () => {
  const pack = await aPack();
  await send('WE', `/lots/${pack}/hold`, { ...(await opened('WE', `/lots/${pack}/hold`)), why: 'lids flex' });
  const mine = await opened('WE', `/lots/${pack}/release`);
  const act = `/lots/${pack}/act`;
  await send('OE', act, { ...(await opened('OE', act)), found: 'one lid was open', done: 'set aside' });
  const request = await send('WE', `/lots/${pack}/release`, { ...mine, why: 'all lids are down' });
  expect([request.statusCode, (await findLot(sugarhouseReader(at.book.read, 'home'), pack))?.state]).toEqual([
    409,
    'held',
  ]);
  expect(request.body).toContain('one lid was open');
  expect(request.body).toContain('all lids are down');
});

test('another fault in between doesn’t hide what another person wrote', async () => {
  const pack = await aPack();
  const url = `/lots/${pack}/hold`;
  const mine = await opened('WE', url);
  await add('OE', pack, { note: 'a dented lid' });
  const faulty = await send('WE', url, { ...mine, why: '' });
  expect(faulty.statusCode).toBe(422);
  const request = await send('WE', url, { ...hiddenFieldsIn(faulty.body), why: 'lids flex' });
  expect([request.statusCode, request.body.includes('a dented lid')]).toEqual([409, true]);
});

test('successive readings need no confirmation: one’s own, and those of another person at the same work', async () => {
  const pack = await aPack({ jars: '' });
  const url = `/packs/${pack}/fill`;
  const old = await opened('WE', `/lots/${pack}`);
  for (const [n, [who, degrees]] of (
    [
      ['WE', '188'],
      ['OE', '187'],
      ['WE', '186'],
      ['OE', '185'],
    ] as const
  ).entries()) {
    const hidden = { ...old, _once: `reading-${n}-of-${pack}` };
    expect((await send(who, url, { ...hidden, temperature: degrees, 'temperature~unit': 'F' })).statusCode).toBe(303);
  }
  const saved = await findRecord(sugarhouseReader(at.book.read, 'home'), 'pack', pack);
  expect(saved?.body.fillTemps.map((each) => each.typed.slice(0, 5))).toEqual([
    '186 F',
    '188 F',
    '187 F',
    '186 F',
    '185 F',
  ]);
});

test('a fill reading needs a confirmation if another person held or finished the pack meanwhile, and stays typed', async () => {
  const pack = await aPack({ jars: '' });
  const mine = await opened('WE', `/lots/${pack}`);
  const finish = `/packs/${pack}/finish`;
  expect((await send('OE', finish, { ...(await opened('OE', finish)), jars: '7' })).statusCode).toBe(303);
  const reading = { temperature: '184.5', 'temperature~unit': 'F', jars: 'tray 2' };
  const request = await send('WE', `/packs/${pack}/fill`, { ...mine, ...reading });
  expect(request.statusCode).toBe(409);
  for (const text of [`OE wrote about ${pack}`, 'value="184.5"', 'value="tray 2"'])
    expect(request.body).toContain(text);
  expect((await send('WE', `/packs/${pack}/fill`, { ...hiddenFieldsIn(request.body), ...reading })).statusCode).toBe(
    303,
  );
});

test('lines of two people at one pan are both saved; the syrup made needs a confirmation after another person’s line', async () => {
  const begin = await send('WE', '/boils/begin', {
    _once: 'a boil for two',
    gatherings: 'G041',
    'gatherings~of~G041': '0.5',
    'gatherings~unit': 'gal',
    'beganAt~ago': 'now',
  });
  expect(begin.statusCode).toBe(303);
  const boil = String(begin.headers.location).replace('/lots/', '');
  const fire = `/boils/${boil}/log/fire`;
  const [mine, made] = [await opened('WE', fire), await opened('WE', `/boils/${boil}/log/finish`)];
  expect(
    (await send('OE', fire, { ...(await opened('OE', fire)), note: 'two splits', 'at~ago': 'now' })).statusCode,
  ).toBe(303);
  expect((await send('WE', fire, { ...mine, note: 'damper shut', 'at~ago': 'now' })).statusCode).toBe(303);
  const request = await send('WE', `/boils/${boil}/log/finish`, {
    ...made,
    syrupVolume: '1',
    'syrupVolume~unit': 'qt',
    'finishedAt~ago': 'now',
  });
  expect([request.statusCode, request.body.includes('two splits'), request.body.includes('damper shut')]).toEqual([
    409,
    true,
    false,
  ]);
});

let packs = 0;
async function aPack(more: Record<string, string> = {}): Promise<string> {
  const saved = await findRecord(sugarhouseReader(at.book.read, 'home'), 'pack', day.pack);
  const context = { sugarhouse: 'home', by: 'JP', author: 'JP', now: at.clock.now, zone: 'America/New_York' };
  const done = await record(at.book, context, packsUnderway, {
    fromLots: [`${saved?.body.fromLots[0]?.lot}:96 fl oz`],
    packedAt: `2026-03-19T20:0${packs++ % 10}`,
    container: 'glass jar 8 fl oz',
    fillTemps: ['186 F'],
    densityReading: '60.4 Bx',
    densityAt: '185 F',
    densityBy: 'hydrometer',
    sealsFailed: '0',
    jars: '12',
    by: 'JP',
    ...more,
  });
  if ('problem' in done) throw new Error(JSON.stringify(done.problem));
  return done.id;
}

async function add(author: string, pack: string, sent: Record<string, string>): Promise<void> {
  const context = { sugarhouse: 'home', by: author, author, now: at.clock.now, zone: 'America/New_York' };
  const done = await record(at.book, context, packsUnderway, sent, { add: true, of: pack });
  if ('problem' in done) throw new Error(JSON.stringify(done.problem));
}
