import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { importRows } from '#libs/actions/import/import-rows.js';
import { importKinds, kindByName } from '#libs/actions/kinds/registry.js';
import { holdLot } from '#libs/actions/lots/hold-lot.js';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { recallLots } from '#libs/actions/lots/recall-lots.js';
import type { WriteContext } from '#libs/actions/record/write-context.js';
import { record, type RecordOptions } from '#libs/actions/record/record.js';
import { voidRecord } from '#libs/actions/record/void-record.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { lotsOf, recordsOf } from '#libs/store/queries/lots.js';
import { inventSeason } from '../generator/invent-season.js';
import { sqlite } from '../support/engines.js';
import { owner, setUp } from '../support/newcomer.js';
import { startServer, signedIn, type TestServer } from '../support/server.js';

/** A server whose pages are read after every write, and one that has read nothing yet. */
const season = inventSeason(23, 12);
const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: season.now, zone: 'America/New_York' };
let server: TestServer;
let cookie = '';
let packs: string[] = [];

beforeAll(async () => {
  server = await startServer();
  server.clock.now = season.now;
  await setUp(server);
  cookie = await signedIn(server, 'WE', owner.password);
  for (const { kind, text } of season.files) {
    const done = await importRows(
      server.book,
      { ...context, from: 'file' },
      importKinds.find((each) => each.plural === kind)!,
      Buffer.from(text),
    );
    if (done.faultCount + done.refusalCount > 0) throw new Error(JSON.stringify(done));
  }
  const reader = { sql: server.book.read, sugarhouse: 'home' };
  const open = new Set(
    (await lotsOf(reader, 'pack', 2026)).filter((lot) => lot.state === 'open').map((lot) => lot.code),
  );
  packs = (await recordsOf(reader, 'pack', 2026))
    .filter(({ id, body }) => open.has(id) && body.sealsFailed === 0 && (body.jars ?? 0) > 12)
    .map(({ id }) => id);
});
afterAll(async () => {
  await server.close();
});

const lists = [
  ...['/packs', '/boils', '/packs?sort=-onhand', '/packs?q=held', '/packs?sort=out&as=csv'],
  ...['/boils?sort=-left', '/boils?q=gal'],
];
const addresses = ['/season/2026', '/season/2025', '/season/2026/pictures', '/', ...lists];
/** The pages of packs that tests write about, the newest ones among them, and of a jar of each with its API trace. */
async function addressesNow(): Promise<readonly string[]> {
  const newest = (await lotsOf({ sql: server.book.read, sugarhouse: 'home' }, 'pack', 2026)).slice(-3);
  const some = new Set([...packs.slice(0, 3), ...packs.slice(-3), ...newest.map(({ code }) => code)]);
  const jars = await server.book.read.rows<{ code: string; pack: string }>`SELECT code, pack FROM jar WHERE n = 2`;
  return [
    ...addresses,
    ...[...some].map((pack) => `/lots/${pack}`),
    ...jars.filter(({ pack }) => some.has(pack)).flatMap(({ code }) => [`/jars/${code}`, `/api/jars/${code}`]),
  ];
}
const pagesOf = async (at: TestServer, urls: readonly string[]): Promise<string[]> =>
  Promise.all(
    urls.map(async (url) => {
      const { statusCode, body } = await at.web.inject({ url, headers: { cookie } });
      expect([url, statusCode]).toEqual([url, 200]);
      return body.replace(/name="_once" value="[^"]*"/g, '');
    }),
  );

async function shownAsIfNew(): Promise<void> {
  const urls = await addressesNow();
  const cached = await pagesOf(server, urls);
  const other = await startServer({}, { engine: { ...sqlite(), freshKeeping: async () => server.book.location } });
  other.clock.now = server.clock.now;
  try {
    const fresh = await pagesOf(other, urls);
    expect(urls.filter((_, n) => cached[n] !== fresh[n])).toEqual([]);
  } finally {
    await other.close();
  }
}

const write = async (kind: RecordKind, sent: Record<string, string>, options: RecordOptions = {}): Promise<string> => {
  server.clock.now = new Date(server.clock.now.getTime() + 61_000);
  const now = server.clock.now;
  const saved = await record(server.book, { ...context, now }, kindByName.get(kind)!, { by: 'WE', ...sent }, options);
  if ('problem' in saved) throw new Error(JSON.stringify(saved.problem));
  return saved.id;
};

test('a record moved to another lot, labels, a corrective action and a void show on Today and the lists at once', async () => {
  const [first = '', second = '', third = ''] = packs;
  const acted = packs.at(-1) ?? '';
  expect(new Set([first, second, third, acted]).size).toBe(4);
  await pagesOf(server, await addressesNow());
  const sent = { jars: '1', sentAt: '2026-06-20T08:00', to: 'Millrace Green market' };
  await write('dispatch', { id: 'S900', lot: first, ...sent });
  await shownAsIfNew();
  await write('dispatch', { id: 'S900', lot: second, ...sent }, { of: 'S900', why: 'wrong lot on the slip' });
  await shownAsIfNew();
  await write('labels', { lot: second, from: '1', to: '4', stock: 'letter-30' });
  await shownAsIfNew();
  await write('count', { id: 'C901', lot: third, jars: '1', countedAt: '2026-06-20T08:10' });
  await shownAsIfNew();
  server.clock.now = new Date(server.clock.now.getTime() + 61_000);
  const voided = await voidRecord(server.book, { ...context, now: server.clock.now }, 'count', 'C901', 'not ours');
  expect(voided).not.toHaveProperty('problem');
  await shownAsIfNew();
  await write('action', {
    lot: acted,
    at: '2026-06-20T08:15',
    found: 'a cracked jar',
    cause: 'dropped',
    way: 'destroyed',
    done: 'thrown out',
    jars: '12',
  });
  await shownAsIfNew();
});

