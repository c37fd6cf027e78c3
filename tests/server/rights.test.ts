import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addKey, addPerson } from '#libs/actions/accounts/accounts.js';
import { rights } from '#libs/actions/accounts/rights.js';
import { dispatchKinds } from '#libs/actions/kinds/dispatch.js';
import { supportingRecordKinds } from '#libs/actions/kinds/supporting-records.js';
import { readHead } from '#libs/store/log/log.js';
import { done } from '../support/sugarhouse.js';
import { writeDay } from '../support/season-server.js';
import { startServer, posted, signedIn, type TestServer } from '../support/server.js';

/** What a helper, a maker and an owner may write: the page and the API must agree. */
let at: TestServer;
let day: Awaited<ReturnType<typeof writeDay>>;
const cookies: Record<string, string> = {};
const keys: Record<string, string> = {};
const roles = ['helper', 'maker', 'owner'] as const;
const initials = { helper: 'JP', maker: 'OE', owner: 'WE' };

beforeAll(async () => {
  at = await startServer();
  day = await writeDay(at);
  for (const role of roles) {
    const password = `steam over the roof of ${role}`;
    done(await addPerson(at.book, 'home', { initials: initials[role], role, password }));
    cookies[role] = await signedIn(at, initials[role], password);
    keys[role] = done(await addKey(at.book, 'home', { name: `${role} script`, role }, at.clock.now)).key;
  }
}, 60_000);
afterAll(() => at.close());

const entries = async (): Promise<number> => (await readHead(at.book.read)).entries;
const byPage = (role: string, url: string, fields: Record<string, string>) =>
  posted(at, url, { _once: `once-${n++}`, ...fields }, { cookie: cookies[role] ?? '' });
const byApi = (role: string, url: string, payload: object) =>
  at.web.inject({ method: 'POST', url, payload, headers: { authorization: `Bearer ${keys[role]}` } });
let n = 0;

const whole = { fromLots: '26077A:1 gal', packedAt: '2026-03-20T10:00', container: 'glass jar 8 fl oz', jars: '4' };
type Row = readonly [keyof typeof rights, string, string, Record<string, string>];
/** Something of each kind: the page and the API path that accept it, and what is sent to both. */
const rows = (): Row[] => [
  [
    'gathering',
    '/sap/gather',
    '/api/gatherings',
    { source: 'North slope', volume: '80 gal', gatheredAt: '2026-03-19T15:00' },
  ],
  [
    'receipt',
    '/sap/receive',
    '/api/receipts',
    { supplier: 'Bracken Lane', contact: 'Harrow Notch', volume: '9 gal', receivedAt: '2026-03-19T15:00' },
  ],
  ['boil', '/boils/finished', '/api/boils', { beganAt: '2026-03-19T07:30', syrupVolume: '2 gal' }],
  ['boil underway', '/boils/begin', '/api/boils', { beganAt: '2026-03-19T07:30' }],
  ['pack', '/packs/finished', '/api/packs', whole],
  [
    'pack underway',
    '/packs/begin',
    '/api/packs',
    { fromLots: whole.fromLots, packedAt: whole.packedAt, container: whole.container },
  ],
  [
    'dispatch',
    '/dispatches/new',
    '/api/dispatches',
    { lot: day.pack, jars: '1', sentAt: '2026-03-20T09:00', to: 'Harrow Notch market' },
  ],
  [
    'dispatch',
    '/dispatches/new',
    '/api/dispatches',
    { lot: day.pack, jars: '1', sentAt: '2026-03-20T09:00', to: 'compost', kind: 'destroyed' },
  ],
  ['count', '/dispatches/count', '/api/counts', { lot: day.pack, jars: '1', countedAt: '2026-03-20T09:00' }],
  [
    'action',
    `/lots/${day.pack}/act`,
    '/api/actions',
    { lot: day.pack, found: 'a lid flexed', done: 'set apart', cause: 'a worn lid' },
  ],
  ['stock', '/stocks/new', '/api/label-stocks', {}],
  ['house', '/house', '/api/house', {}],
  ...supportingRecordKinds
    // These three are written on pages of their own.
    .filter(({ kind }) => !['season', 'labels', 'practice-recall'].includes(kind))
    .map((kind): Row => [kind.kind as 'check', `/supporting-records/${kind.plural}/new`, `/api/${kind.plural}`, {}]),
];

