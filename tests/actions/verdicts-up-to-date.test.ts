import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { kindByName, kindOfRecord } from '#libs/actions/kinds/registry.js';
import { loadJudgingContext } from '#libs/actions/judging/judge-now.js';
import { judgeLots } from '#libs/actions/judging/judge-lots.js';
import type { Kind } from '#libs/actions/record/kind.js';
import { record, recordInTransaction } from '#libs/actions/record/record.js';
import { isVoidable, voidRecordInTransaction } from '#libs/actions/record/void-record.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import type { Book } from '#libs/store/book.js';
import type { Sql } from '#libs/store/connection/sql.js';
import type { WriteTransaction } from '#libs/store/connection/write-transaction.js';
import { findLot, type Lot, lotsOf, recordsOf } from '#libs/store/queries/lots.js';
import type { Finding } from '#libs/syrup/rules/verdict.js';
import { engines } from '../support/engines.js';
import { done, recordOrThrow, startSeason, sugarhouse, writeContext } from '../support/sugarhouse.js';

/** Values to which each field is corrected: most of them break a rule, in the record itself or in what came of it. */
const corrections: Partial<Record<RecordKind, Readonly<Record<string, readonly string[]>>>> = {
  gathering: { volume: ['1 gal'], sugar: ['0.1 Bx', '20 Bx'], looks: ['smells off'] },
  receipt: { volume: ['1 qt'], density: ['60 Bx'], allergens: ['milk', ''] },
  boil: {
    gatherings: ['G001:1 gal', 'G002:1 gal'],
    defoamer: ['butter', ''],
    defoamerAllergens: ['milk', ''],
    syrupVolume: ['1 qt', '100 gal'],
    filterTemp: ['150 F'],
    restedUntil: ['2026-03-25T10:00'],
  },
  line: { temperature: ['150 F'], lot: ['26077A'] },
  draw: { volume: ['10 gal'], boil: ['26077A'] },
  pack: {
    product: ['infused', 'other', ''],
    brokenGlass: ['1', '14'],
    offFlavour: ['sour'],
    mould: ['yes', 'not-known'],
    fillTemps: ['170 F', ''],
    densityReading: ['60 Bx', ''],
    hotPackTemp: ['150 F', ''],
    sealsFailed: ['1', '16', ''],
    fromLots: ['R001:1 qt', '26079A:1 pt'],
    jars: ['1', '40'],
    container: ['plastic jug 8 fl oz'],
    packedAt: ['2026-03-20T11:00', '2026-03-27T11:00'],
    clarity: ['cloudy'],
    note: ['steeped with ginger'],
  },
  dispatch: { jars: ['16'], kind: ['destroyed', 'returned'], sentAt: ['2026-03-27T09:00'] },
  spent: { volume: ['1 qt'], how: ['other'] },
  labels: { allergens: ['milk', ''], quantity: ['16 fl oz'], what: ['spoiled'], lot: ['26077A-2'] },
  complaint: { mould: ['yes'], said: ['it made us ill'], lot: ['26079A', '26077A-3'] },
  house: { gapsHold: ['yes'], checkEvery: ['2'], place: ['Quebec', 'Ontario'] },
  instrument: { what: ['hydrometer', 'thermometer'] },
  check: {
    reads: ['20 F', '45 F'],
    fit: ['no'],
    instrument: ['T2', 'H1'],
    at: ['2026-04-14T09:00', '2027-01-05T09:00'],
  },
  equipment: { material: ['galvanised', 'copper'] },
  cleaning: { with: ['scented bleach'], wasRinsed: ['no'], at: ['2026-03-21T07:00'] },
  filter: { washed: ['scented soap'] },
  'water-test': { result: ['E. coli found'], at: ['2026-04-01T09:00'] },
  'lead-test': { lead: ['9000 ppb'], at: ['2026-04-01T09:00'] },
};

