import { spawn } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { packageRoot } from '#libs/package-root.js';
import { postgres, sqlite } from '../support/engines.js';
import { runSeed } from '../support/fault-simulation/run-seed.js';
import { noOperations, type OperationCounts } from '../support/fault-simulation/tally.js';
import { openPlace } from '../support/fault-simulation/simulation-place.js';

const usage = `npm run bench -- faults [--seeds 50000] [--from 1] [--minutes 60] [--processes 2] [--postgres] [--anew]
Runs the fault simulation and stops at the time limit; said again, it goes on where it stopped, unless --anew.
A seed that fails is printed with what was done; BOILBOOK_TEST_SEED=N npm test -- tests/faults/simulated replays it.`;

interface RunOptions {
  readonly seeds: number;
  readonly from: number;
  readonly minutes: number;
  readonly processes: number;
  readonly isPostgres: boolean;
  readonly startsOver: boolean;
  /** The number of this process; undefined for the one that starts them. */
  readonly worker: number | undefined;
}

/** How far each process has got, so that a run continues where the last one stopped. */
interface Progress {
  readonly next: number;
  readonly counts: OperationCounts;
}

/** The whole command; returns the exit status: 0 all seeds passed, 1 one failed, 2 invalid arguments. */
export async function runFaults(argv: readonly string[]): Promise<number> {
  const options = read(argv);
  if (!options) {
    console.error(usage);
    return 2;
  }
  process.env['BOILBOOK_TEST_BOOKS'] ??= existsSync('/dev/shm') ? '/dev/shm' : undefined;
  if (options.worker !== undefined) return runWorker(options, options.worker);
  const began = performance.now();
  const exits = await Promise.all(
    Array.from({ length: options.processes }, (_, worker) => started([...argv, '--worker', String(worker)])),
  );
  const all = Array.from({ length: options.processes }, (_, worker) => progressOf(options, worker));
  const done = all.reduce(
    (sum, { next }, worker) => sum + Math.ceil((next - options.from - worker) / options.processes),
    0,
  );
  const minutes = ((performance.now() - began) / 60_000).toFixed(1);
  const sums = Object.keys(noOperations()) as (keyof OperationCounts)[];
  console.log(
    `faults: ${done} of ${options.seeds} seeds on ${options.isPostgres ? 'PostgreSQL' : 'SQLite'}, ${minutes} min in this run; ` +
      sums.map((each) => `${each} ${all.reduce((sum, { counts }) => sum + counts[each], 0)}`).join(', '),
  );
  return exits.every((exit) => exit === 0) ? 0 : 1;
}

function read(argv: readonly string[]): RunOptions | undefined {
  const text = { type: 'string' } as const;
  const flag = { type: 'boolean' } as const;
  const options = { seeds: text, from: text, minutes: text, processes: text, worker: text, postgres: flag, anew: flag };
  try {
    const { values } = parseArgs({ args: [...argv], options });
    const number = (name: 'seeds' | 'from' | 'minutes' | 'processes', usual: number): number =>
      values[name] === undefined ? usual : Number(values[name]);
    const runOptions = {
      seeds: number('seeds', 50_000),
      from: number('from', 1),
      minutes: number('minutes', 60),
      processes: number('processes', 2),
      isPostgres: values.postgres === true,
      startsOver: values.anew === true,
      worker: values.worker === undefined ? undefined : Number(values.worker),
    };
    return [runOptions.seeds, runOptions.from, runOptions.minutes, runOptions.processes].every((each) => each > 0)
      ? runOptions
      : undefined;
  } catch {
    return undefined;
  }
}

const started = (argv: readonly string[]): Promise<number | null> =>
  new Promise((resolve) => {
    const run = fileURLToPath(new URL('run.js', import.meta.url));
    spawn(process.execPath, [run, 'faults', ...argv], { stdio: 'inherit' }).once('exit', resolve);
  });

async function runWorker(options: RunOptions, worker: number): Promise<number> {
  const until = performance.now() + options.minutes * 60_000;
  const engine = options.isPostgres ? postgres() : sqlite();
  await engine.start();
  const place = await openPlace(engine);
  const { next: first, counts } = options.startsOver ? begun(options, worker) : progressOf(options, worker);
  let next = first;
  try {
    for (; next < options.from + options.seeds && performance.now() < until; next += options.processes) {
      await runSeed(place, next, counts);
      writeFileSync(progressFile(options, worker), JSON.stringify({ next: next + options.processes, counts }));
    }
    writeFileSync(progressFile(options, worker), JSON.stringify({ next, counts }));
    return 0;
  } catch (fault) {
    console.error(`${(fault as Error).message}\nBOILBOOK_TEST_SEED=${next} npm test -- tests/faults/simulated`);
    return 1;
  } finally {
    await place.close();
    await engine.stop();
  }
}

const begun = (options: RunOptions, worker: number): Progress => ({
  next: options.from + worker,
  counts: noOperations(),
});

function progressOf(options: RunOptions, worker: number): Progress {
  const file = progressFile(options, worker);
  return existsSync(file) ? (JSON.parse(readFileSync(file, 'utf8')) as Progress) : begun(options, worker);
}

const progressFile = ({ isPostgres, from, processes }: RunOptions, worker: number): string =>
  join(
    packageRoot,
    `dist/faults-${isPostgres ? 'postgres' : 'sqlite'}-from-${from}-${worker + 1}-of-${processes}.json`,
  );