test('every kind of record is refused by page and by API to the same roles, and nothing is written', async () => {
  const wrong: string[] = [];
  const refusedTo: Record<string, string[]> = {};
  for (const role of roles)
    for (const [what, url, api, fields] of rows()) {
      const before = await entries();
      const underway = what.endsWith('underway') ? { underway: true } : {};
      const [page, answer] = [await byPage(role, url, fields), await byApi(role, api, { ...fields, ...underway })];
      const allowed = roles.indexOf(role) >= roles.indexOf(rights[what]);
      for (const [name, { statusCode }] of [
        ['page', page],
        ['API', answer],
      ] as const)
        if ((statusCode === 403) === allowed || statusCode >= 500 || statusCode === 404)
          wrong.push(`${role}, ${what} by ${name}: ${statusCode}`);
      if (!allowed) (refusedTo[role] ??= []).push(what);
      if (!allowed && (await entries()) !== before) wrong.push(`${role}, ${what}: written`);
    }
  expect(wrong).toEqual([]);
  expect(refusedTo['helper']).toEqual(
    expect.arrayContaining(['pack', 'boil', 'receipt', 'dispatch', 'action', 'licence', 'complaint']),
  );
  expect(refusedTo['maker']).toEqual(['house']);
  expect(refusedTo['owner']).toBeUndefined();
});

test.each([
  ['mark', () => `/lots/${day.pack}/hold`, () => `/api/lots/${day.pack}/hold`, { why: 'lids flex' }],
  ['mark', () => `/lots/${day.pack}/release`, () => `/api/lots/${day.pack}/release`, { why: 'lids hold' }],
  ['mark', () => `/lots/${day.pack}/recall`, () => `/api/lots/${day.pack}/recall`, { why: 'mould' }],
  [
    'correction',
    () => `/records/pack/${day.pack}/correct`,
    () => '/api/corrections',
    { why: 'misread', clarity: 'clear' },
  ],
  ['import', () => '/files/import', () => '/api/imports/gatherings', {}],
])('%s is refused to a helper, by page and API', async (_what, url, api, fields) => {
  const before = await entries();
  expect((await byPage('helper', url(), fields)).statusCode).toBe(403);
  expect((await byApi('helper', api(), fields)).statusCode).toBe(403);
  expect(await entries()).toBe(before);
});

test('a helper signs for nobody else, by page or API; a maker may, and the history says who entered it', async () => {
  const sap = { source: 'Signed bush', volume: '11 gal', gatheredAt: '2026-03-19T15:00' };
  const before = await entries();
  const page = await byPage('helper', '/sap/gather', { ...sap, by: 'WE' });
  expect(page.statusCode).toBe(422);
  expect(page.body).toContain('only makers sign for somebody else');
  const answer = await byApi('helper', '/api/gatherings', { ...sap, by: 'WE' });
  expect([answer.statusCode, answer.json<{ faults: { field: string }[] }>().faults[0]?.field]).toEqual([422, 'by']);
  // However the initials arrive: in the box of another answer, in a time box, or as a list.
  for (const box of ['by~pick', 'by~ago'])
    expect([box, (await byPage('helper', '/sap/gather', { ...sap, [box]: 'WE' })).statusCode]).toEqual([box, 422]);
  const list = await byApi('helper', '/api/gatherings', { ...sap, by: ['WE'] });
  expect(list.statusCode).toBe(422);
  expect(await entries()).toBe(before);
  expect((await byPage('helper', '/sap/gather', { ...sap, id: 'S1', by: 'jp' })).statusCode).toBe(303);
  expect((await byPage('maker', '/sap/gather', { ...sap, id: 'S2', by: 'WE' })).statusCode).toBe(303);
  expect((await byApi('maker', '/api/gatherings', { ...sap, id: 'S3', by: 'WE' })).statusCode).toBe(201);
  const shown = async (id: string): Promise<string> =>
    (await at.web.inject({ url: `/lots/${id}`, headers: { cookie: cookies['maker'] ?? '' } })).body;
  expect(await shown('S1')).not.toContain('entered by');
  expect(await shown('S2')).toContain('entered by OE for WE');
  expect(await shown('S3')).toContain('entered by maker script for WE');
  const history = await at.web.inject({
    url: '/api/lots/S2/history',
    headers: { authorization: `Bearer ${keys['maker']}` },
  });
  expect(history.json<{ entries: object[] }>().entries[0]).toMatchObject({ by: 'WE', enteredBy: 'OE' });
});

