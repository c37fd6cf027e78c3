import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { ruleTitle } from '#libs/syrup/rules/rules.js';
import { importRows } from '#libs/actions/import/import-rows.js';
import { importKinds } from '#libs/actions/kinds/registry.js';
import { inventSeason } from '../generator/invent-season.js';
import { documentsOf, plain, type Documents } from '../support/documented-season.js';
import { sqlite } from '../support/engines.js';
import { writeContext, recordOrThrow } from '../support/sugarhouse.js';

const engine = sqlite();
beforeAll(() => engine.start());
afterAll(() => engine.stop());

const close = (text: string): string => text.replace(/\s+/g, '');
const cell = (value: string | number | null | undefined): string => String(value ?? '');
const unescaped = (text: string | undefined): string => (text ?? '').replace(/^'/, '');
const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const shortDay = (iso: string): string => `${Number(iso.slice(8, 10))} ${months[Number(iso.slice(5, 7)) - 1] ?? ''}`;

describe.each([
  [31, 6],
  [32, 11],
])('the PDF, the sheet, the CSV and the JSON of invented season %i', (seed, boils) => {
  let read: Documents;
  let rows: ReadonlyMap<string, string>;
  beforeAll(async () => {
    const invented = inventSeason(seed, boils);
    const book = await engine.freshBook();
    await recordOrThrow(book, 'house', { phone: '802 555 0100' }, { now: new Date('2026-02-20T12:00:00Z') });
    for (const file of invented.files) {
      const kind = importKinds.find((each) => each.plural === file.kind);
      if (!kind) throw new Error(`No kind is called ${file.kind}`);
      const answer = await importRows(book, writeContext({ now: invented.now }), kind, Buffer.from(file.text));
      expect(answer.faults).toEqual([]);
    }
    read = await documentsOf(book, invented.now);
    rows = rowsOnPaper(read);
  }, 240_000);

  test('have every cell of every lot row', () => {
    const sheet = read.sheet('Lots');
    expect([read.csv.length, sheet.length, rows.size]).toEqual(Array(3).fill(read.json.lots.length));
    for (const [n, lot] of read.json.lots.entries()) {
      const sentOut = lot.sentTo.filter(({ kind }) => kind === 'sale' || kind === 'gift');
      const cells: Readonly<Record<string, string>> = {
        Lot: lot.lot,
        Boils: lot.boils.join('; '),
        Product: lot.product ?? 'not recorded',
        Container: lot.container,
        'Colour class': cell(lot.colour),
        'Syrup (L)': cell(lot.syrupLitres),
        'Made (jars)': cell(lot.jarsMade),
        'On hand (jars)': cell(lot.jarsOnHand),
        'Sent out (jars)': cell(lot.jarsSentOut),
        'Returned, taken off sent out (jars)': cell(lot.jarsReturned),
        'Destroyed (jars)': cell(lot.jarsDestroyed),
        'Kept, samples, broken (jars)': cell(lot.jarsOther),
        'Other, as': lot.otherAs,
        'Unaccounted (jars)': cell(lot.unaccounted),
        'Sent out by place': sentOut
          .map(({ place, jars, kind }) => `${place} ${jars}${kind === 'gift' ? ' (gift)' : ''}`)
          .join('; '),
        'Lowest fill as read': cell(lot.lowestFillTyped),
        'Lowest fill (deg F)': cell(lot.lowestFillF),
        'Lowest fill read with': cell(lot.lowestFillBy),
        'Fill readings replaced': lot.fillsReplaced.join('; '),
        'Density (deg Bx at 20 C)': cell(lot.brix),
        Allergens: lot.allergens,
        'Seals failed (jars)': cell(lot.sealsFailed),
        Status: lot.status,
        Findings: lot.findings.map(({ stop, found }) => `${stop ? 'stop' : 'advice'}: ${found}`).join('; '),
        'Late entries': cell(lot.lateEntries),
        By: lot.by,
      };
      for (const [heading, value] of Object.entries(cells))
        expect({
          lot: lot.lot,
          heading,
          csv: unescaped(read.csv[n]?.[heading]),
          sheet: sheet[n]?.[heading],
        }).toEqual({ lot: lot.lot, heading, csv: value, sheet: value });
      const printed = rows.get(lot.lot) ?? '';
      const counts = [lot.jarsMade, lot.jarsOnHand, lot.jarsSentOut, lot.jarsDestroyed, lot.jarsOther];
      const fill = (lot.lowestFillTyped ?? '').replace(/\s*[@#].*$/, '').replace(/\s+jars?\b.*$/i, '');
      for (const text of [
        ...lot.boiled
          .slice(0, 2)
          .map(({ code, kind, at }) => `${code} ${kind === 'receipt' ? 'bought ' : ''}${shortDay(at)}`),
        shortDay(lot.packedAt),
        lot.container,
        cell(lot.colour),
        lot.lowestFillTyped === null ? 'not recorded' : `${fill}, ${lot.lowestFillBy ?? 'not recorded'}`,
        lot.densityJudged === null ? 'not recorded' : `${(lot.brix ?? 0).toFixed(1)} (${lot.densityJudged.typed}`,
        lot.allergens,
        `${counts.join(' ')} ${lot.unaccounted ?? 'not counted'} ${lot.by}`,
        lot.status === 'held' ? 'HELD' : lot.status,
      ])
        expect({ lot: lot.lot, words: text, printed: close(printed).includes(close(text)) }).toEqual({
          lot: lot.lot,
          words: text,
          printed: true,
        });
    }
  });

  test('have every figure of page one', () => {
    const { totals } = read.json;
    const inSheet = new Map(read.sheet('Totals').map((row) => [row['Total'], row['Amount']]));
    for (const [name, amount] of Object.entries({ ...totals } as Record<string, number | null>))
      expect([name, inSheet.get(name)]).toEqual([name, cell(amount)]);
    const sum = (heading: string): number => read.csv.reduce((all, row) => all + Number(row[heading]), 0);
    expect([totals.jarsMade, totals.jarsOnHand, totals.jarsSentOut]).toEqual(
      ['Made (jars)', 'On hand (jars)', 'Sent out (jars)'].map(sum),
    );
    const formatted = (n: number): string => n.toLocaleString('en-US');
    for (const text of [
      `${formatted(totals.boils)} boils ·`,
      `${formatted(totals.packs)} lots packed · ${formatted(totals.held)} held now`,
      `${formatted(totals.jarsMade)} jars made = ${formatted(totals.jarsOnHand)} on hand + ${formatted(totals.jarsSentOut)} sent out`,
      `${formatted(totals.jarsDestroyed)} destroyed + ${formatted(totals.jarsOther)} other`,
      `Deviations: ${formatted(totals.deviations)}, still open: ${formatted(totals.deviationsOpen)}`,
      `Record: ${formatted(read.json.record.entries)} entries`,
      'telephone 802 555 0100',
    ])
      expect(read.pageOne).toContain(text);
    expect(close(read.pageOne)).toContain(read.json.record.root);
  });

  test('have every deviation', () => {
    const sheet = read.sheet('Deviations');
    expect(sheet).toHaveLength(read.json.deviations.length);
    const paper = close(
      read.pdf.pages
        .slice(1)
        .map((page) => page.text)
        .join(' '),
    );
    for (const [n, each] of read.json.deviations.entries()) {
      expect(sheet[n]).toMatchObject({
        Lot: each.lot,
        Rule: ruleTitle(each.rule),
        Found: each.found,
        Limit: each.limit,
        Jars: each.jars ?? 'the whole lot',
        'Found by': each.foundBy,
        Open: each.open ? 'yes' : 'no',
        'New readings': each.readAgain.join('; '),
      });
      expect({ n, printed: paper.includes(close(`${each.lot} ${ruleTitle(each.rule)} ${each.found}`)) }).toEqual({
        n,
        printed: true,
      });
      expect({ n, ended: paper.includes(close(sheet[n]?.['Ended'] ?? '').slice(0, 40)) }).toEqual({ n, ended: true });
    }
  });
});

/** The text of each lot's row, from its code in the first column down to the next code, cell by cell. */
function rowsOnPaper({ pdf, json }: Documents): ReadonlyMap<string, string> {
  const end = pdf.pages.findIndex((page) => page.text.includes('Deviations and what was done'));
  const codes = new Set(json.lots.map((lot) => lot.lot));
  const rows = new Map<string, string>();
  for (const { placed } of pdf.pages.slice(0, end)) {
    const heads = placed.filter((each) => each.leftPt < 34 && codes.has(each.text.trim()));
    for (const [n, head] of heads.entries()) {
      const floor = heads[n + 1]?.baselinePt ?? head.baselinePt - 30;
      const cells = placed.filter((each) => each.baselinePt <= head.baselinePt + 0.5 && each.baselinePt > floor + 0.5);
      rows.set(head.text.trim(), plain(cells.map((each) => each.text).join(' ')));
    }
  }
  return rows;
}
