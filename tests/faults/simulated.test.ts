import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { postgres, sqlite } from '../support/engines.js';
import { runSeed } from '../support/fault-simulation/run-seed.js';
import { noOperations } from '../support/fault-simulation/tally.js';
import { withReadsAskedAgain } from '../support/reads-asked-again.js';
import { openPlace, type SimulationPlace } from '../support/fault-simulation/simulation-place.js';

/** BOILBOOK_TEST_SEED replays one seed, as a failure prints it; BOILBOOK_TEST_RUNS runs that many seeds from 1. */
const requestedSeed = process.env['BOILBOOK_TEST_SEED'];
const first = Number(process.env['BOILBOOK_TEST_FIRST'] ?? 1);
const runs = Number(process.env['BOILBOOK_TEST_RUNS'] ?? 60);

/** Seeds that failed once, each with the cause. */
const onceFailed: readonly number[] = [
  // A form refused while the clock was wrong stayed refused, since its first time was kept though nothing was saved.
  9,
];

describe.each([
  { engine: sqlite(), seeds: runs },
  { engine: postgres(), seeds: Math.ceil(runs / 20) },
])('on $engine.name', ({ engine, seeds }) => {
  let place: SimulationPlace;
  beforeAll(async () => {
    await engine.start();
    place = await openPlace(engine);
  });
  afterAll(async () => {
    await place?.close();
    await engine.stop();
  });

  test(
    `${requestedSeed === undefined ? `${seeds} seeds` : `seed ${requestedSeed}`}: all ways in answer as the model says, and what was acknowledged is kept through crashes, full disks and clock jumps`,
    async () => {
      const counts = noOperations();
      const from1 = Array.from({ length: seeds }, (_, n) => n + first);
      for (const seed of requestedSeed === undefined ? new Set([...onceFailed, ...from1]) : [Number(requestedSeed)])
        // Every second one with each answer that a write knows asked again.
        await (seed % 2 === 0 ? withReadsAskedAgain(() => runSeed(place, seed, counts)) : runSeed(place, seed, counts));
      if (process.env['SHOW_TALLY']) process.stdout.write(`${JSON.stringify(counts)}\n`);
      if (requestedSeed === undefined && seeds >= 60) {
        expect(counts.operations).toBeGreaterThan(seeds * 10);
        for (const each of [counts.refused, counts.crashes, counts.lostInCrash, counts.fullDisks, counts.clockJumps])
          expect(each).toBeGreaterThan(seeds / 10);
      }
    },
    60_000 + 3000 * runs,
  );
});