const lots = ['26077A-1', '26077A-3', '26077A', '26079A', 'R001'];
const times = ['2026-03-10T09:00', '2026-03-18T06:00', '2026-04-01T09:00'];
/** New records of what may hold a lot; complaints are dated before jars of the lot were sold and recorded after. */
const additions: readonly (readonly [RecordKind, Readonly<Record<string, string>>])[] = [
  ...lots.flatMap((lot): [RecordKind, Record<string, string>][] => [
    ['complaint', { lot, said: 'odd', mould: 'yes', at: '2026-04-09T09:00' }],
    ['complaint', { lot, said: 'it tasted sour', at: '2026-04-09T09:00' }],
    ['action', { lot, found: 'glass broke over open jars', done: 'looked' }],
    ['action', { lot, found: 'cold jars', done: 'read again', fillTemps: '170 F' }],
    ['action', { lot, found: 'butter', done: 'asked', defoamerAllergens: 'milk' }],
    ['labels', { lot, what: 'printed', from: '1', to: '2', allergens: '', quantity: '16 fl oz' }],
    ['dispatch', { lot, jars: '1', sentAt: '2026-04-28T09:00', to: 'Millrace Green', kind: 'returned' }],
    ['dispatch', { lot, jars: '1', sentAt: '2026-04-28T09:00', to: 'the cellar floor', kind: 'destroyed' }],
    ['spent', { lot, how: 'house', volume: '1 pt' }],
  ]),
  ...times.flatMap((at): [RecordKind, Record<string, string>][] => [
    ['check', { at, instrument: 'T1', how: 'ice', should: '32 F', reads: '45 F' }],
    ['check', { at, instrument: 'T2', how: 'ice', should: '32 F', reads: '45 F' }],
    ['check', { at, instrument: 'H1', how: 'reference', fit: 'no' }],
    ['check', { at, instrument: 'R1', how: 'reference', fit: 'no' }],
    ['cleaning', { at, what: 'both pans', with: 'scented bleach', wasRinsed: 'no' }],
    ['water-test', { at, source: 'house well', result: 'E. coli found' }],
    ['lead-test', { at, equipment: 'PAN1', lead: '9000 ppb' }],
    ['lead-test', { at, lot: '26077A-1', lead: '9000 ppb' }],
  ]),
  ['instrument', { id: 'H2', what: 'hydrometer' }],
  ['instrument', { id: 'T3', what: 'hydrometer' }],
  ['line', { lot: '26079A', at: '2026-03-20T15:00', what: 'defoamer', note: 'butter' }],
];

async function put(book: Book, kind: RecordKind, sent: Readonly<Record<string, string>>): Promise<void> {
  done(await record(book, writeContext(), kindByName.get(kind)!, sent));
}

/** A density that passes, by a hydrometer without an id. */
const byHydrometer = { densityReading: '67.4 Bx', densityAt: '60 F', densityBy: 'hydrometer' };

/** The rest of a pack in order, without hot packing: fills by the checked thermometer T1. */
const sound = {
  container: 'glass jar 8 fl oz',
  fillTemps: '188 F#T1 jar 1;186 F#T1 jar 2',
  sealsFailed: '0',
  by: 'OE',
};

