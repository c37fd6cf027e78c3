import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { packageRoot } from '#libs/package-root.js';
import { entryJson } from '#libs/store/log/entry-json.js';
import { historyOf } from '#libs/store/log/log.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { toAcceptedFinding } from '#libs/syrup/rules/accept-findings.js';
import {
  acceptableIn,
  heldLot,
  judgedAgain,
  judgedNow,
  releasedElsewhere,
  standing,
} from '../support/accepted-lots.js';
import { engines } from '../support/engines.js';
import { startServer, type TestServer } from '../support/server.js';
import { type Acceptable, acceptable, accepting } from './accepted-cases.js';

/** What releases accepted, in the words of the program before it stored the evidence. */
const oldBook = JSON.parse(readFileSync(join(packageRoot, 'tests/fixtures/releases/book-2026-11.json'), 'utf8')) as {
  lots: { is: string; accepted: { rule: string; found: string }[] }[];
};
const byReason = acceptable.filter(({ is }) => !is.startsWith('another product'));

describe.each(engines())('A finding that a release accepted, on $name', (engine) => {
  let at: TestServer;
  beforeAll(async () => {
    await engine.start();
    at = await startServer({}, { engine, requestsPerMinute: 1_000_000 });
    at.clock.now = new Date('2026-05-01T22:00:00Z');
  });
  afterAll(async () => {
    expect(await verifyBook(at.book)).toMatchObject({ ok: true });
    await at.close();
    await engine.stop();
  });
  const cases = byReason.filter((_, n) => engine.name === 'SQLite' || n % 4 === 0);

  test.each(cases)('is another one with any other value in it, and the same one in other words: $is', async (of) => {
    const held = await heldLot(at, of);
    const findings = acceptableIn(await judgedNow(at, held)).map(toAcceptedFinding);
    const others = findings.flatMap(({ evidence, ...words }) =>
      changedBy(evidence).map((other) => ({ ...words, evidence: other as typeof evidence })),
    );
    expect(others.length).toBeGreaterThan(2);
    await releasedElsewhere(at, held, others);
    await judgedAgain(at, held);
    expect(standing(await held.lot())).toMatchObject({ state: 'held', accepted: [] });
    // It is printed in the words of its release.
    const accepted = findings.map((each) => ({ ...each, found: `${each.rule}, as another version says it` }));
    await releasedElsewhere(at, held, accepted);
    await judgedAgain(at, held);
    const words = accepted.map(({ rule, found }) => ({ rule, found }));
    expect(standing(await held.lot())).toEqual({ state: 'released', holds: [], accepted: words });
  });

  // All of them on SQLite: tests/faults/old-releases.
  const onBoth = byReason.filter((_, n) => n % 4 === 0);
  test.each(onBoth)('is recognised by the sentence of a release that stored no evidence: $is', async (of) => {
    const held = await heldLot(at, of);
    const stored = oldBook.lots.find(({ is }) => is === of.is)?.accepted ?? [];
    // Ids of checks count on from case to case.
    const ids = [...JSON.stringify(acceptableIn(await held.lot())).matchAll(/CK\d+/g)].map(([id]) => id);
    const accepted = stored.map(({ rule, found }) => ({
      rule,
      found: found.replaceAll(/CK\d+/g, () => ids.shift() ?? 'no check'),
    }));
    await releasedElsewhere(at, held, accepted);
    await judgedAgain(at, held);
    expect(standing(await held.lot())).toEqual({ state: 'released', holds: [], accepted });
  });

  const named = (is: string): Acceptable => acceptable.find((each) => each.is === is)!;
  test('is stored by its release with what it rests on, beside its sentence', async () => {
    const held = await heldLot(at, named('lead over the limit twice, and below it later'));
    await held.take([accepting()]);
    const history = await historyOf(sugarhouseReader(at.book.read, held.house), held.code);
    const { said, judged } = JSON.parse(entryJson(history.find(({ entryType }) => entryType === 'release')!)) as {
      said: { accepted: unknown };
      judged: unknown;
    };
    expect(said.accepted).toEqual([
      {
        rule: 'lead-over-limit',
        found: 'lead test LT0002 of 26077A-1 read 700 ppb',
        evidence: {
          lot: '26077A-1',
          over: [
            { leadTest: 'LT0001', lead: '0.9 ppm' },
            { leadTest: 'LT0002', lead: '700 ppb' },
          ],
          limitPpb: 250,
        },
        authority: 'Vermont Agency of Agriculture',
        askedAt: '2026-04-22',
        answer: 'sell it under their product rule',
      },
    ]);
    // The verdict holds the sentence alone, as before.
    expect(JSON.stringify(judged)).not.toContain('limitPpb');
  });

  test('is not accepted by a release with a sentence that no earlier version stored', async () => {
    const held = await heldLot(at, named('a mouldy jar, others inspected'));
    await releasedElsewhere(
      at,
      held,
      acceptableIn(await held.lot()).map(({ rule, found }) => ({ rule, found })),
    );
    await judgedAgain(at, held);
    expect((await held.lot())?.state).toBe('held');
  });
});

/** The evidence with one value in it changed or one item left out, once for each. */
function changedBy(value: unknown): unknown[] {
  if (Array.isArray(value)) {
    const items: readonly unknown[] = value;
    return [
      ...items.flatMap((each, n) => changedBy(each).map((other) => items.with(n, other))),
      ...items.map((_, n) => items.toSpliced(n, 1)),
    ];
  }
  if (typeof value === 'object' && value !== null)
    return Object.entries(value).flatMap(([name, each]) =>
      each === undefined ? [] : changedBy(each).map((other) => ({ ...value, [name]: other })),
    );
  if (typeof value === 'number') return [value + 0.01];
  if (typeof value === 'boolean') return [!value];
  return typeof value === 'string' ? [`${value}.`] : [];
}