test('after every kind of write the pages of the season, Today and the lists show what a freshly started server shows', async () => {
  await shownAsIfNew();
  const [first = '', second = '', third = ''] = packs;
  await write('dispatch', { lot: first, jars: '3', sentAt: '2026-06-20T10:00', to: 'Millrace Green market' });
  await shownAsIfNew();
  await write('count', { id: 'C900', lot: first, jars: '2', countedAt: '2026-06-20T11:00' });
  await write('gathering', { id: 'G900', gatheredAt: '2026-06-20T08:00', source: 'North slope', volume: '50 gal' });
  await shownAsIfNew();
  const boil = await write('boil', {
    beganAt: '2026-06-20T08:30',
    gatherings: 'G900',
    syrupVolume: '4 gal',
    finishedAt: '2026-06-20T11:30',
  });
  await write('draw', { id: 'D900', boil, drawnAt: '2026-06-20T11:00', volume: '1 gal' });
  await shownAsIfNew();
  await write('pack', {
    fromLots: `${boil}:1 gal`,
    packedAt: '2026-06-20T11:40',
    container: 'glass jar 8 fl oz',
    jars: '12',
    fillTemps: '176 F',
  });
  await shownAsIfNew();
  await holdLot(server.book, { ...context, now: server.clock.now }, second, 'a jar smelled off');
  await shownAsIfNew();
  await releaseLot(server.book, { ...context, now: server.clock.now }, second, 'it was the cloth');
  await shownAsIfNew();
  // A plan: no entry is written when its time comes.
  await write('dispatch', { lot: third, jars: '5', sentAt: '2026-06-21T10:00', to: 'Millrace Green market' });
  await shownAsIfNew();
  const planned = server.clock.now;
  server.clock.now = new Date('2026-06-21T15:00:00Z');
  await shownAsIfNew();
  // A clock that was wrong and is set back: the planned jars are on the shelf again.
  server.clock.now = planned;
  await shownAsIfNew();
  server.clock.now = new Date('2026-06-21T15:00:00Z');
  await shownAsIfNew();
  await write('check', { instrument: 'T1', how: 'ice', should: '32 F', reads: '40 F', at: '2026-06-21T09:00' });
  await shownAsIfNew();
  await write(
    'gathering',
    { id: 'G900', gatheredAt: '2026-06-20T08:00', source: 'South slope', volume: '55 gal' },
    { of: 'G900', why: 'read the wrong gauge' },
  );
  await shownAsIfNew();
});

test('a lot corrected to other syrup or another year, held, recalled or voided shows on all pages at once', async () => {
  const lots = await lotsOf({ sql: server.book.read, sugarhouse: 'home' }, 'boil', 2026);
  const [one = '', other = ''] = lots.map((lot) => lot.code);
  const at = (): WriteContext => ({ ...context, now: server.clock.now });
  server.clock.now = new Date('2026-06-21T18:00:00Z');
  await pagesOf(server, await addressesNow());
  await write('gathering', { id: 'G910', gatheredAt: '2026-06-21T08:00', source: 'North slope', volume: '50 gal' });
  await write('gathering', { id: 'G911', gatheredAt: '2026-06-21T08:10', source: 'South slope', volume: '60 gal' });
  const boiled = { beganAt: '2026-06-21T08:30', syrupVolume: '1 gal', finishedAt: '2026-06-21T11:30' };
  const boil = await write('boil', { ...boiled, gatherings: 'G910' });
  const packed = { packedAt: '2026-06-21T11:40', container: 'glass jar 8 fl oz', jars: '4', fillTemps: '190 F' };
  const pack = await write('pack', { ...packed, fromLots: `${boil}:0.3 gal` });
  await shownAsIfNew();
  // A pack without a hold, which may be voided: its boil has its syrup again.
  const twice = await write('pack', { ...packed, fillTemps: '190 F', fromLots: `${boil}:0.3 gal` });
  await shownAsIfNew();
  server.clock.now = new Date(server.clock.now.getTime() + 61_000);
  expect(await voidRecord(server.book, at(), 'pack', twice, 'entered twice')).not.toHaveProperty('problem');
  await shownAsIfNew();
  await write('boil', { ...boiled, gatherings: 'G911' }, { of: boil, why: 'the other tank' });
  await shownAsIfNew();
  for (const from of [one, other]) {
    await write('pack', { ...packed, fromLots: `${from}:0.3 gal` }, { of: pack, why: 'from the other boil' });
    await shownAsIfNew();
  }
  const earlier = { id: 'G910', gatheredAt: '2025-06-21T08:00', source: 'North slope', volume: '50 gal' };
  await write('gathering', earlier, { of: 'G910', why: 'it was last year' });
  await shownAsIfNew();
  for (const [kind, id] of [
    ['boil', boil],
    ['gathering', 'G910'],
  ] as const) {
    server.clock.now = new Date(server.clock.now.getTime() + 61_000);
    expect(await voidRecord(server.book, at(), kind, id, 'not ours')).not.toHaveProperty('problem');
    await shownAsIfNew();
  }
  const open = packs.at(-3) ?? '';
  expect(await holdLot(server.book, at(), open, 'a smell')).not.toHaveProperty('problem');
  await shownAsIfNew();
  expect(await recallLots(server.book, at(), [open], 'a jar that bulged')).not.toHaveProperty('problem');
  await shownAsIfNew();
});

test('a name that changes in the household shows on the pages at once', async () => {
  await pagesOf(server, await addressesNow());
  await server.book.writeHousehold((sql) => sql.run`UPDATE household_person SET name = 'Wren A. Ellery'`);
  await shownAsIfNew();
});