/** Two boils of own sap and bought syrup, their packs, packs poured from a pack and from that one, and two jars sold. */
async function seasonOfManyKinds(book: Book): Promise<void> {
  await startSeason(book);
  await put(book, 'equipment', { id: 'PAN1', what: 'finish pan', material: 'stainless' });
  for (const id of ['T1', 'T2']) await put(book, 'instrument', { id, what: 'thermometer' });
  await put(book, 'instrument', { id: 'H1', what: 'hydrometer' });
  await put(book, 'instrument', { id: 'R1', what: 'refractometer' });
  const at = '2026-03-15T08:00';
  await put(book, 'check', { instrument: 'T1', how: 'ice', should: '32 F', reads: '32 F', at });
  await put(book, 'check', { instrument: 'H1', how: 'reference', fit: 'yes', at });
  // Checked, and not recorded as an instrument so far.
  await put(book, 'check', { instrument: 'T3', how: 'reference', fit: 'no', at });
  await put(book, 'filter', { id: 'F1', what: 'wool cone', washed: 'hot water only' });
  await put(book, 'cleaning', { what: 'PAN1', with: 'hot water', at });
  await put(book, 'water-test', { source: 'house well', result: 'no coliform found', at });
  await put(book, 'lead-test', { equipment: 'PAN1', lead: '40 ppb', at });
  await recordOrThrow(book, 'receipt');
  await recordOrThrow(book, 'gathering', { id: 'G002', gatheredAt: '2026-03-19T16:30', volume: '130 gal' });
  await recordOrThrow(book, 'boil', {
    beganAt: '2026-03-20T07:30',
    finishedAt: '2026-03-20T19:00',
    gatherings: 'G002:130 gal',
  });
  await put(book, 'line', { lot: '26079A', at: '2026-03-20T14:05', temperature: '214.5 F' });
  await recordOrThrow(book, 'draw', { id: 'D02', boil: '26079A', drawnAt: '2026-03-20T15:05', volume: '1 qt' });
  const packs: Record<string, string>[] = [
    { fromLots: '26077A:1 gal', jars: '16', fillTemps: '188 F#T1;186 F#T1;185 F#T1' },
    { fromLots: '26079A:1 gal', jars: '16', fillTemps: '188 F;186 F', packedAt: '2026-03-21T10:00', ...byHydrometer },
    { fromLots: '26079A:1 qt;R001:1 qt', jars: '8', packedAt: '2026-03-22T10:00' },
    { fromLots: '26077A-1:1 qt', jars: '4', packedAt: '2026-03-23T10:00' },
    { fromLots: '26077A-1:1 pt', jars: '2', packedAt: '2026-03-24T10:00', hotPackTemp: '' },
    { fromLots: '26077A-3:1 pt', jars: '2', packedAt: '2026-03-25T10:00', hotPackTemp: '' },
  ];
  for (const pack of packs) await recordOrThrow(book, 'pack', pack);
  const labels = { at: '2026-03-26T09:00', stock: 'letter-10-up-102x51', from: '1', what: 'printed' };
  for (const [lot, to] of [
    ['26077A-1', '16'],
    ['26079A-1', '8'],
    ['26077A-2', '4'],
  ] as const)
    await put(book, 'labels', { ...labels, lot, to, allergens: 'none', quantity: '8 fl oz' });
  await recordOrThrow(book, 'dispatch', { id: 'S001', jars: '2' });
  await recordOrThrow(book, 'spent', { lot: 'G002', how: 'spilt', volume: '1 gal' });
  await put(book, 'complaint', { lot: '26077A-1', said: 'delicious', mould: 'no', at: '2026-04-20T09:00' });
}

/** The rules of a lot's stored findings that a failed hydrometer check causes, in it or in a pack poured from it. */
const causedByHydrometer = (lot: Lot | undefined): string[] =>
  (lot?.verdict?.findings ?? [])
    .map(({ rule }) => rule)
    .filter((rule) => rule === 'density-measure-again' || rule === 'poured-from-held');

const findingText = ({ rule, stop, found }: Finding): string => `${stop ? 'hold' : 'advisory'} ${rule}: ${found}`;

/** Lots of the index whose status or findings are not those that judging them now gives. */
async function lotsOutOfDate(sql: Sql, context = writeContext()): Promise<object[]> {
  const reader = sugarhouseReader(sql, sugarhouse);
  const judging = await loadJudgingContext(sql, context);
  const outOfDate: object[] = [];
  for (const lot of [...(await lotsOf(reader, 'boil')), ...(await lotsOf(reader, 'pack'))]) {
    const [judged] = await judgeLots(judging, [lot.code]);
    const inIndex = [lot.state, ...(lot.verdict?.findings ?? []).map(findingText).sort()];
    const now = [judged?.state, ...(judged?.verdict?.findings ?? []).map(findingText).sort()];
    if (JSON.stringify(inIndex) !== JSON.stringify(now)) outOfDate.push({ lot: lot.code, inIndex, now });
  }
  return outOfDate;
}

/** On PostgreSQL one in ten: which lots a record affects does not depend on the engine. */
const share = { SQLite: 1, PostgreSQL: 10 };

