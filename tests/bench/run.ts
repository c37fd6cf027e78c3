import type { Benchmark, Measured } from './bench.js';
import * as density from './density.bench.js';
import * as imported from './import.bench.js';
import * as labels from './labels.bench.js';
import * as postgres from './postgres.bench.js';
import * as scan from './scan.bench.js';
import * as seasons from './seasons.bench.js';
import * as start from './start.bench.js';
import * as summary from './summary.bench.js';
import * as taps from './taps.bench.js';
import * as tenYears from './ten-years.bench.js';
import * as trace from './trace.bench.js';

// One after the other: --json prints their ratios and goals and nothing else; arguments select some by name. PostgreSQL
// is measured when it is named or with --all: its goal for four processes needs cores that the database doesn't also
// use. The exit status is 1 where a goal is missed.
const requested = process.argv.slice(2).filter((word) => word !== '--');
const json = requested.includes('--json');
const picked = requested.filter((word) => !word.startsWith('--'));
const benches: readonly Benchmark[] = [
  density,
  start,
  labels,
  scan,
  trace,
  imported,
  summary,
  seasons,
  taps,
  tenYears,
  postgres,
];

// These print no ratios and run alone, with arguments of their own: the fault simulation, the soak, the mutation run
// and coverage.
if (requested[0] === 'faults') process.exit(await (await import('./faults.js')).runFaults(requested.slice(1)));
if (requested[0] === 'mutation') process.exit(await (await import('./mutation.js')).runMutation(requested.slice(1)));
if (requested[0] === 'coverage') process.exit(await (await import('./coverage.js')).runCoverage());
if (requested[0] === 'soak') process.exit(await (await import('./soak.js')).runSoak(requested.slice(1)));

const names = benches.map((bench) => bench.name.split(':')[0] ?? bench.name);
const unknown = picked.filter((word) => !names.includes(word));
if (unknown.length > 0) {
  console.error(
    `There is no benchmark "${unknown.join('", "')}": expected ${[...names, 'faults', 'soak', 'mutation', 'coverage'].join(', ')}.`,
  );
  process.exit(2);
}

const results: (Measured & { name: string; met: boolean })[] = [];
for (const bench of benches) {
  const short = bench.name.split(':')[0] ?? bench.name;
  const wanted =
    picked.length > 0
      ? picked.includes(short)
      : (bench !== postgres && bench !== tenYears) || requested.includes('--all');
  if (!wanted) continue;
  const measured = await bench.run();
  results.push({ ...measured, name: short, met: measured.ratio <= measured.goal });
  if (json) continue;
  console.log(
    `${bench.name}\n  ratio ${measured.ratio.toFixed(2)}, goal ${measured.goal}${measured.ratio <= measured.goal ? '' : ': MISSED'}`,
  );
  for (const line of measured.lines) console.log(`  ${line}`);
}
if (json)
  console.log(
    JSON.stringify(
      results.map(({ name, ratio, goal, met, lines }) => ({
        name,
        ratio: Math.round(ratio * 1000) / 1000,
        goal,
        met,
        lines,
      })),
    ),
  );
process.exitCode = results.every((each) => each.met) ? 0 : 1;
