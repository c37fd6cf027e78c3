import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A benchmark's result: ours against a bare loop over the same libraries, in the same run. */
export interface Measured {
  readonly ratio: number;
  /** Met if the ratio is no greater. */
  readonly goal: number;
  /** For people: the figures, their units, and what limits them. */
  readonly lines: readonly string[];
}
export interface Benchmark {
  readonly name: string;
  run(): Promise<Measured>;
}

/**
 * Milliseconds of two alternatives, the best of the rounds, run in turn, so that other load on the machine affects
 * both.
 */
export async function bestOf(
  rounds: number,
  ours: () => Promise<unknown>,
  floor: () => Promise<unknown>,
): Promise<{ ours: number; floor: number }> {
  const best = { ours: Infinity, floor: Infinity };
  for (let round = 0; round < rounds; round++) {
    best.ours = Math.min(best.ours, await milliseconds(ours));
    best.floor = Math.min(best.floor, await milliseconds(floor));
  }
  return best;
}

export async function milliseconds(work: () => Promise<unknown>): Promise<number> {
  const began = performance.now();
  await work();
  return performance.now() - began;
}

export async function inFolder<T>(work: (folder: string) => Promise<T>): Promise<T> {
  const folder = mkdtempSync(join(tmpdir(), 'boilbook-bench-'));
  try {
    return await work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
