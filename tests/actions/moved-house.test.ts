import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { houses } from '#libs/actions/kinds/house.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { correctEntry } from '#libs/actions/record/correct-entry.js';
import { record } from '#libs/actions/record/record.js';
import { undoEntry } from '#libs/actions/record/undo-entry.js';
import type { Book } from '#libs/store/book.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { engines } from '../support/engines.js';
import { writeContext, done, recordOrThrow, startSeason, sugarhouse } from '../support/sugarhouse.js';

/** In Quebec a bare gallon could be either, and is refused; Vancouver's clock is three hours behind Vermont's. */
const moved = { place: 'Quebec', zone: 'America/Vancouver', volumes: 'L' };

describe.each(engines())('A house that changes its place and its time zone, on $name', (engine) => {
  let book: Book;
  beforeAll(async () => {
    await engine.start();
    book = await engine
      .copiesOf(async (fresh) => {
        await startSeason(fresh);
        await recordOrThrow(fresh, 'pack', { jars: '24', fillTemps: '186 F@10:10', fromLots: '26077A:2 gal' });
      })
      .then((copy) => copy());
    const house = await findRecord(sugarhouseReader(book.read, sugarhouse), 'house', 'house');
    done(await record(book, writeContext(), houses, { ...house?.typed, ...moved }, { of: 'house', why: 'moved' }));
  });
  afterAll(() => engine.stop());

  const pack = async () => {
    const found = await findRecord(sugarhouseReader(book.read, sugarhouse), 'pack', '26077A-1');
    if (!found) throw new Error('no pack');
    return found;
  };

  test('keeps the gallons and the times of a record that is added to, corrected or undone', async () => {
    const before = (await pack()).body;
    const add = { fillTemps: '187 F@10:20' };
    const added = done(await record(book, writeContext(), kindByName.get('pack')!, add, { add: true, of: '26077A-1' }));
    expect((await pack()).body).toEqual({ ...before, fillTemps: [...before.fillTemps, expect.anything()] });
    done(await correctEntry(book, writeContext(), '26077A-1', 'a slip', { note: 'by the window' }));
    expect((await pack()).body).toMatchObject({ fromLots: before.fromLots, packedAt: before.packedAt });
    const corrected = (await pack()).lastSeq;
    expect(corrected).toBeGreaterThan(added.entry);
    expect(await undoEntry(book, writeContext(), corrected)).toMatchObject({ voided: false });
    expect((await pack()).body).toEqual({ ...before, fillTemps: [...before.fillTemps, expect.anything()] });
  });

  test('parses newly typed values by its new place', async () => {
    const gallons = await correctEntry(book, writeContext(), '26077A-1', 'measured again', {
      fromLots: '26077A:2.5 gal',
    });
    expect(gallons).toMatchObject({ problem: { kind: 'invalid', faults: [{ field: 'fromLots' }] } });
  });

  test('refuses to add a lot that the record already lists', async () => {
    const twice = { fromLots: '26077A:1 L' };
    const refused = await record(book, writeContext(), kindByName.get('pack')!, twice, { add: true, of: '26077A-1' });
    expect(refused).toMatchObject({ problem: { faults: [{ field: 'fromLots', got: '"26077A" twice' }] } });
  });
});
