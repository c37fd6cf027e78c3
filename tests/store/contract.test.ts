import { afterAll, beforeAll, beforeEach, describe, expect, test } from '@jest/globals';
import type { Book } from '#libs/store/book.js';
import { rowsInList } from '#libs/store/connection/in-list.js';
import { findEntry, historyOf, readHead } from '#libs/store/log/log.js';
import { findJar, findLot, findRecord, jarsOfPack, lotsOf } from '#libs/store/queries/lots.js';
import { flowsInto, lotsDownstream, lotsUpstream } from '#libs/store/queries/trace.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { mod37Check } from '#libs/syrup/codes/jar-codes.js';
import { startSeason, problemOf, sugarhouse, write, recordOrThrow } from '../support/sugarhouse.js';
import { engines } from '../support/engines.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

describe.each(engines())('A book on $name', (engine) => {
  let book: Book;
  beforeAll(() => engine.start());
  afterAll(() => engine.stop());
  beforeEach(async () => {
    book = await engine.freshBook();
  });
  const codesOf = async (pack: string): Promise<string[]> => {
    const codes: string[] = [];
    for await (const jar of jarsOfPack(sugarhouseReader(book.read, sugarhouse), pack)) codes.push(jar.code);
    return codes;
  };

  test('that is new has no entries and the root of an empty log', async () => {
    expect(await readHead(book.read)).toEqual({
      entries: 0,
      root: 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855', // SHA-256 of nothing, FIPS 180-4
    });
    expect(await verifyBook(book)).toMatchObject({ ok: true, entries: 0 });
  });

  test('answers each of many concurrent statements with its own rows, also when some fail', async () => {
    await startSeason(book);
    const { read } = book;
    const odd = ['a "quoted" one', 'back\\slash', '{a,b}', 'Ωλ', ''];
    const ask = (n: number): Promise<unknown> => {
      if (n % 5 === 0) return read.row`SELECT code FROM nowhere WHERE code = ${n}`;
      if (n % 5 === 1)
        return read.row`SELECT COUNT(*) AS n, ${String(n)} AS own FROM lot WHERE sugarhouse = ${sugarhouse}`;
      if (n % 5 === 2) return findLot(sugarhouseReader(read, sugarhouse), odd[n % odd.length]!);
      if (n % 5 === 3) return read.row`SELECT CAST(${n} AS INTEGER) AS n, CAST(${null} AS TEXT) AS blank`;
      return rowsInList(read, 'SELECT kind FROM lot WHERE sugarhouse = ? AND code IN (LIST)', [sugarhouse], odd);
    };
    const lots = (await read.row<{ n: number }>`SELECT COUNT(*) AS n FROM lot WHERE sugarhouse = ${sugarhouse}`)?.n;
    for (let round = 0; round < 2; round++) {
      const answers = await Promise.allSettled(Array.from({ length: 100 }, (_, n) => ask(n)));
      for (const [n, answer] of answers.entries()) {
        const expected = [undefined, { n: lots, own: String(n) }, undefined, { n, blank: null }, []][n % 5];
        if (n % 5 === 0) expect(answer.status).toBe('rejected');
        else expect(answer).toEqual({ status: 'fulfilled', value: expected });
      }
    }
  });

  test('keeps nothing of a write that returns a problem or throws', async () => {
    await startSeason(book);
    const before = await readHead(book.read);
    const refused = await book.write(async (page) => {
      await page.sql.run`UPDATE lot SET state = 'recalled' WHERE sugarhouse = ${sugarhouse}`;
      return { problem: 'no' };
    });
    expect(refused).toEqual({ problem: 'no' });
    const thrown = book.write(async (page) => {
      await page.sql.run`DELETE FROM jar`;
      throw new Error('the bench fell over');
    });
    await expect(thrown).rejects.toThrow('the bench fell over');
    expect(await readHead(book.read)).toEqual(before);
    expect(await verifyBook(book)).toMatchObject({ ok: true });
    // The writer still works after both.
    expect(await recordOrThrow(book, 'count')).toMatchObject({ outcome: 'new' });
  });

  test('makes one entry of the same key and content; other content is refused and the first is shown', async () => {
    const first = await recordOrThrow(book, 'gathering', {}, { key: 'tap-1' });
    const again = await recordOrThrow(book, 'gathering', {}, { key: 'tap-1' });
    expect(again).toMatchObject({ entry: first.entry, outcome: 'again' });
    const other = await write(book, 'gathering', { id: 'G002' }, { key: 'tap-1' });
    expect(other).toMatchObject({ problem: { kind: 'key-used', entry: first.entry, by: 'WE' } });
    // Keys of different authors are separate.
    expect(await recordOrThrow(book, 'gathering', { id: 'G002' }, { key: 'tap-1', author: 'OE' })).toMatchObject({
      outcome: 'new',
    });
    expect((await readHead(book.read)).entries).toBe(2);
  });

  test('makes one entry each of a hundred concurrent double taps', async () => {
    const taps = Array.from({ length: 100 }, (_, n) => ({ id: `G${100 + (n % 50)}` }));
    const answers = await Promise.all(taps.map((tap) => recordOrThrow(book, 'gathering', tap, { key: tap.id })));
    expect(answers.filter((each) => each.outcome === 'new')).toHaveLength(50);
    expect(answers.filter((each) => each.outcome === 'again')).toHaveLength(50);
    expect((await readHead(book.read)).entries).toBe(50);
  });

  test('keeps the old entry beside its correction', async () => {
    await startSeason(book);
    const why = 'read the wrong line of the stick';
    const corrected = await recordOrThrow(book, 'gathering', { volume: '118 gal' }, {}, { why });
    expect(corrected).toMatchObject({ outcome: 'corrected', entry: 5 });
    const [old, now] = await historyOf(sugarhouseReader(book.read, sugarhouse), 'G001');
    expect(old?.record?.typed['volume']).toBe('120 gal');
    expect(now).toMatchObject({ entryType: 'correct', corrects: old?.seq, why });
    expect((await findLot(sugarhouseReader(book.read, sugarhouse), 'G001'))?.millilitres).toBeCloseTo(
      118 * 3785.411784,
      6,
    );
    // The very same correction again changes nothing.
    expect(await recordOrThrow(book, 'gathering', { volume: '118 gal' }, {}, { why })).toMatchObject({
      outcome: 'same',
      entry: 5,
    });
  });

  test('refuses the same id with different content, and shows both', async () => {
    await recordOrThrow(book, 'gathering');
    const { kind, text } = problemOf(await write(book, 'gathering', { volume: '118 gal' }));
    expect(kind).toBe('invalid');
    expect(text).toContain('"120 gal"');
    expect(text).toContain('"118 gal"');
  });

  test('accepts added fill temperatures and later seals without losing anything earlier', async () => {
    await startSeason(book);
    await recordOrThrow(
      book,
      'pack',
      { lot: '26077A-1', fillTemps: ['184 F@10:40'] },
      {},
      { add: true, of: '26077A-1' },
    );
    const saved = await findRecord(sugarhouseReader(book.read, sugarhouse), 'pack', '26077A-1');
    expect(saved?.body.fillTemps.map((each) => each.typed)).toEqual(['188 F', '186 F', '185 F', '184 F@10:40']);
    expect((await findEntry(book.read, 5))?.entryType).toBe('add');
    expect((await findLot(sugarhouseReader(book.read, sugarhouse), '26077A-1'))?.verdict?.lowestFill?.typed).toBe(
      '184 F',
    );
  });

  test('refuses additions that would overwrite a value: that needs a correction with a reason', async () => {
    await startSeason(book);
    const over = await write(book, 'pack', { jars: '50', note: 'warm day' }, {}, { add: true, of: '26077A-1' });
    expect(over).toMatchObject({ problem: { kind: 'invalid', faults: [{ field: 'jars' }] } });
    expect(problemOf(over).text).toMatch(/"48".*"50"/);
    expect((await readHead(book.read)).entries).toBe(4);
    expect(
      await recordOrThrow(book, 'pack', { jars: '48', note: 'warm day' }, {}, { add: true, of: '26077A-1' }),
    ).toMatchObject({
      outcome: 'added',
    });
  });

  test('refuses an addition to an unknown record, and creates none', async () => {
    expect(await write(book, 'pack', { sealsFailed: '1' }, {}, { add: true, of: '26077A-9' })).toMatchObject({
      problem: { kind: 'unknown', code: '26077A-9' },
    });
    expect((await readHead(book.read)).entries).toBe(0);
  });

  test('shows the second of two people at one lot the first’s entry, to be confirmed', async () => {
    await startSeason(book);
    const seen = (await findLot(sugarhouseReader(book.read, sugarhouse), '26077A-1'))?.lastSeq;
    await recordOrThrow(book, 'pack', { note: 'first' }, { by: 'OE' }, { of: '26077A-1', add: true });
    const second = await write(
      book,
      'pack',
      { clarity: 'hazy' },
      { by: 'JP', seen: seen ?? 0 },
      { add: true, of: '26077A-1' },
    );
    expect(second).toMatchObject({ problem: { kind: 'changed-since', lot: '26077A-1', entry: 5, by: 'OE' } });
    expect((await readHead(book.read)).entries).toBe(5);
  });

  test('gives each jar a valid code of its own, which stays when jars are added or removed', async () => {
    await startSeason(book);
    const first = await codesOf('26077A-1');
    expect(new Set(first).size).toBe(48);
    for (const code of first) expect(mod37Check(code.slice(0, 7))).toBe(code[7]);
    expect(await findJar(book.read, first[10] ?? '')).toMatchObject({ pack: '26077A-1', n: 11 });
    await recordOrThrow(book, 'pack', { lot: '26077A-1', jars: '50' }, {}, { why: 'two stood on the sill' });
    expect((await codesOf('26077A-1')).slice(0, 48)).toEqual(first);
    expect(await codesOf('26077A-1')).toHaveLength(50);
    await recordOrThrow(book, 'pack', { lot: '26077A-1', jars: '47' }, {}, { why: 'counted again' });
    expect((await codesOf('26077A-1')).slice(0, 48)).toEqual(first);
    await recordOrThrow(book, 'pack', { lot: '26077A-1', jars: '49' }, {}, { why: 'and again' });
    expect((await codesOf('26077A-1')).slice(0, 48)).toEqual(first);
    expect(await verifyBook(book)).toMatchObject({ ok: true });
  });

  test('traces a lot to its sap and to its jars through carry-over, a blend and a pack poured back', async () => {
    await startSeason(book);
    await recordOrThrow(book, 'gathering', { id: 'G002', gatheredAt: '2026-03-19T15:00' });
    await recordOrThrow(book, 'receipt');
    await recordOrThrow(book, 'boil', {
      beganAt: '2026-03-20T07:00',
      finishedAt: '2026-03-20T20:00',
      gatherings: 'G002',
      carriedFrom: '26077A:1 gal',
    });
    await recordOrThrow(book, 'pack', {
      fromLots: ['26079A:2 gal', 'R001:1 gal', '26077A-1:1 gal'],
      packedAt: '2026-03-22T10:00',
    });
    const up = (await lotsUpstream(sugarhouseReader(book.read, sugarhouse), '26081X-1')).map((lot) => lot.code);
    expect(up).toEqual(['26081X-1', '26077A', '26077A-1', '26079A', 'G001', 'G002', 'R001']);
    const down = (await lotsDownstream(sugarhouseReader(book.read, sugarhouse), 'G001')).map((lot) => lot.code);
    expect(down).toEqual(['G001', '26077A', '26077A-1', '26079A', '26081X-1']);
    expect(await flowsInto(sugarhouseReader(book.read, sugarhouse), '26081X-1')).toMatchObject([
      { from: '26079A', kind: 'syrup', typed: '2 gal' },
      { from: '26077A-1', kind: 'syrup' },
      { from: 'R001', kind: 'syrup' },
    ]);
    expect((await lotsOf(sugarhouseReader(book.read, sugarhouse), 'boil', 2026)).map((lot) => lot.code)).toEqual([
      '26079A',
      '26077A',
    ]);
  });

  test('numbers a day’s boils and a boil’s runs in order', async () => {
    await recordOrThrow(book, 'gathering');
    const boil = { gatherings: '', finishedAt: '' };
    expect((await recordOrThrow(book, 'boil', boil)).id).toBe('26077A');
    expect((await recordOrThrow(book, 'boil', boil)).id).toBe('26077B');
    expect((await recordOrThrow(book, 'pack', { fromLots: '26077A:1 gal' })).id).toBe('26077A-1');
    expect((await recordOrThrow(book, 'pack', { fromLots: '26077A:1 gal' })).id).toBe('26077A-2');
    expect((await recordOrThrow(book, 'pack', { fromLots: ['26077A:1 qt', '26077B:1 qt'] })).id).toBe('26078X-1');
  });
});
