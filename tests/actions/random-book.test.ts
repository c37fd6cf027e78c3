import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { loadSugarhouseContext } from '#libs/actions/record/write-context.js';
import { judgeLots } from '#libs/actions/judging/judge-lots.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { record } from '#libs/actions/record/record.js';
import { loadSyrupShares } from '#libs/actions/facts/syrup-shares.js';
import { traceLot } from '#libs/actions/lots/trace-lot.js';
import { balancesOf } from '#libs/store/queries/jar-balance.js';
import type { Book } from '#libs/store/book.js';
import { jarsOfPack, lotsOf, recordsOf } from '#libs/store/queries/lots.js';
import { syrupBalance } from '#libs/store/queries/syrup-balance.js';
import { flowsInto, flowsOutOf, lotsDownstream, lotsUpstream, syrupSources } from '#libs/store/queries/trace.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { engines } from '../support/engines.js';
import { writeContext, sugarhouse, write, recordOrThrow } from '../support/sugarhouse.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** What a family might do next; the numbers choose the lot, the amount and the kind. Some of it will be refused. */
const step = fc.record({
  what: fc.constantFrom(
    'boil',
    'carried',
    'pack',
    'blend',
    'pour back',
    'send',
    'count',
    'use up',
    'check',
    'measure',
    'correct',
  ),
  pick: fc.nat(),
  other: fc.nat(),
  much: fc.integer({ min: 1, max: 12 }),
});
type EntryType = typeof step extends fc.Arbitrary<infer T> ? T : never;

describe.each(engines())('Whatever is done in a book on $name', (engine) => {
  let begun: () => Promise<Book>;
  beforeAll(async () => {
    await engine.start();
    begun = await engine.copiesOf((book) => recordOrThrow(book, 'gathering'));
  });
  afterAll(() => engine.stop());

  test('its traces agree in both directions, nothing goes into itself, jars and shares add up, and every verdict is what today’s judging gives', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 4, maxLength: 14 }), async (steps) => {
        const book = await begun();
        for (const each of steps) await doIt(book, each);
        await tracesAgree(book);
        await jarsAddUp(book);
        await syrupAddsUp(book);
        await sharesAddUp(book);
        await verdictsStand(book);
        expect(await verifyBook(book)).toMatchObject({ ok: true });
        await book.close();
      }),
      { numRuns: engine.name === 'SQLite' ? 20 : 8, seed: 20260318 },
    );
  });
});

async function doIt(book: Book, { what, pick, other, much }: EntryType): Promise<void> {
  const boils = (await lotsOf(sugarhouseReader(book.read, sugarhouse), 'boil')).map((lot) => lot.code);
  const packs = (await lotsOf(sugarhouseReader(book.read, sugarhouse), 'pack')).map((lot) => lot.code);
  const one = (from: string[], at: number): string => from[at % from.length] ?? '26001A';
  const quarts = `${much} qt`;
  const base = { jars: String(much), fillTemps: much > 10 ? '170 F' : much > 6 ? '181 F#T1' : '186 F' };
  switch (what) {
    case 'boil':
      return void (await write(book, 'boil', { gatherings: 'G001:10 gal' }));
    case 'carried':
      return void (await write(book, 'boil', { gatherings: '', carriedFrom: `${one(boils, pick)}:1 qt` }));
    case 'pack':
      return void (await write(book, 'pack', { ...base, fromLots: `${one(boils, pick)}:${quarts}` }));
    case 'blend':
      return void (await write(book, 'pack', {
        ...base,
        fromLots: [`${one(boils, pick)}:${quarts}`, `${one(boils, other)}:1 qt`],
      }));
    case 'pour back':
      return void (await write(book, 'pack', {
        ...base,
        fromLots: [`${one(packs, pick)}:${much * 8} fl oz`, `${one(boils, other)}:1 qt`],
      }));
    case 'send': {
      const kind = (['sale', 'gift', 'sample', 'kept', 'retained', 'broken', 'destroyed', 'returned'] as const)[
        other % 8
      ]!;
      return void (await write(book, 'dispatch', { lot: one(packs, pick), jars: String(much), kind }));
    }
    case 'count':
      return void (await write(book, 'count', { id: `C${pick}-${other}`, lot: one(packs, pick), jars: String(much) }));
    case 'use up':
      return void (await write(book, 'spent', {
        lot: one([...boils, 'G001'], pick),
        volume: other % 3 === 0 ? '' : quarts,
        how: (['house', 'thrown-out', 'spilt', 'shrink'] as const)[other % 4]!,
      }));
    case 'check':
      return void (await record(book, writeContext(), kindByName.get('check')!, {
        instrument: 'T1',
        how: 'ice',
        should: '32 F',
        reads: `${30 + (other % 7)} F`,
        at: `2026-03-${15 + (pick % 10)}T08:00`,
      }));
    case 'measure':
      return void (await write(
        book,
        'boil',
        { lot: one(boils, pick), gatherings: 'G001:10 gal', syrupVolume: `${much} gal` },
        {},
        { why: 'measured again' },
      ));
    case 'correct':
      // Also attempts to pour a pack back into its own source.
      return void (await write(
        book,
        'pack',
        { ...base, lot: one(packs, pick), fromLots: `${one([...packs, ...boils], other)}:1 qt` },
        {},
        { why: 'on second thoughts' },
      ));
  }
}

