import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { packageRoot } from '#libs/package-root.js';
import { startServer, type TestServer } from '../support/server.js';
import { writeDay } from '../support/season-server.js';

/** Notes of packs as makers write them, entered by a file, one pack each, and what the API then says of its lot. */
const linesOf = (name: string): string[] =>
  readFileSync(`${packageRoot}/tests/fixtures/${name}.txt`, 'utf8').trim().split('\n');
const questioned = linesOf('notes-questioned').map((line) => line.split('\t') as [subject: string, note: string]);
const ordinary = linesOf('notes-ordinary');

const asks: Readonly<Record<string, string>> = {
  added: 'was anything put into the syrup?',
  foreign: 'did anything get into the syrup',
  off: 'smell or taste of anything but maple?',
  cold: 'colder than 180 °F (82 °C) when they were capped?',
  instrument: 'may a reading of this pack be wrong?',
  container: 'did the container hold anything but syrup',
  diluted: 'was it thinned after its density was read?',
  sources: 'did syrup go in that is not among the recorded sources?',
  seals: 'may a jar of this pack have failed to seal?',
};
interface LotAnswer {
  readonly state: string;
  readonly findings: readonly { readonly rule: string; readonly found: string; readonly stop: boolean }[];
}

let at: TestServer;
let headers: { authorization: string };
const lots = new Map<string, LotAnswer>();
let packs = 0;

beforeAll(async () => {
  at = await startServer({}, { requestsPerMinute: 1_000_000 });
  await writeDay(at);
  const made = await addKey(at.book, 'home', { name: 'sheet', role: 'owner' }, at.clock.now);
  if (!('key' in made)) throw new Error('no key');
  headers = { authorization: `Bearer ${made.key}` };
  await send('gatherings', {
    id: 'G900',
    gatheredAt: '2026-03-17T15:00',
    source: 'lower bush',
    volume: '4000 gal',
    sugar: '2.1 Bx',
    by: 'OE',
  });
  await send('boils', boilOf('26077B'));
  const notes = [...questioned.map(([, note]) => note), ...ordinary];
  await imported(notes.map((note) => packOf('26077B', note)));
  for (const [n, note] of notes.entries()) lots.set(note, await lotOf(`26077B-${n + 1}`));
});
afterAll(() => at.close());

const send = async (plural: string, fields: Readonly<Record<string, string>>): Promise<string> => {
  const reply = await at.web.inject({ method: 'POST', url: `/api/${plural}`, payload: fields, headers });
  if (reply.statusCode !== 201) throw new Error(`${plural}: ${reply.body}`);
  return reply.json<{ id: string }>().id;
};
const lotOf = async (code: string): Promise<LotAnswer> =>
  (await at.web.inject({ url: `/api/lots/${code}`, headers })).json<LotAnswer>();
