import { afterAll, beforeAll, beforeEach, describe, expect, test } from '@jest/globals';
import { correctEntry } from '#libs/actions/record/correct-entry.js';
import { loadJudgingContext } from '#libs/actions/judging/judge-now.js';
import { findLabelablePack } from '#libs/actions/labels/label-run.js';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { boils } from '#libs/actions/kinds/boil.js';
import { record } from '#libs/actions/record/record.js';
import type { Book } from '#libs/store/book.js';
import { findLot } from '#libs/store/queries/lots.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { engines } from '../support/engines.js';
import { startSeason, writeContext, done, problemOf, sugarhouse, recordOrThrow } from '../support/sugarhouse.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

const boil = '26079A';
const pack = '26079A-1';

describe.each(engines())('Syrup with more sugar than its sap, on $name', (engine) => {
  let book: Book;
  let begun: () => Promise<Book>;
  beforeAll(async () => {
    await engine.start();
    begun = await engine.copiesOf(async (fresh) => {
      await startSeason(fresh);
      await recordOrThrow(fresh, 'gathering', { id: 'G002', gatheredAt: '2026-03-19T16:30', sugar: '2.1 Bx' });
      await recordOrThrow(fresh, 'boil', {
        beganAt: '2026-03-20T07:00',
        finishedAt: '2026-03-20T19:00',
        gatherings: 'G002:120 gal',
        syrupVolume: '90 gal',
      });
      await recordOrThrow(fresh, 'pack', { fromLots: `${boil}:3 gal`, packedAt: '2026-03-21T10:00' });
    });
  });
  afterAll(() => engine.stop());
  beforeEach(async () => {
    book = await begun();
  });
  const state = async (code: string) => (await findLot(sugarhouseReader(book.read, sugarhouse), code))?.state;
  const states = async () => [await state(boil), await state(pack)];
  const holds = async (code: string) =>
    ((await findLot(sugarhouseReader(book.read, sugarhouse), code))?.verdict?.findings ?? []).filter(
      ({ stop }) => stop,
    );
  const correct = async (entry: string, changes: Record<string, string>) =>
    done(await correctEntry(book, writeContext(), entry, 'a slip of the pencil', changes));

  test('holds the boil and its packs until a maker releases the boil with a reason', async () => {
    expect(await states()).toEqual(['held', 'held']);
    expect(await holds(boil)).toMatchObject([
      {
        rule: 'more-sugar-than-came-in',
        found: expect.stringMatching(
          /90 gal of syrup from 120 gal of sap at 2\.1 °Bx.*partly boiled syrup left in the pans/,
        ),
      },
    ]);
    expect(await holds(pack)).toMatchObject([
      { rule: 'held-upstream', found: expect.stringContaining('was held: “More sugar than the sap contained”') },
    ]);
    expect(problemOf(await findLabelablePack(await loadJudgingContext(book.read, writeContext()), pack)).kind).toBe(
      'refused',
    );
    expect(problemOf(await releaseLot(book, writeContext(), pack, 'looks fine')).text).toContain(
      'Release the source lot',
    );
    // A later pack of it is held from the start.
    const { id } = await recordOrThrow(book, 'pack', {
      fromLots: `${boil}:1 qt`,
      jars: '4',
      packedAt: '2026-03-22T10:00',
    });
    expect(await state(id)).toBe('held');

    done(await releaseLot(book, writeContext(), boil, 'thirty gallons of sweet stood in the pans, by the binder'));
    expect([...(await states()), await state(id)]).toEqual(['released', 'released', 'released']);
    expect((await findLot(sugarhouseReader(book.read, sugarhouse), boil))?.verdict?.findings[0]).toMatchObject({
      stop: false,
      accepted: { by: 'WE', why: expect.stringContaining('sweet stood in the pans') },
    });
    // With other figures it is another question.
    await correct(boil, { syrupVolume: '100 gal' });
    expect(await states()).toEqual(['held', 'held']);
    expect(await verifyBook(book)).toMatchObject({ ok: true });
  });

  test('is answered by recording the syrup that was left in the pans', async () => {
    done(await record(book, writeContext(), boils, { carriedFrom: '26077A:1 gal' }, { add: true, of: boil }));
    expect(await states()).toEqual(['open', 'open']);
  });

  test('keeps them held when a correction removes the question, until the boil is released', async () => {
    await correct(boil, { syrupVolume: '3 gal' });
    expect(await holds(boil)).toEqual([]);
    expect(await states()).toEqual(['held', 'held']);
    expect(await holds(pack)).toMatchObject([{ rule: 'held-upstream' }]);
    done(await releaseLot(book, writeContext(), boil, 'ninety was a slip for three'));
    expect(await states()).toEqual(['released', 'released']);
  });

  test('is judged again when the sugar of the sap is corrected, up or down', async () => {
    await correct('G002', { sugar: '60 Bx' });
    expect(await holds(boil)).toEqual([]);
    done(await releaseLot(book, writeContext(), boil, 'bought concentrate'));
    await correct('G002', { sugar: '2.1 Bx' });
    expect(await states()).toEqual(['held', 'held']);
  });

  test('that is merely unusual is an advisory on the boil and holds nothing', async () => {
    await recordOrThrow(book, 'gathering', { id: 'G003', gatheredAt: '2026-03-23T16:30', sugar: '22 Bx' });
    const of = { gatherings: 'G003:120 gal', beganAt: '2026-03-24T07:00' };
    const { id } = await recordOrThrow(book, 'boil', { ...of, finishedAt: '2026-03-25T23:00', syrupVolume: '30 gal' });
    const { id: dry } = await recordOrThrow(book, 'boil', { ...of, gatherings: '', finishedAt: '2026-03-24T19:00' });
    const rules = async (code: string) =>
      (await findLot(sugarhouseReader(book.read, sugarhouse), code))?.verdict?.findings.map(({ rule, stop }) => [
        rule,
        stop,
      ]);
    expect(await rules(id)).toEqual([
      ['boil-hours', false],
      ['sap-very-sweet', false],
    ]);
    const warm = { id: 'G004', gatheredAt: '2026-03-16T16:00', temperature: '80 F' };
    await recordOrThrow(book, 'gathering', warm);
    await recordOrThrow(book, 'gathering', { id: 'G005', gatheredAt: '2026-03-23T16:00', temperature: '36 F' });
    const { id: late } = await recordOrThrow(book, 'boil', {
      ...of,
      gatherings: 'G004;G005',
      finishedAt: '2026-03-24T19:00',
    });
    expect(await rules(late)).toContainEqual(['sap-kept-long', false]);
    const found = (await findLot(sugarhouseReader(book.read, sugarhouse), late))?.verdict?.findings;
    expect(found?.find(({ rule }) => rule === 'sap-kept-long')?.found).toBe(
      `boil ${late} began with G004, at 80 °F, gathered 7 days before`,
    );
    expect(await rules(dry)).toEqual([['no-sap-recorded', false]]);
    expect([await state(id), await state(dry)]).toEqual(['open', 'open']);
  });
});