test('a helper may record that jars had already left, by page and API, but may not send any', async () => {
  const sent = { lot: day.pack, jars: '1', sentAt: '2026-03-20T09:30', to: 'a stall', kind: 'sale' };
  for (const alreadyLeft of ['', 'no', 'YES please'])
    expect((await byPage('helper', '/dispatches/new', { ...sent, alreadyLeft })).statusCode).toBe(403);
  expect((await byApi('helper', '/api/dispatches', { ...sent, id: 'S7' })).statusCode).toBe(403);
  for (const status of [
    (await byPage('helper', '/dispatches/new', { ...sent, alreadyLeft: 'yes' })).statusCode,
    (await byApi('helper', '/api/dispatches', { ...sent, alreadyLeft: 'yes', id: 'S8' })).statusCode,
  ])
    expect(status).not.toBe(403);
  expect((await byApi('helper', '/api/dispatches/S8/additions', { contact: '802 555 0100' })).statusCode).toBe(403);
});

test('a helper reports as already left only jars that somebody else has now: sold, given or a sample', async () => {
  const before = await entries();
  const wrong: string[] = [];
  const sent = { lot: day.cold, jars: '1', sentAt: '2026-03-20T09:30', to: 'a stall', alreadyLeft: 'yes' };
  for (const kind of dispatchKinds) {
    const mayReport = ['sale', 'gift', 'sample'].includes(kind);
    const answers = {
      page: await byPage('helper', '/dispatches/new', { ...sent, kind }),
      'second box': await byPage('helper', '/dispatches/new', { ...sent, 'kind~pick': kind }),
      'time box': await byPage('helper', '/dispatches/new', { ...sent, 'kind~ago': kind }),
      API: await byApi('helper', '/api/dispatches', { ...sent, kind, id: `L-${kind}` }),
      'API, as a list': await byApi('helper', '/api/dispatches', { ...sent, kind: [kind], id: `M-${kind}` }),
    };
    for (const [way, { statusCode }] of Object.entries(answers))
      if ((statusCode === 403) === mayReport) wrong.push(`${kind} by ${way}: ${statusCode}`);
    if (!mayReport) {
      const byMaker = await byApi('maker', '/api/dispatches', { ...sent, kind, id: `N-${kind}`, jars: '1' });
      if (byMaker.statusCode === 403) wrong.push(`${kind} by a maker: 403`);
    }
  }
  expect(wrong).toEqual([]);
  // Three kinds by four of the ways, and what the maker may write.
  expect(await entries()).toBeGreaterThan(before + 12);
});

test('a helper adds nothing to a dispatch by saying that its jars had already left', async () => {
  const sent = { lot: day.pack, jars: '1', sentAt: '2026-03-20T09:30', to: 'a stall', id: 'S9' };
  expect((await byApi('maker', '/api/dispatches', sent)).statusCode).toBe(201);
  const before = await entries();
  const added = { alreadyLeft: 'yes', contact: '802 555 0100' };
  expect((await byApi('helper', '/api/dispatches/S9/additions', added)).statusCode).toBe(403);
  expect((await byPage('helper', '/dispatches/S9/inspection', added)).statusCode).toBe(403);
  expect(await entries()).toBe(before);
});

test('a helper sees no link to what they may not write', async () => {
  for (const url of [
    '/',
    '/sap',
    '/boils',
    '/packs',
    '/dispatches',
    '/supporting-records/licences',
    '/packs/begin',
    `/lots/${day.pack}`,
  ]) {
    const request = async (role: string) =>
      (await at.web.inject({ url, headers: { cookie: cookies[role] ?? '' } })).body;
    expect([
      url,
      (await request('helper')).match(
        /href="\/(packs\/finished|boils\/finished|sap\/receive|supporting-records\/licences\/new)/,
      ),
    ]).toEqual([url, null]);
  }
  for (const url of ['/packs/finished', '/boils/finished', '/sap/receive', '/supporting-records/licences/new'])
    expect([url, (await at.web.inject({ url, headers: { cookie: cookies['helper'] ?? '' } })).statusCode]).toEqual([
      url,
      403,
    ]);
});
