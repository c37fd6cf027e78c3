import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { addHouse } from '#libs/actions/accounts/add-house.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { record } from '#libs/actions/record/record.js';
import type { Book } from '#libs/store/book.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { findLot } from '#libs/store/queries/lots.js';
import { writeContext, done, recordOrThrow } from '../support/sugarhouse.js';
import { sqlite } from '../support/engines.js';
import { errorRate } from './error-rate.js';
import { hiddenSeason, type HiddenSeason } from './hidden-season.js';
import { heldBack, verdictOf } from './judge-season.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** The check that `npm run bench -- seasons` makes of 10,000, on the first four hundred. */
test('over four hundred invented seasons no jar that the record shows too cold is sent out, and few holds are needless', () => {
  const rate = errorRate(1, 400);
  expect(rate.failing).toEqual([]);
  expect(rate.unsafeShownOut).toBe(0);
  expect(rate.needlessHolds / rate.seasons).toBeLessThanOrEqual(1);
  // The seasons contain what the test looks for: jars too cold, seen and unseen, and packs held.
  expect(rate.unsafeMade).toBeGreaterThan(200);
  expect(rate.unsafeUnseenOut).toBeLessThan(rate.unsafeMade);
  expect(rate.holds).toBeGreaterThan(80);
  // Every stop counts: those too that pad or sheet said and nobody heeded, and those that only a later check shows.
  const { caughtHot, caughtOnPaper, leftCold, leftOnPaper, notRead, byWrongOne, shownLater } = rate.stops;
  const missed = [leftCold, leftOnPaper, notRead, byWrongOne, shownLater];
  expect(Math.min(caughtHot, caughtOnPaper, ...missed)).toBeGreaterThan(0);
  const caught = caughtHot + caughtOnPaper;
  expect(caught / (caught + leftCold + leftOnPaper)).toBeGreaterThanOrEqual(0.8);
  expect(caught / missed.reduce((sum, each) => sum + each, caught)).toBeGreaterThanOrEqual(0.5);
});

describe('eighty of them entered in a book', () => {
  const engine = sqlite();
  let book: Book;
  const now = new Date('2026-06-02T12:00:00Z');
  beforeAll(async () => {
    await engine.start();
    book = await engine.freshBook();
    await recordOrThrow(book, 'house', { prefix: 'TH' }, { now });
  });
  afterAll(() => engine.stop());

  test.each(Array.from({ length: 8 }, (_, n) => n * 10 + 1))(
    'seasons %i and the nine after it end the same',
    async (first) => {
      for (let seed = first; seed < first + 10; seed++) {
        const season = hiddenSeason(seed);
        const house = `season-${seed}`;
        const result = {
          name: `Tamarack Hollow ${seed}`,
          prefix: `S${seed}`,
          place: 'us-standard',
          zone: 'America/New_York',
        };
        done(await addHouse(book, writeContext({ now }), house, result));
        const codes = await writeSeason(house, season);
        for (const [index, pack] of season.packs.entries()) {
          const lot = await findLot(sugarhouseReader(book.read, house), codes[index] ?? '');
          const ours = verdictOf(season, pack, '2026-06-01T00:00', true);
          expect({
            seed,
            pack: pack.n,
            kept: saved(lot?.verdict ? heldBack(lot.verdict, pack.jars) : undefined),
          }).toEqual({
            seed,
            pack: pack.n,
            kept: saved(heldBack(ours, pack.jars)),
          });
          expect(lot?.state === 'held').toBe(ours.findings.some(({ stop }) => stop) || pack.actions.length > 0);
        }
      }
    },
  );

  const saved = (jars: ReadonlySet<number> | undefined): string =>
    jars === undefined ? 'no verdict' : [...jars].sort((a, b) => a - b).join(' ');

  /** Enters the records of a season, in the order of the days. */
  async function writeSeason(house: string, season: HiddenSeason): Promise<string[]> {
    const write = async (kind: RecordKind, sent: Record<string, string>): Promise<string> => {
      const result = Object.fromEntries(Object.entries(sent).filter(([, text]) => text !== ''));
      return done(await record(book, writeContext({ sugarhouse: house, now }), kindByName.get(kind)!, result)).id;
    };
    for (const id of season.instruments) await write('instrument', { id, what: 'thermometer', at: '2026-02-20T09:00' });
    const boil = await write('boil', {
      beganAt: '2026-03-02T07:30',
      syrupVolume: '100 gal',
      filterTemp: '190 F',
      by: 'WE',
    });
    const checks = [...season.checks];
    const writeChecks = async (until: string): Promise<void> => {
      while (checks[0] && checks[0].at < until) {
        const { id, ...check } = checks.shift()!;
        await write('check', { id, ...check });
      }
    };
    const codes: string[] = [];
    for (const pack of season.packs) {
      await writeChecks(pack.packedAt);
      const code = await write('pack', {
        fromLots: `${boil}:${((pack.jars * 8) / 128 + 0.1).toFixed(2)} gal`,
        packedAt: pack.packedAt,
        densityReading: '67.4 Bx',
        densityAt: '60 F',
        container: 'glass jar 8 fl oz',
        containerPrep: 'boiled 10 min',
        jars: String(pack.jars),
        fillTemps: pack.fillTemps,
        sealsFailed: '0',
        by: 'OE',
      });
      codes.push(code);
      for (const { ...action } of pack.actions)
        await write('action', { lot: code, ...action, sealsFailed: '0', by: 'WE' });
    }
    await writeChecks('2027');
    return codes;
  }
});