const boilOf = (lot: string, note = ''): Record<string, string> => ({
  lot,
  beganAt: '2026-03-18T07:30',
  gatherings: 'G900:4000 gal',
  defoamer: 'none',
  filterTemp: '190 F',
  syrupVolume: '95 gal',
  by: 'WE',
  note,
});
const newBoil = (note = ''): Promise<string> => {
  const { lot: _lot, gatherings: _sap, ...boil } = boilOf('', note);
  return send('boils', { ...boil, sapVolume: '4000 gal' });
};
const packOf = (boil: string, note: string): Record<string, string> => ({
  lot: `${boil}-${++packs}`,
  from_lots: `${boil}:8 fl oz`,
  packed_at: '2026-03-19T10:00',
  density_reading: '60.8 Bx',
  density_at: '185 F',
  density_by: 'hydrometer',
  container: 'glass jar 8 fl oz',
  container_prep: 'boiled 10 min',
  jars: '1',
  fill_temps: '188 F',
  seals_failed: '0',
  clarity: 'clear',
  off_flavour: 'none',
  by: 'OE',
  note,
});
async function imported(rows: readonly Readonly<Record<string, string>>[]): Promise<void> {
  const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`;
  const file = [Object.keys(rows[0] ?? {}).join(','), ...rows.map((row) => Object.values(row).map(quoted).join(','))];
  const reply = await at.web.inject({
    method: 'POST',
    url: '/api/imports/packs',
    payload: `${file.join('\r\n')}\r\n`,
    headers: { ...headers, 'content-type': 'text/csv' },
  });
  if (reply.statusCode >= 300) throw new Error(reply.body);
}
const stops = ({ findings }: LotAnswer): string[] => findings.flatMap(({ rule, stop }) => (stop ? [rule] : []));

test('there are at least sixty notes of each sort', () => {
  expect(questioned.length).toBeGreaterThanOrEqual(60);
  expect(ordinary.length).toBeGreaterThanOrEqual(60);
});

test.each(questioned)('%s: “%s” is asked about', (subject, note) => {
  const lot = lots.get(note)!;
  const [asked] = lot.findings.filter(({ stop }) => stop);
  expect(lot.state).toBe('held');
  // Of some smells the question about spoilage is asked, of “added …” the product is judged at once.
  if (asked?.rule === 'note-question' || asked?.rule === 'container-question')
    expect(asked.found).toContain(asks[subject]);
  else
    expect([subject, asked?.rule]).toEqual(
      subject === 'off' ? ['off', 'spoilage-question'] : ['added', 'outside-these-rules'],
    );
});

test.each(ordinary)('“%s” is an ordinary note', (note) => {
  const lot = lots.get(note)!;
  expect([lot.state, stops(lot)]).toEqual(['open', []]);
});

/** What holds a pack after “yes”, and the steps that end it; the last is a release where one is needed. */
const confirmed: readonly {
  readonly note: string;
  readonly rule: string;
  readonly act?: Readonly<Record<string, string>>;
  readonly release: Readonly<Record<string, string>>;
}[] = [
  {
    note: 'with vanilla beans',
    rule: 'outside-these-rules',
    release: { authority: 'Vermont Agency of Agriculture', askedAt: '2026-03-20', answer: 'sell it under their rule' },
  },
  {
    note: 'paint flakes from ceiling in pan',
    rule: 'harm-reported',
    release: { authority: 'Vermont Agency of Agriculture', askedAt: '2026-03-20', answer: 'filter it again' },
  },
  { note: 'smells a bit buddy', rule: 'off-flavour', act: { offFlavour: 'none' }, release: {} },
  { note: 'some jars were cold when capped', rule: 'fill-temperature', act: { fillTemps: '188 F' }, release: {} },
  {
    note: 'diluted with a little water',
    rule: 'density-not-read',
    act: { densityReading: '60.8 Bx', densityAt: '185 F', densityBy: 'hydrometer' },
    release: {},
  },
  { note: 'thermometer reads funny', rule: 'instrument-in-doubt', release: {} },
  { note: 'topped up from yesterday’s jar', rule: 'sources-incomplete', release: {} },
  { note: 'two lids didn’t pop', rule: 'seals-failed', act: { sealsOutcome: 'kept cold, used at home' }, release: {} },
];

describe('the answer to such a question', () => {
  /** Each of a boil of its own: an answer judges all packs of a boil. */
  const packed = async (note: string): Promise<string> => {
    const boil = await newBoil();
    const row = packOf(boil, note);
    await imported([row]);
    return row['lot'] ?? '';
  };
  const mark = (lot: string, fields: Readonly<Record<string, string>>) =>
    at.web.inject({ method: 'POST', url: `/api/lots/${lot}/release`, payload: fields, headers });

  test.each(confirmed)('of “$note”: no opens it, yes holds it by $rule until that is settled', async (each) => {
    const lot = await packed(each.note);
    expect(stops(await lotOf(lot))).toEqual(['note-question']);
    expect((await mark(lot, { why: 'surely not' })).statusCode).toBe(409);
    await send('answers', { lot, answer: 'no' });
    expect(await lotOf(lot)).toMatchObject({ state: 'open' });
    const other = await packed(each.note);
    const { found: question } = (await lotOf(other)).findings.find(({ stop }) => stop)!;
    await send('answers', { lot: other, question, answer: 'yes' });
    expect(stops(await lotOf(other))).toEqual([each.rule]);
    if (each.rule !== 'instrument-in-doubt' && each.rule !== 'sources-incomplete')
      expect([409, 422]).toContain((await mark(other, { why: 'surely not' })).statusCode);
    if (each.act)
      await send('actions', {
        lot: other,
        jars: 'all',
        found: 'see the note',
        done: 'again',
        cause: 'other',
        ...each.act,
      });
    const released = await mark(other, { why: 'put right', ...each.release });
    expect([released.statusCode, (await lotOf(other)).state]).toEqual([201, 'released']);
  });

  test('an action before the answer, or one that measures something else, settles nothing', async () => {
    const lot = await packed('some jars were cold when capped');
    const act = { lot, jars: 'all', found: 'see the note', done: 'again', cause: 'other' };
    await send('actions', { ...act, fillTemps: '188 F' });
    await send('answers', { lot, answer: 'yes' });
    await send('actions', { ...act, ...confirmed[4]?.act });
    expect(stops(await lotOf(lot))).toEqual(['fill-temperature']);
  });

  test('a note that says more than the one answered is asked about again', async () => {
    const lot = await packed('thermometer reads funny');
    await send('answers', { lot, answer: 'no' });
    const changed = { entry: lot, why: 'left out', changes: { note: 'thermometer reads funny, last jars lukewarm' } };
    await at.web.inject({ method: 'POST', url: '/api/corrections', payload: changed, headers });
    expect(stops(await lotOf(lot))).toEqual(['note-question']);
  });

  test('each clause with a phrase of its own is a question of its own', async () => {
    const lot = await packed('paint flakes in the pan, dog licked the funnel, forgot to cap four');
    expect((await lotOf(lot)).findings.filter(({ stop }) => stop).map(({ found }) => found)).toEqual([
      expect.stringMatching(/says “paint”, “flakes”: did anything get into the syrup/u),
      expect.stringMatching(/says “dog licked the funnel”: did anything get into the syrup/u),
      expect.stringMatching(/says “forgot to cap four”: were any jars colder/u),
    ]);
    await send('answers', { lot, answer: 'no' });
    expect(await lotOf(lot)).toMatchObject({ state: 'open' });
  });

  test('correcting the note ends the question, and waits for a maker’s release', async () => {
    const lot = await packed('with vanilla beans');
    const changed = { entry: lot, why: 'of another pack', changes: { note: '' } };
    await at.web.inject({ method: 'POST', url: '/api/corrections', payload: changed, headers });
    expect([(await lotOf(lot)).state, stops(await lotOf(lot))]).toEqual(['held', []]);
    expect((await mark(lot, { why: 'the note was of another pack' })).statusCode).toBe(201);
  });
});

describe('the note of a boil', () => {
  test.each([
    ['ginger in the kettle', ['note-question']],
    ['a moth fell in the pan', ['note-question']],
    ['turning buddy', ['note-question']],
    ['thermometer reads funny', []],
    ['diluted the back pan with water', []],
    ['first moths in the sap buckets', []],
    ['squirrel in the sap tank', ['note-question']],
    ['mixed in an old jar from the fridge', ['note-question']],
    ['power cut for an hour', []],
    ['hydrometer was sticky', []],
  ])('“%s” concerns every pack of it: %j', async (note, rules) => {
    const row = packOf(await newBoil(note), '');
    await imported([row]);
    expect(stops(await lotOf(row['lot'] ?? ''))).toEqual(rules);
  });
});
