import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { importRows } from '#libs/actions/import/import-rows.js';
import { importKinds } from '#libs/actions/kinds/registry.js';
import { writePracticeSeason } from '#libs/actions/practice/practice-season.js';
import { loadSeasonContext } from '#libs/actions/season/season-context.js';
import type { Book } from '#libs/store/book.js';
import { peopleOf } from '#libs/store/household/household.js';
import { readHead, walkLog } from '#libs/store/log/log.js';
import { movementsOf } from '#libs/store/queries/trace.js';
import { templatePath } from '#libs/package-root.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { readSeason } from '#libs/actions/season/read-season.js';
import { seasonSummary } from '#libs/reports/season/json.js';
import { engines } from '../support/engines.js';
import { writeContext, problemOf, sugarhouse } from '../support/sugarhouse.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

const now = new Date('2026-11-20T15:00:00Z');
describe.each(engines())('the practice season on $name', (engine) => {
  let book: Book;
  beforeAll(async () => {
    await engine.start();
    book = await engine.freshBook();
    expect(await writePracticeSeason(book, now)).toMatchObject({ boils: 10, packs: 13 });
  });
  afterAll(() => engine.stop());

  const summary = () =>
    book.snapshot(async (sql) =>
      seasonSummary(await readSeason({ sql, sugarhouse }, 2026, await loadSeasonContext(sql, writeContext({ now })))),
    );

  test('contains one of everything a maker may encounter', async () => {
    const { lots, totals } = await summary();
    const lot = (code: string) => lots.find((each) => each.lot === code);
    expect(lots).toHaveLength(13);
    expect(totals).toMatchObject({ boils: 10, packs: 13, held: 1 });
    expect(lot('26065A-1')).toMatchObject({ status: 'open', colour: 'Golden', findings: [], lateEntries: 1 });
    // Jars 21 to 31 were packed again at 187 °F; the tray before them was read at 181 °F.
    expect(lot('26071A-2')).toMatchObject({ status: 'released', lowestFillTyped: '181 F', fillsReplaced: ['178 F'] });
    expect(lot('26079A-1')).toMatchObject({ status: 'held', jarsOnHand: 0 });
    expect(lot('26079A-1')?.findings.map((each) => each.rule)).toContain('density-too-thin');
    expect(lot('26079A-2')).toMatchObject({ status: 'open', boils: ['26079A'], findings: [] });
    expect(lot('26084X-1')?.boils).toContain('26082A');
    expect(lot('26115X-1')?.boils).toEqual(expect.arrayContaining(['26085A', '26088A']));
    expect(lot('26089X-1')).toMatchObject({ container: 'steel drum 6 gal', jarsOnHand: 0 });
    expect(lot('26092A-1')).toMatchObject({ status: 'recalled', jarsSentOut: 21, jarsDestroyed: 15, jarsOnHand: 0 });
  });

  test('leaves one jar unaccounted for', async () => {
    const { lots } = await summary();
    expect(lots.filter((lot) => lot.unaccounted).map((lot) => [lot.lot, lot.unaccounted])).toEqual([['26071A-1', 1]]);
  });

  test('was entered in order, as things happened', async () => {
    let last = '';
    let late = 0;
    for await (const row of walkLog(book.read)) {
      const entry = JSON.parse(row.json) as { typedAt: string; happenedAt: string };
      const typed = new Date(entry.typedAt).toISOString();
      expect(typed >= last).toBe(true);
      expect(Date.parse(entry.happenedAt) <= Date.parse(entry.typedAt) + 8 * 86_400_000).toBe(true);
      if (Date.parse(entry.typedAt) - Date.parse(entry.happenedAt) > 25 * 3_600_000) late++;
      last = typed;
    }
    expect(late).toBe(1);
  });

  test('plans a future market day, which has not moved a jar yet', async () => {
    const planned = (await movementsOf(sugarhouseReader(book.read, sugarhouse), ['26071A-1'])).filter(
      (each) => Date.parse(each.sentAt) > now.getTime(),
    );
    expect(planned).toMatchObject([{ jars: 6, to: 'Millrace Green market' }]);
    expect((await summary()).lots.find((lot) => lot.lot === '26071A-1')).toMatchObject({ jarsOnHand: 19 });
  });

  test('has no such plan if the clock is before the season’s end', async () => {
    const early = await engine.freshBook();
    const written = await writePracticeSeason(early, new Date('2026-05-01T22:00:00Z'));
    expect(written).toMatchObject({ entries: (await readHead(book.read)).entries - 1, boils: 10, packs: 13 });
    expect(
      (await movementsOf(sugarhouseReader(early.read, sugarhouse), ['26071A-1'])).map((each) => each.jars),
    ).not.toContain(6);
  });

  test('names its people, and its book verifies', async () => {
    expect((await peopleOf(sugarhouseReader(book.read, sugarhouse))).map((each) => each.name).sort()).toEqual([
      'June Pascoe',
      'Odd Ellery',
      'Wren Ellery',
    ]);
    expect(await verifyBook(book)).toMatchObject({ ok: true });
  });

  test('is written once: a book with entries refuses it', async () => {
    const before = await readHead(book.read);
    expect(problemOf(await writePracticeSeason(book, now))).toMatchObject({ kind: 'refused' });
    expect(await readHead(book.read)).toEqual(before);
  });

  test('matches its files: imported again, they change nothing', async () => {
    const before = await readHead(book.read);
    for (const kind of importKinds) {
      const bytes = readFileSync(templatePath(`practice/${kind.plural}.csv`));
      const imported = await importRows(book, writeContext({ now }), kind, bytes);
      expect({ kind: kind.plural, faults: imported.faults, refusals: imported.refusals }).toEqual({
        kind: kind.plural,
        faults: [],
        refusals: [],
      });
      expect(imported.same).toBe(imported.rows);
    }
    expect(await readHead(book.read)).toEqual(before);
  });

  test('can be imported from its files into a maker’s own book', async () => {
    const own = await engine.freshBook();
    for (const kind of importKinds) {
      const bytes = readFileSync(templatePath(`practice/${kind.plural}.csv`));
      const imported = await importRows(own, writeContext({ now }), kind, bytes);
      expect(imported).toMatchObject({ faults: [], refusals: [], written: imported.rows });
    }
  });
});
