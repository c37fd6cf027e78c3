import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { importRows } from '#libs/actions/import/import-rows.js';
import { importKinds } from '#libs/actions/kinds/registry.js';
import type { Book } from '#libs/store/book.js';
import { ruleTitle } from '#libs/syrup/rules/rules.js';
import { writeContext, recordOrThrow } from '../support/sugarhouse.js';
import { sqlite } from '../support/engines.js';
import { documentsOf, plain, type Documents, type Row } from '../support/documented-season.js';
import { overruns } from '../support/read-pdf.js';
import type { ExpectedLot, Invented } from './invented.js';
import { inventSeason } from './invent-season.js';

const engine = sqlite();
beforeAll(() => engine.start());
afterAll(() => engine.stop());

/** Random seasons with their expected figures, written as documents and read back. */
describe.each([
  [11, 4],
  [12, 9],
  [13, 16],
])('the documents of invented season %i, of %i boils', (seed, boils) => {
  const invented = inventSeason(seed, boils);
  let read: Documents;
  beforeAll(async () => {
    const book = await engine.freshBook();
    await recordOrThrow(book, 'house', {}, { now: new Date('2026-02-20T12:00:00Z') });
    await importAll(book, invented);
    read = await documentsOf(book, invented.now);
  }, 240_000);

  test('have a row for every lot that adds up, the same in the PDF, the sheet, CSV and JSON', () => {
    expect(read.csv.map((row) => row['Lot'])).toEqual(invented.lots.map((lot) => lot.lot));
    const sheet = read.sheet('Lots');
    const printed = rowsOnPaper(read, invented.lots);
    for (const [n, lot] of invented.lots.entries()) {
      const { jarsMade, jarsOnHand, jarsSentOut, jarsDestroyed, jarsOther, unaccounted } = lot;
      const parts = [jarsOnHand, jarsSentOut, jarsDestroyed, jarsOther];
      expect(parts.reduce((sum, one) => sum + one, unaccounted ?? 0)).toBe(jarsMade);
      expect(read.json.lots[n]).toMatchObject({
        ...{ lot: lot.lot, jarsMade, jarsOnHand, jarsSentOut, jarsDestroyed, jarsOther, unaccounted },
        ...{ lowestFillTyped: lot.lowestFillTyped, colour: lot.colour },
      });
      const cells = [jarsMade, ...parts].map(String);
      const named = ['Made', 'On hand', 'Sent out', 'Destroyed', 'Kept, samples, broken', 'Unaccounted'].map(
        (name) => `${name} (jars)`,
      );
      for (const row of [read.csv[n], sheet[n]])
        expect(named.map((name) => row?.[name])).toEqual([...cells, String(unaccounted ?? '')]);
      expect(printed.get(lot.lot)).toContain(` ${cells.join(' ')} ${unaccounted ?? 'not counted'} `);
      const status = read.json.lots[n]?.status;
      if (lot.status === 'held') expect({ lot: lot.lot, status }).toEqual({ lot: lot.lot, status: 'held' });
      expect(printed.get(lot.lot)).toContain(status === 'held' ? 'HELD' : status);
      if (lot.lowestFillTyped === null) expect(printed.get(lot.lot)).toContain('not recorded');
      else expect(printed.get(lot.lot)).toContain(lot.lowestFillTyped);
    }
  });

  test('have the same cells in the sheet as in the CSV', () => {
    const sheet = read.sheet('Lots');
    for (const [n, row] of read.csv.entries())
      for (const [heading, cell] of Object.entries(row))
        expect({ heading, cell: sheet[n]?.[heading] }).toEqual({
          heading,
          cell: ['Boiled', 'Packed'].includes(heading) ? cell.slice(0, 16) : cell.replace(/^'/, ''),
        });
  });

  test('have totals on page one that equal the sums of their rows', () => {
    const sum = (of: (lot: ExpectedLot) => number): number => invented.lots.reduce((all, lot) => all + of(lot), 0);
    const counted = invented.lots.filter((lot) => lot.unaccounted !== null);
    const { totals } = read.json;
    expect(totals).toMatchObject({
      ...invented.totals,
      held: read.json.lots.filter((lot) => lot.status === 'held').length,
      jarsOnHand: sum((lot) => lot.jarsOnHand),
      jarsSentOut: sum((lot) => lot.jarsSentOut),
      jarsDestroyed: sum((lot) => lot.jarsDestroyed),
      jarsOther: sum((lot) => lot.jarsOther),
      unaccounted: counted.length === 0 ? null : sum((lot) => lot.unaccounted ?? 0),
      lotsNotCounted: invented.lots.length - counted.length,
    });
    expect(
      totals.jarsOnHand + totals.jarsSentOut + totals.jarsDestroyed + totals.jarsOther + (totals.unaccounted ?? 0),
    ).toBe(totals.jarsMade);
    const formatted = (n: number): string => n.toLocaleString('en-US');
    expect(read.pageOne).toContain(`${formatted(totals.jarsMade)} jars made = ${formatted(totals.jarsOnHand)} on hand`);
    expect(read.pageOne).toContain(`${totals.boils} boils ·`);
    expect(read.pageOne).toContain(`${totals.packs} lots packed · ${totals.held} held now`);
    const inSheet = new Map(read.sheet('Totals').map((row) => [row['Total'], row['Amount']]));
    for (const [name, amount] of Object.entries(totals))
      expect([name, inSheet.get(name)]).toEqual([name, String(amount ?? '')]);
  });

  test('sum the sap of the gatherings, whether or not a boil gives an amount', () => {
    const sap = read.sheet('Boils').map((row) => Number(row['Sap (L)']));
    const gathered = read.sheet('Gatherings').reduce((sum, row) => sum + Number(row['Volume (L)']), 0);
    expect(sap.reduce((sum, one) => sum + one, 0)).toBeCloseTo(gathered, 1);
    expect(read.json.totals.sapGallons).toBeCloseTo(gathered / 3.785411784, 1);
  });

  test('list each broken hold rule once, as open, with what was found, and count it on page one', () => {
    const stopped = (lot: { lot: string; stops: readonly string[] }): string[] =>
      lot.stops.map((rule) => `${lot.lot} ${ruleTitle(rule)}`);
    const invents = invented.lots.flatMap(stopped);
    // No rule holds a lot whose jars were all destroyed; its deviation is open until somebody releases it.
    const judged = read.json.lots.flatMap(({ lot, status, findings }) =>
      stopped({
        lot,
        stops: findings
          .filter(({ stop, accepted, offSale }) => stop || (status === 'held' && (accepted ?? offSale) !== undefined))
          .map((finding) => finding.rule),
      }),
    );
    const ofPacks = (row: Row): boolean => invented.lots.some((lot) => lot.lot === row['Lot']);
    const rows = read.sheet('Deviations').filter((row) => row['Open'] === 'yes' && ofPacks(row));
    const result = rows.map((row) => `${row['Lot']} ${row['Rule']}`);
    expect([...result].sort()).toEqual([...judged].sort());
    expect(result).toEqual(expect.arrayContaining(invents));
    const paper = plain(
      read.pdf.pages
        .slice(1)
        .map((page) => page.text)
        .join(' '),
    );
    for (const row of rows) {
      expect(row['Found']).not.toBe('');
      expect(row['Limit']).not.toBe('');
      expect(paper.replaceAll(' ', '')).toContain(
        `${row['Lot']}${row['Rule']}${row['Found']?.slice(0, 12)}`.replaceAll(' ', ''),
      );
    }
    const { deviations, deviationsOpen } = read.json.totals;
    expect(deviations).toBe(read.sheet('Deviations').length);
    expect(read.pageOne).toContain(`Deviations: ${deviations}, still open: ${deviationsOpen}`);
    for (const lot of invented.lots.filter((one) => one.status === 'held')) expect(read.pageOne).toContain(lot.lot);
  });

  test('stay within the margins, and within six pages up to thirty lots', () => {
    expect(read.pdf.pages.flatMap((page) => overruns(page))).toEqual([]);
    if (invented.lots.length <= 30) expect(read.pdf.pages.length).toBeLessThanOrEqual(6);
  });
});

/** The text of each lot's row: from its code in the first column down to the next code or rule, line by line. */
function rowsOnPaper(read: Documents, lots: readonly ExpectedLot[]): ReadonlyMap<string, string> {
  const end = read.pdf.pages.findIndex((page) => page.text.includes('Deviations and what was done'));
  const codes = new Set(lots.map((lot) => lot.lot));
  const rows = new Map<string, string>();
  for (const { placed } of read.pdf.pages.slice(0, end)) {
    const heads = placed.filter((each) => each.leftPt < 34 && codes.has(each.text.trim()));
    for (const [n, head] of heads.entries()) {
      const floor = heads[n + 1]?.baselinePt ?? head.baselinePt - 30;
      const cells = placed.filter((each) => each.baselinePt <= head.baselinePt + 0.5 && each.baselinePt > floor + 0.5);
      rows.set(head.text.trim(), plain(cells.map((cell) => cell.text).join(' ')));
    }
  }
  return rows;
}

async function importAll(book: Book, invented: Invented): Promise<void> {
  for (const file of invented.files) {
    const kind = importKinds.find((each) => each.plural === file.kind);
    if (!kind) throw new Error(`No kind is called ${file.kind}`);
    const answer = await importRows(book, writeContext({ now: invented.now }), kind, Buffer.from(file.text));
    expect({ faults: answer.faults, refusals: answer.refusals }).toEqual({ faults: [], refusals: [] });
  }
}
