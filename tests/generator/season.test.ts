import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { importRows } from '#libs/actions/import/import-rows.js';
import { importKinds } from '#libs/actions/kinds/registry.js';
import { loadSeasonContext } from '#libs/actions/season/season-context.js';
import type { Book } from '#libs/store/book.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { readSeason } from '#libs/actions/season/read-season.js';
import { seasonSummary } from '#libs/reports/season/json.js';
import { writeContext, sugarhouse, recordOrThrow } from '../support/sugarhouse.js';
import { postgres, sqlite } from '../support/engines.js';
import type { Invented } from './invented.js';
import { inventSeason } from './invent-season.js';

describe('An invented season, imported from its files', () => {
  const engines = [sqlite(), postgres()];
  beforeAll(async () => void (await Promise.all(engines.map((engine) => engine.start()))));
  afterAll(async () => void (await Promise.all(engines.map((engine) => engine.stop()))));

  test.each([
    [1, 28],
    [2, 12],
    [3, 40],
    [4, 5],
  ])(
    'from seed %i with %i boils has the calculated figures, the same on both engines',
    async (seed, boils) => {
      const invented = inventSeason(seed, boils);
      const summaries = [];
      for (const engine of engines) {
        const book = await engine.freshBook();
        await recordOrThrow(book, 'house', {}, { now: new Date('2026-02-20T12:00:00Z') });
        await importAll(book, invented);
        const season = await book.snapshot(async (sql) =>
          readSeason(
            { sql, sugarhouse },
            invented.year,
            await loadSeasonContext(sql, writeContext({ now: invented.now })),
          ),
        );
        const read = season.lots.map((lot) => ({
          ...pick(lot),
          stops: lot.findings
            .filter((each) => each.stop)
            .map((each) => each.rule)
            .sort(),
          shortRest: lot.findings.some((each) => each.rule === 'short-rest'),
        }));
        expect(read.map((lot) => lot.lot)).toEqual(invented.lots.map((lot) => lot.lot));
        for (const [n, { brixWithin, ...expected }] of invented.lots.entries()) {
          const brix = brixWithin > 0 ? read[n]?.brix : expected.brix;
          expect(read[n]).toEqual({ ...expected, brix });
          expect(Math.abs((brix ?? 0) - (expected.brix ?? 0))).toBeLessThanOrEqual(brixWithin + 1e-9);
        }
        const summary = seasonSummary(season);
        expect(summary.totals).toMatchObject(invented.totals);
        for (const lot of season.lots)
          expect(lot.jarsOnHand + lot.jarsSentOut + lot.jarsDestroyed + lot.jarsOther + (lot.unaccounted ?? 0)).toBe(
            lot.jarsMade,
          );
        expect(await verifyBook(book)).toMatchObject({ ok: true, root: summary.record.root });
        await importAgain(book, invented, summary.record.entries);
        summaries.push({ ...summary, record: { entries: summary.record.entries } });
        await book.close();
      }
      expect(summaries[1]).toEqual(summaries[0]);
    },
    240_000,
  );
});

test('the invented seasons contain every case of a season', () => {
  const lots = [1, 2, 3, 4, 5, 6].flatMap((seed) => inventSeason(seed, 40).lots);
  const files = [1, 2, 3, 4, 5, 6].flatMap((seed) => inventSeason(seed, 40).files);
  const among = (fits: (lot: (typeof lots)[number]) => boolean): boolean => lots.some(fits);
  expect([...new Set(lots.flatMap((lot) => lot.stops))].sort()).toEqual([
    'cloudy',
    'defoamer-allergens',
    'density-measure-again',
    'density-not-read',
    'density-too-thick',
    'density-too-thin',
    'fill-not-read',
    'fill-temperature',
    'more-in-jars-than-drawn',
    'off-flavour',
    'seals-failed',
  ]);
  expect([...new Set(lots.map((lot) => lot.colour))].sort()).toEqual(['Amber', 'Dark', 'Golden', 'Very Dark', null]);
  expect(among((lot) => lot.lot.includes('X') && lot.boils.length > 1)).toBe(true);
  expect(among((lot) => lot.shortRest)).toBe(true);
  expect(among((lot) => (lot.unaccounted ?? 0) > 0)).toBe(true);
  expect(among((lot) => lot.jarsDestroyed > 0)).toBe(true);
  // A pack poured back: all of its jars count as other.
  expect(among((lot) => lot.jarsOther === lot.jarsMade && lot.stops.join() === 'fill-temperature')).toBe(true);
  expect(among((lot) => lot.lowestFillTyped === '81.9 C')).toBe(true);
  for (const sign of [
    'returned',
    '2026-07-04T09:00',
    '36.3 Be',
    '"he said ""one more hour"", then two"',
    ';gathered_at',
    '\r\n',
  ])
    expect({ sign, found: files.some((file) => file.text.includes(sign)) }).toEqual({ sign, found: true });
});

async function importAll(book: Book, invented: Invented): Promise<void> {
  for (const file of invented.files) {
    const answer = await importFile(book, file, invented.now);
    expect({ kind: file.kind, faults: answer.faults, refusals: answer.refusals }).toEqual({
      kind: file.kind,
      faults: [],
      refusals: [],
    });
    expect(answer).toMatchObject({ rows: file.rows, written: file.rows, same: 0 });
  }
}

/** The same files imported again change nothing, and the answer says so. */
async function importAgain(book: Book, invented: Invented, entries: number): Promise<void> {
  for (const file of invented.files)
    expect(await importFile(book, file, invented.now)).toMatchObject({
      rows: file.rows,
      written: 0,
      same: file.rows,
      faults: [],
    });
  expect(await verifyBook(book)).toMatchObject({ ok: true, entries });
}

const importFile = (book: Book, file: Invented['files'][number], now: Date) =>
  importRows(
    book,
    writeContext({ now }),
    importKinds.find((kind) => kind.plural === file.kind)!,
    Buffer.from(file.text),
  );

type Line = Awaited<ReturnType<typeof readSeason>>['lots'][number];
const pick = ({
  lot,
  boils,
  packedAt,
  container,
  jarsMade,
  jarsOnHand,
  jarsSentOut,
  jarsDestroyed,
  jarsOther,
  unaccounted,
  lowestFillTyped,
  brix,
  colour,
  status,
}: Line) => ({
  lot,
  boils: [...boils].sort(),
  packedAt,
  container,
  jarsMade,
  jarsOnHand,
  jarsSentOut,
  jarsDestroyed,
  jarsOther,
  unaccounted,
  lowestFillTyped,
  brix,
  colour,
  status,
});