describe.each(engines())('on $name', (engine) => {
  let book: Book;
  let turn = 0;
  beforeAll(async () => {
    await engine.start();
    book = await (await engine.copiesOf(seasonOfManyKinds))();
  });
  afterAll(async () => {
    await book.close();
    await engine.stop();
  });

  /** Writes in a transaction that is rolled back; returns whether it was accepted, after comparing all lots in it. */
  async function upToDateAfter(change: string, write: (tx: WriteTransaction) => Promise<object>): Promise<boolean> {
    if (turn++ % share[engine.name] !== 0) return false;
    let outOfDate: object[] | undefined;
    await book.write(async (tx) => {
      const answer = await write(tx);
      if (!('problem' in answer)) outOfDate = await lotsOutOfDate(tx.sql);
      return { problem: 'rolled back' };
    });
    if (outOfDate) expect([change, outOfDate]).toEqual([change, []]);
    return outOfDate !== undefined;
  }

  test('a correction leaves no lot with a status other than its records give it', async () => {
    expect(await lotsOutOfDate(book.read)).toEqual([]);
    const accepted = new Set<RecordKind>();
    for (const [kind, fields] of Object.entries(corrections) as [RecordKind, Record<string, readonly string[]>][])
      for (const saved of await recordsOf(sugarhouseReader(book.read, sugarhouse), kind))
        for (const [field, values] of Object.entries(fields))
          for (const value of values) {
            const definition = kindOfRecord(saved) ?? kindByName.get(kind)!;
            const sent = { ...saved.typed, [field]: value };
            const isAccepted = await upToDateAfter(`${kind} ${saved.id}: ${field} ${value}`, (tx) =>
              recordInTransaction(tx, writeContext(), definition, sent, { of: saved.id, why: 'the wrong line' }),
            );
            if (isAccepted) accepted.add(kind);
          }
    if (engine.name === 'SQLite') expect([...accepted]).toEqual(Object.keys(corrections));
  }, 120_000);

  test('a new record leaves none', async () => {
    const accepted = new Set<RecordKind>();
    for (const [kind, sent] of additions) {
      const isAccepted = await upToDateAfter(`${kind} ${JSON.stringify(sent)}`, (tx) =>
        recordInTransaction(tx, writeContext(), kindByName.get(kind)!, sent),
      );
      if (isAccepted) accepted.add(kind);
    }
    if (engine.name === 'SQLite') expect([...accepted]).toEqual([...new Set(additions.map(([kind]) => kind))]);
  }, 60_000);

  test('a failed hydrometer check leaves none, whatever year and corrected or voided later', async () => {
    const later = writeContext({ now: new Date('2027-02-01T22:00:00Z') });
    const { check, pack: packKind } = Object.fromEntries(kindByName) as Record<RecordKind, Kind>;
    await book.write(async (tx) => {
      const write = async (kind: Kind, sent: Readonly<Record<string, string>>, of?: string): Promise<string> =>
        done(await recordInTransaction(tx, later, kind, sent, of === undefined ? {} : { of, why: 'a slip' })).id;
      const pack = { fromLots: '26079A:1 qt', jars: '4', packedAt: '2026-03-26T10:00', ...sound, ...byHydrometer };
      const read = await write(packKind, pack);
      const poured = await write(packKind, {
        ...{ ...pack, fromLots: `${read}:1 pt`, jars: '2', packedAt: '2026-03-27T10:00' },
        ...{ densityBy: 'refractometer', densityReading: '67.4 Bx', densityAt: '68 F' },
      });
      const expectUpToDate = async (step: string, holds: Readonly<Record<string, readonly string[]>>) => {
        const found = await Promise.all(
          Object.keys(holds).map(async (code) => [
            code,
            causedByHydrometer(await findLot(sugarhouseReader(tx.sql, sugarhouse), code)),
          ]),
        );
        expect([step, Object.fromEntries(found), await lotsOutOfDate(tx.sql, later)]).toEqual([step, holds, []]);
      };
      await expectUpToDate('packed', { [read]: [], [poured]: [] });

      const failed = { instrument: 'H1', how: 'reference', at: '2027-01-05T09:00', fit: 'no' };
      const id = await write(check, failed);
      const held = { [read]: ['density-measure-again'], [poured]: ['poured-from-held'] };
      await expectUpToDate('failed', held);
      await write(check, { ...failed, fit: 'yes' }, id);
      await expectUpToDate('corrected', { [read]: [], [poured]: ['poured-from-held'] });
      await write(check, failed, id);
      await expectUpToDate('corrected back', held);
      done(await voidRecordInTransaction(tx, later, 'check', id, 'another hydrometer'));
      await expectUpToDate('voided', { [read]: [], [poured]: ['poured-from-held'] });
      return { problem: 'rolled back' };
    });
  }, 60_000);

  test('a voided record leaves none', async () => {
    let voided = 0;
    for (const kind of [...kindByName.keys()].filter(isVoidable))
      for (const { id } of await recordsOf(sugarhouseReader(book.read, sugarhouse), kind)) {
        const isAccepted = await upToDateAfter(`void ${kind} ${id}`, (tx) =>
          voidRecordInTransaction(tx, writeContext(), kind, id, 'a slip'),
        );
        if (isAccepted) voided += 1;
      }
    if (engine.name === 'SQLite') expect(voided).toBeGreaterThan(5);
  }, 60_000);
});
