import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import type { BookLocation } from '#libs/store/connection/engine.js';
import { compileFor, type Compiled, startChild } from '../support/child-process.js';
import { postgres, sqlite } from '../support/engines.js';
import { enter, type Ledger, reconcile } from '../support/acknowledged-writes.js';

/** BOILBOOK_TEST_RUNS sets the number of kills; each process makes some two hundred writes before it. */
const times = Number(process.env['BOILBOOK_TEST_RUNS'] ?? 10);

/**
 * Writers that are killed with SIGKILL, at any moment, again and again. Two books at once, since starting the program
 * takes longer than its hundred writes. A kill doesn't reveal a missing sync: the fsync test does.
 */
describe('A writer killed outright', () => {
  let compiled: Compiled;
  const [files, server] = [sqlite(), postgres()];
  beforeAll(async () => {
    await Promise.all([files.start(), server.start()]);
    compiled = compileFor(['support/keep-writing.ts']);
  });
  afterAll(async () => {
    compiled?.remove();
    await Promise.all([files.stop(), server.stop()]);
  });

  test(
    `${times} times on SQLite: of ${times * 200} acknowledged writes none is lost and none incomplete`,
    async () => {
      const books = [await files.freshKeeping(), await files.freshKeeping()];
      const result = await Promise.all(
        books.map((location, n) => killedAgainAndAgain(location, `K${n}`, { kills: times / 2, writes: times * 100 })),
      );
      const kills = result.reduce((sum, each) => sum + each.kills, 0);
      const acknowledged = result.reduce((sum, each) => sum + each.ledger.size, 0);
      expect(kills).toBeGreaterThanOrEqual(times);
      expect(acknowledged).toBeGreaterThanOrEqual(times * 200);
      for (const [n, location] of books.entries()) await reconcile(location, result[n]!.ledger);
    },
    60_000 + times * 6000,
  );

  test('3 times on PostgreSQL, with the same result', async () => {
    const location = await server.freshKeeping();
    const { kills, ledger } = await killedAgainAndAgain(location, 'P', { kills: 3, writes: 90 });
    expect(kills).toBe(3);
    await reconcile(location, ledger);
  }, 90_000);

  async function killedAgainAndAgain(location: BookLocation, mark: string, least: { kills: number; writes: number }) {
    const ledger: Ledger = new Map();
    let kills = 0;
    // Each process ends after some number of acknowledged writes, in the middle of the next one.
    for (; kills < least.kills || ledger.size < least.writes; kills++) {
      const child = startChild(process.execPath, [
        compiled.script('support/keep-writing.ts'),
        JSON.stringify(location),
        `${mark}${kills}`,
        '100000',
      ]);
      const until = Math.ceil(least.writes / least.kills) + (kills % 7);
      await child.waitForLine(new RegExp(`^kept ${mark}${kills}-${until} `));
      child.process.kill('SIGKILL');
      const ended = await child.ended;
      expect(ended.signal).toBe('SIGKILL');
      // A line that is not complete doesn't count.
      enter(ledger, ended.lines);
    }
    return { kills, ledger };
  }
});
