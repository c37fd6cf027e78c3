import { spawn } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { packageRoot } from '#libs/package-root.js';
import { whyEquivalent } from './equivalent-mutants.js';
import { type Mutant, mutantsOf } from './mutants.js';
import { pureSuite, pureTestFiles } from './pure-suite.js';

/** The code that decides which jars are held and what a release accepts, and the codes of jars and lots. */
const targets: readonly string[] = [
  'rules/judge-fill.ts',
  'rules/judge-reading.ts',
  'rules/judge-pack.ts',
  'rules/accept-findings.ts',
  'rules/judge-units.ts',
  'contents/judge-harm.ts',
  'contents/judge-spoilage.ts',
  'instruments/suspect-reading.ts',
  ...inFolder('jars'),
  ...inFolder('codes'),
];
/** These decide nothing that the targets decide, and take longest. */
const apart = /^(?:quantities|cleaning|find-spoilage|free-text|said-of|thickening|amounts|rules-table)/;
/** A mutant that takes longer is counted as an endless loop, which a test detects. */
const mostMs = 90_000;

/**
 * Mutates libs/syrup one place at a time and runs the pure tests against each mutant. Prints the share that a test
 * detected, of all mutants and of those not equivalent to the original, and each one that survived; returns 0 from 90 %
 * of all on. Arguments name files: `npm run bench -- mutation jar-spans`.
 */
export async function runMutation(argv: readonly string[]): Promise<number> {
  if (argv[0] === 'inside') return runInside(argv[1] ?? '', Number(argv[2]));
  let [noticed, all, equivalent] = [0, 0, 0];
  for (const file of targets.filter((name) => argv.length === 0 || argv.some((word) => name.includes(word)))) {
    const mutants = mutantsOf(join(packageRoot, 'libs/syrup', file));
    const outcomes = await outcomesOf(file, mutants.length);
    let own = 0;
    for (const [n, mutant] of mutants.entries()) {
      if (outcomes[n] !== 'survived') own++;
      else {
        const why = whyEquivalent(file, mutant);
        if (why !== undefined) equivalent++;
        console.log(
          `survived ${file}:${mutant.line} ${mutant.change}${why === undefined ? '' : ` (equivalent: ${why})`}`,
        );
      }
    }
    [noticed, all] = [noticed + own, all + mutants.length];
    console.log(`${file}: ${own} of ${mutants.length} noticed`);
  }
  const share = (of: number): string => `${((noticed / of) * 100).toFixed(1)} %`;
  console.log(`${noticed} of ${all} mutants noticed: ${share(all)}`);
  console.log(`${noticed} of the ${all - equivalent} that are not equivalent: ${share(all - equivalent)}`);
  return noticed >= all * 0.9 ? 0 : 1;
}

/** One process runs the mutants of a file; when a mutant doesn't end, a new process continues with the next. */
async function outcomesOf(file: string, count: number): Promise<string[]> {
  const outcomes: string[] = [];
  while (outcomes.length < count) {
    const child = spawn(
      process.execPath,
      [...process.execArgv, process.argv[1] ?? '', 'mutation', 'inside', file, String(outcomes.length)],
      { stdio: ['ignore', 'pipe', 'inherit'] },
    );
    let waiting: NodeJS.Timeout | undefined;
    const wait = (): void => {
      clearTimeout(waiting);
      waiting = setTimeout(() => child.kill('SIGKILL'), mostMs);
    };
    wait();
    const ended = new Promise<number | null>((resolve) => child.once('close', resolve));
    for await (const line of createInterface({ input: child.stdout })) {
      outcomes.push(line);
      wait();
    }
    clearTimeout(waiting);
    if ((await ended) === null) outcomes.push('too long');
    else if (outcomes.length < count) throw new Error(`The mutants of ${file} were not gone through.`);
  }
  return outcomes;
}

/** One line per mutant: `survived`, or the test that detected it. The test that detected the last one runs first. */
async function runInside(file: string, from: number): Promise<number> {
  const suite = await pureSuite();
  const codes = /^(?:jar|lot)-codes/;
  let tests = pureTestFiles().filter((name) => !apart.test(name) && codes.test(name) === file.startsWith('codes/'));
  const clean = from === 0 ? await suite.run(tests) : undefined;
  if (clean) throw new Error(`The tests fail without a mutant: ${clean.test}: ${clean.said}`);
  const mutants: readonly Mutant[] = mutantsOf(join(packageRoot, 'libs/syrup', file)).slice(from);
  for (const { text } of mutants) {
    const failed = await suite.run(tests, { file: `libs/syrup/${file}`, text });
    if (failed) tests = [failed.test, ...tests.filter((name) => name !== failed.test)];
    process.stdout.write(`${failed ? `${failed.test}: ${failed.said}`.replaceAll('\n', ' ') : 'survived'}\n`);
  }
  return 0;
}

function inFolder(folder: string): string[] {
  return readdirSync(join(packageRoot, 'libs/syrup', folder))
    .filter((name) => name.endsWith('.ts'))
    .map((name) => `${folder}/${name}`);
}