/** The shares that each lot gave to a pack, through packs poured back, add up to all that was drawn for it. */
async function sharesAddUp(book: Book): Promise<void> {
  for (const pack of await lotsOf(sugarhouseReader(book.read, sugarhouse), 'pack')) {
    const shares = await loadSyrupShares(sugarhouseReader(book.read, sugarhouse), pack);
    const drawn = (await flowsInto(sugarhouseReader(book.read, sugarhouse), pack.code)).reduce(
      (sum, flow) => sum + flow.millilitres,
      0,
    );
    expect(shares.reduce((sum, share) => sum + share.millilitres, 0)).toBeCloseTo(drawn, 6);
    expect(shares.reduce((sum, share) => sum + share.part, 0)).toBeCloseTo(drawn > 0 ? 1 : 0, 9);
    const sources = (await syrupSources(sugarhouseReader(book.read, sugarhouse), pack.code)).map((each) => each.code);
    expect(shares.map((share) => share.lot).sort()).toEqual(sources.sort());
  }
}

/** Judged once more, every lot has the verdict that its page shows. */
async function verdictsStand(book: Book): Promise<void> {
  const houseContext = await loadSugarhouseContext(book.read, writeContext());
  const lots = [
    ...(await lotsOf(sugarhouseReader(book.read, sugarhouse), 'boil')),
    ...(await lotsOf(sugarhouseReader(book.read, sugarhouse), 'pack')),
  ];
  const rejudged = await judgeLots(
    { sql: book.read, sugarhouse, houseContext, at: '2026-05-01T18:00:00-04:00' },
    lots.map((lot) => lot.code),
  );
  for (const { lot, state, verdict } of rejudged) {
    const saved = lots.find((each) => each.code === lot);
    // As stored: what a release would accept of a finding is no part of the verdict that is saved.
    const findings = verdict && (JSON.parse(JSON.stringify(verdict.findings)) as unknown);
    expect([lot, saved?.state, saved?.verdict?.findings]).toEqual([lot, state, findings]);
  }
}

async function tracesAgree(book: Book): Promise<void> {
  const lots = (
    await Promise.all(
      (['gathering', 'boil', 'pack'] as const).map((kind) => lotsOf(sugarhouseReader(book.read, sugarhouse), kind)),
    )
  ).flat();
  const up = new Map<string, string[]>();
  for (const { code } of lots)
    up.set(
      code,
      (await lotsUpstream(sugarhouseReader(book.read, sugarhouse), code)).map((lot) => lot.code),
    );
  for (const { code } of lots) {
    const down = (await lotsDownstream(sugarhouseReader(book.read, sugarhouse), code)).map((lot) => lot.code).sort();
    expect(down).toEqual(
      [...up]
        .filter(([, above]) => above.includes(code))
        .map(([below]) => below)
        .sort(),
    );
    // A source of a lot must not also be made from it.
    for (const above of up.get(code) ?? []) if (above !== code) expect(up.get(above)).not.toContain(code);
    for (const flow of await flowsInto(sugarhouseReader(book.read, sugarhouse), code))
      expect(await flowsOutOf(sugarhouseReader(book.read, sugarhouse), flow.from)).toContainEqual(flow);
  }
}

/** Everything that left a boil or its sap is in some lot, and nothing was used that wasn't there. */
async function syrupAddsUp(book: Book): Promise<void> {
  const used = (await recordsOf(sugarhouseReader(book.read, sugarhouse), 'spent')).map((each) => each.body);
  for (const kind of ['gathering', 'boil'] as const)
    for (const lot of await lotsOf(sugarhouseReader(book.read, sugarhouse), kind)) {
      const { there, left, inJars, spent, lost } = await syrupBalance(sugarhouseReader(book.read, sugarhouse), lot);
      expect(left + inJars + spent + lost).toBeCloseTo(there, 6);
      const ofIt = used.filter((each) => each.lot === lot.code && each.how !== 'shrink');
      expect(spent).toBeCloseTo(
        ofIt.reduce((sum, each) => sum + each.millilitres, 0),
        6,
      );
    }
}

async function jarsAddUp(book: Book): Promise<void> {
  const packs = await lotsOf(sugarhouseReader(book.read, sugarhouse), 'pack');
  const balances = await balancesOf(
    sugarhouseReader(book.read, sugarhouse),
    packs.map((pack) => pack.code),
    writeContext().now.toISOString(),
  );
  const all = new Set<string>();
  let provided = 0;
  for (const pack of packs) {
    const { made, onHand, sentOut, destroyed, other, unaccounted } = balances.get(pack.code)!;
    expect(made).toBe(pack.jars);
    expect(onHand + sentOut + destroyed + other + (unaccounted ?? 0)).toBe(made);
    for await (const jar of jarsOfPack(sugarhouseReader(book.read, sugarhouse), pack.code)) {
      all.add(jar.code);
      provided++;
    }
    const trace = await traceLot(sugarhouseReader(book.read, sugarhouse), pack.code, writeContext().now);
    expect(trace).toMatchObject({ kind: 'pack', jars: { made, onHand, sentOut, destroyed, other, unaccounted } });
  }
  expect(all.size).toBe(provided);
}
