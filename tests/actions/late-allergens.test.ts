import { describe, expect, test } from '@jest/globals';
import { printLabels } from '#libs/actions/labels/print-labels.js';
import { heldByTodaysRules } from '#libs/actions/lots/held-now.js';
import { explainState } from '#libs/actions/lots/explain-state.js';
import { loadJudgingContext } from '#libs/actions/judging/judge-now.js';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { recordsAbout } from '#libs/store/queries/lots.js';
import { engines } from '../support/engines.js';
import { done, problemOf, recordOrThrow, writeContext } from '../support/sugarhouse.js';
import { pack, seasonCopies } from '../support/season-copies.js';

const stock = 'letter-10-up-102x51';
const milk = { defoamer: 'butter', defoamerAllergens: 'milk' };

describe.each(engines())('Allergens recorded after labels were printed on $name', (engine) => {
  const season = seasonCopies(engine);
  const { lot, findings, stops, correct, write } = season;
  const print = async (request: { from?: number; to?: number } = {}) =>
    done(await printLabels(season.book, writeContext(), { lot: pack, stock, ...request }));
  const found = async (rule: string) => (await findings()).find((each) => each.rule === rule)?.found;

  test('a run stores what its labels declare and how much they state, and a pack held for it gets new labels', async () => {
    await print();
    await recordOrThrow(season.book, 'dispatch');
    expect((await lot()).state).toBe('open');
    await correct('boil', '26077A', milk);
    expect([(await lot()).state, await stops()]).toEqual(['held', ['undeclared-allergen-sent', 'undeclared-allergen']]);
    expect(await found('undeclared-allergen-sent')).toMatch(
      /^12 jars of 26077A-1 went out.*: 12 to Millrace Green 2026-04-11$/,
    );
    expect(problemOf(await releaseLot(season.book, writeContext(), pack, 'all well')).text).toMatch(/stays held/);
    const { labels } = await print();
    expect([labels, await stops()]).toEqual([48, ['undeclared-allergen-sent', 'labels-replaced']]);
    const runs = await recordsAbout(season.reader(), pack, 'labels');
    expect(runs.map(({ body: { what, allergens, quantity } }) => [what, allergens, quantity?.typed])).toEqual([
      ['printed', 'none', '8 fl oz'],
      ['reprinted', 'milk', '8 fl oz'],
    ]);
    const asked = { authority: 'the agency', askedAt: '2026-05-01', answer: 'call the buyers', byOwner: true };
    done(await releaseLot(season.book, writeContext(), pack, 'relabelled, buyers called', asked));
    expect((await lot()).state).toBe('released');
    expect(await verifyBook(season.book)).toMatchObject({ ok: true });
  });

  test('an older book, whose verdicts don’t hold since when an allergen is recorded, is judged by its log', async () => {
    // A run as older versions stored it.
    await write('labels', { lot: pack, at: '2026-03-20T12:00', stock, from: '1', to: '48', ended: '8' });
    await correct('boil', '26077A', milk);
    const verdict = (await lot()).verdict!;
    const { allergensSince: _, ...older } = { ...verdict, findings: [], rules: 'rules 2; vermont 1' };
    await season.book.writeHousehold(async (sql) => {
      await sql.run`UPDATE lot SET state = 'open', held_since = NULL, verdict = ${JSON.stringify(older)}, rules = ${older.rules}
        WHERE code = ${pack}`;
    });
    const held = await heldByTodaysRules(season.book, await loadJudgingContext(season.book.read, writeContext()));
    expect(held.map(({ code, verdict: now }) => [code, now?.findings.find(({ stop }) => stop)?.rule])).toEqual([
      [pack, 'undeclared-allergen'],
    ]);
  });

  test('milk that was always on record needs no new labels, and the reasons are listed', async () => {
    await correct('boil', '26077A', milk);
    await print({ from: 1, to: 8 });
    expect([(await lot()).state, await stops()]).toEqual(['open', []]);
    const { rules } = done(await explainState(await loadJudgingContext(season.book.read, writeContext()), pack));
    expect(rules.find(({ rule }) => rule === 'undeclared-allergen')).toMatchObject({
      state: 'met',
      because: [expect.stringMatching(/jars 1–8: allergens milk, 8 fl oz, by /)],
    });
  });

  test('a container that is corrected after an older run was printed holds its jars', async () => {
    await write('labels', { lot: pack, at: '2026-03-20T12:00', stock, from: '1', to: '8', ended: '8' });
    await correct('pack', pack, { container: 'glass jar 7 fl oz' });
    expect([(await lot()).state, await stops()]).toEqual(['held', ['label-net-quantity']]);
    expect((await lot()).verdict?.heldJars).toEqual([{ from: 1, to: 8 }]);
  });
});
