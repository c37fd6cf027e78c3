import { spawn } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { transformSync } from '@swc/core';
import { packageRoot } from '#libs/package-root.js';
import { type Mutant, mutantsOf } from './mutants.js';

/** What decides which jars are held, and the codes of jars and lots; each with the tests that are to notice a change. */
const targets: readonly { readonly files: readonly string[]; readonly tests: RegExp }[] = [
  {
    files: ['rules/judge-fill.ts', 'rules/judge-reading.ts', 'rules/judge-pack.ts', ...inFolder('jars')],
    tests: /^(?!quantities|cleaning|spoilage|thickening|amounts|rules-table|(?:jar|lot)-codes)/,
  },
  { files: inFolder('codes'), tests: /^(?:jar|lot)-codes/ },
];
/** A run of the pure tests that takes longer is taken to be an endless loop. */
const mostMs = 60_000;

/**
 * Mutates libs/syrup one place at a time and runs the pure tests against each mutant. Prints the share that some test
 * noticed and each that none did; answers 0 from 90 % on. Words name files: `npm run bench -- mutation held-jars`.
 */
export async function runMutation(argv: readonly string[]): Promise<number> {
  let [killed, all] = [0, 0];
  for (const { files, tests } of targets)
    for (const file of files.filter((name) => argv.length === 0 || argv.some((word) => name.includes(word)))) {
      const mutants = mutantsOf(join(packageRoot, 'libs/syrup', file));
      const place = prepare(tests);
      try {
        const clean = await outcome(place);
        if (clean !== 'passed') throw new Error(`The tests fail without a mutant: ${clean}`);
        let own = 0;
        for (const mutant of mutants) {
          if ((await outcomeOf(place, file, mutant)) !== 'passed') own++;
          else console.log(`survived ${file}:${mutant.line} ${mutant.change}`);
        }
        [killed, all] = [killed + own, all + mutants.length];
        console.log(`${file}: ${own} of ${mutants.length} noticed`);
      } finally {
        rmSync(place, { recursive: true });
      }
    }
  console.log(`${killed} of ${all} mutants noticed: ${((killed / all) * 100).toFixed(1)} %`);
  return killed >= all * 0.9 ? 0 : 1;
}

function inFolder(folder: string): string[] {
  return readdirSync(join(packageRoot, 'libs/syrup', folder))
    .filter((name) => name.endsWith('.ts'))
    .map((name) => `${folder}/${name}`);
}

/** A copy of libs/syrup and of its tests that mutants are written into; the rest is that of the checkout. */
function prepare(tests: RegExp): string {
  const place = mkdtempSync(join(tmpdir(), 'boilbook-mutation-'));
  mkdirSync(join(place, 'dist/libs'), { recursive: true });
  for (const name of ['node_modules', 'templates']) symlinkSync(join(packageRoot, name), join(place, name));
  cpSync(join(packageRoot, 'package.json'), join(place, 'package.json'));
  for (const name of readdirSync(join(packageRoot, 'dist/libs')))
    cpSync(join(packageRoot, 'dist/libs', name), join(place, 'dist/libs', name), { recursive: true });
  for (const folder of ['syrup', 'support', 'published']) {
    mkdirSync(join(place, 'tests', folder), { recursive: true });
    for (const name of readdirSync(join(packageRoot, 'tests', folder)).filter((each) => each.endsWith('.ts')))
      if (folder !== 'syrup' || !name.endsWith('.test.ts') || tests.test(name))
        writeScript(join(place, 'tests', folder, name), readFileSync(join(packageRoot, 'tests', folder, name), 'utf8'));
  }
  const shim = pathToFileURL(join(fileURLToPath(new URL('.', import.meta.url)), 'pure-tests.js')).href;
  const imports = readdirSync(join(place, 'tests/syrup'))
    .filter((name) => name.endsWith('.test.js'))
    .map((name) => `await import('./tests/syrup/${name}');`);
  writeFileSync(
    join(place, 'run.mjs'),
    `import { runQueued } from '${shim}';\n${imports.join('\n')}\nconst done = await runQueued();
if ('failed' in done) { console.error(done.failed); process.exit(1); }\n`,
  );
  return place;
}

function writeScript(path: string, text: string): void {
  const shim = pathToFileURL(join(fileURLToPath(new URL('.', import.meta.url)), 'pure-tests.js')).href;
  const { code } = transformSync(text.replaceAll(`'@jest/globals'`, `'${shim}'`), {
    jsc: { parser: { syntax: 'typescript' }, target: 'es2022' },
    swcrc: false,
  });
  writeFileSync(path.replace(/\.ts$/, '.js'), code);
}

async function outcomeOf(place: string, file: string, { text }: Mutant): Promise<string> {
  const script = join(place, 'dist/libs/syrup', file.replace(/\.ts$/, '.js'));
  const whole = readFileSync(script);
  writeScript(join(place, 'dist/libs/syrup', file), text);
  try {
    return await outcome(place);
  } finally {
    writeFileSync(script, whole);
  }
}

/** `passed`, or what the first failing test said; a run without end is `too long`. */
function outcome(place: string): Promise<string> {
  const run = spawn(process.execPath, [join(place, basename('run.mjs'))], { cwd: place });
  let said = '';
  run.stderr.on('data', (part: Buffer) => (said += part.toString()));
  const timer = setTimeout(() => run.kill('SIGKILL'), mostMs);
  return new Promise((resolve) => {
    run.on('exit', (code, signal) => {
      clearTimeout(timer);
      resolve(code === 0 ? 'passed' : signal ? 'too long' : said.trim() || `exit ${code}`);
    });
  });
}
