// The commands of package.json. Each works on a fresh clone: it installs what is missing, builds when sources are
// newer, then runs. Plain JavaScript with Node's own modules only, since nothing else is installed yet.
import { spawn, spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  watch,
  writeFileSync,
} from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { ensureInstalled } from './installed.mjs';
import { restartOnExit, sourceLines } from './restart-on-exit.mjs';
import { benchmarks, transpileChanged } from './transpile.mjs';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const at = (...names) => join(root, ...names);
const [command = '', ...rest] = process.argv.slice(2);

const commands = {
  start: async () => {
    install('production');
    await ensureBuilt();
    restartOnExit(at('dist/apps/server/main.js'), rest);
  },
  book: async () => {
    install('production');
    await ensureBuilt();
    await runHere('apps/cli/main.js');
  },
  build: () => build(),
  dev: async () => {
    install('all');
    await serveAndWatch();
  },
  test: async () => {
    install('all');
    await ensureBuilt();
    // A larger young generation: garbage collection took a tenth of a run.
    const args = ['--max-semi-space-size=32', at('node_modules/jest/bin/jest.js'), ...rest];
    finish(node(args, { NODE_NO_WARNINGS: '1' }));
  },
  bench: async () => {
    install('all');
    await ensureBuilt();
    // Without checking types, as the program itself is built: npm run check checks theirs too.
    await transpileChanged(at('dist'), benchmarks);
    // npm takes the flag of `npm run bench --json` for itself and passes it on in the environment.
    const json = process.env['npm_config_json'] === 'true' && !rest.includes('--json') ? ['--json'] : [];
    finish(node(['--expose-gc', at('dist/tests/bench/run.js'), ...rest, ...json]));
  },
  check: async () => {
    install('all');
    // The slowest first: two run at a time.
    const steps = [
      ['lint', [at('node_modules/eslint/bin/eslint.js'), '--config', at('.eslint.config.mjs'), root]],
      ['types of the tests', [typescript(), '-p', at('tests/tsconfig.json'), '--noEmit']],
      ['types', [typescript(), '-p', at('tsconfig.json'), '--noEmit']],
      ['format', [at('node_modules/prettier/bin/prettier.cjs'), '--check', '--log-level', 'warn', root]],
      // Finds circular imports too.
      ['unused code and packages', [at('node_modules/knip/bin/knip.js'), '--config', '.knip.jsonc', '--no-progress']],
      ['dependency rule', [at('node_modules/jest/bin/jest.js'), 'tests/dependency-rule.test.ts']],
    ];
    const failed = [];
    const waiting = [...steps];
    const work = async () => {
      for (let step = waiting.shift(); step; step = waiting.shift()) if (!(await passes(step))) failed.push(step[0]);
    };
    await Promise.all([work(), work()]);
    console.log(failed.length === 0 ? 'check: no problems found' : `check: ${failed.join(', ')} failed`);
    finish(failed.length === 0 ? 0 : 1);
  },
};

/** Runs one step of `npm run check`; prints its output if it failed, and its duration, once it has ended. */
async function passes([name, args]) {
  const began = performance.now();
  const env = { ...process.env, NODE_NO_WARNINGS: '1' };
  const step = spawn(process.execPath, args, { cwd: root, env, stdio: ['ignore', 'pipe', 'pipe'] });
  const printed = [];
  for (const stream of [step.stdout, step.stderr]) stream.on('data', (part) => printed.push(part));
  const passed = (await new Promise((resolve) => step.once('close', resolve))) === 0;
  if (!passed) process.stdout.write(Buffer.concat(printed));
  console.log(`check: ${name} ${passed ? 'passed' : 'failed'}, ${((performance.now() - began) / 1000).toFixed(1)} s`);
  return passed;
}

// The book is in BOILBOOK_DATA, or in `data` beside this file, for the server and the command line alike.
const typedFrom = process.env['INIT_CWD'] ?? process.cwd();
process.env['BOILBOOK_DATA'] = process.env['BOILBOOK_DATA']?.trim()
  ? resolve(typedFrom, process.env['BOILBOOK_DATA'].trim())
  : at('data');

// npm runs a script in the package's folder; a path that a person typed is relative to the folder they were in.
if (command === 'book' && process.env['INIT_CWD']) process.chdir(process.env['INIT_CWD']);
if (command !== 'book') process.chdir(root);
const run = commands[command];
if (!run) {
  console.error(`Unknown command ${command}. Commands: ${Object.keys(commands).join(', ')}`);
  process.exit(2);
}
await run();

/** Runs in this process, so that signals reach it and its exit status is returned. */
async function runHere(script) {
  process.setSourceMapsEnabled(true);
  process.argv = [process.argv[0], at('dist', script), ...rest];
  await import(pathToFileURL(at('dist', script)).href);
}

function install(needed) {
  mustPass(ensureInstalled(root, needed));
}

/** Transpiles the files that changed since the last build, or all of them, without checking types. */
async function ensureBuilt() {
  const built = at('dist/.built');
  if (existsSync(built) && statSync(built).mtimeMs >= newestSource()) return;
  const began = Date.now();
  if (!existsSync(built)) return buildUnchecked();
  await transpileChanged(at('dist'));
  writeFileSync(built, new Date(began).toISOString());
}

/** Transpiles everything without checking types: the type packages need not be installed to start. */
async function buildUnchecked() {
  await intoPlace((part) => transpileChanged(part));
}

/** Runs the server and restarts it when a source file or a page is saved. */
async function serveAndWatch() {
  await ensureBuilt();
  let server = serve();
  let waiting;
  const restart = async () => {
    const began = performance.now();
    try {
      await transpileChanged(at('dist'));
    } catch (fault) {
      console.error(fault.message);
      return;
    }
    const ended = new Promise((resolve) => (server.exitCode === null ? server.once('exit', resolve) : resolve()));
    server.kill('SIGTERM');
    await ended;
    server = serve();
    console.error(`Restarted ${Math.round(performance.now() - began)} ms after the save.`);
  };
  for (const folder of ['apps', 'libs', 'templates'])
    watch(at(folder), { recursive: true }, () => {
      clearTimeout(waiting);
      waiting = setTimeout(restart, 50);
    });
  const stop = () => {
    server.once('exit', () => process.exit(0));
    server.kill('SIGTERM');
  };
  process.on('SIGINT', stop);
  process.on('SIGTERM', stop);
}

function serve() {
  const server = at('dist/apps/server/main.js');
  return spawn(process.execPath, ['--import', sourceLines, server, ...rest], { stdio: 'inherit' });
}

/** Builds with type checks where the type packages are installed; they come with the test tools. */
async function build() {
  if (!existsSync(at('node_modules/@types/node'))) {
    mustBeThere('node_modules/@swc/core');
    console.error('Built without checking types: npm test or npm run check installs what that needs.');
    return buildUnchecked();
  }
  await intoPlace((part) => {
    const own = ['--outDir', part, '--incremental', 'false', '--tsBuildInfoFile', 'null'];
    const status = node([typescript(), '-p', at('tsconfig.json'), ...own], {}, toStderr);
    if (status !== 0) rmSync(part, { recursive: true, force: true });
    mustPass(status);
  });
}

/** Builds into a temporary folder and then renames it, so that a running server or command never sees half a build. */
async function intoPlace(make) {
  const part = at(`.dist-part-${process.pid}`);
  rmSync(part, { recursive: true, force: true });
  const began = Date.now();
  await make(part);
  mkdirSync(part, { recursive: true });
  writeFileSync(join(part, '.built'), new Date(began).toISOString());
  const old = at(`.dist-old-${process.pid}`);
  if (existsSync(at('dist'))) renameSync(at('dist'), old);
  renameSync(part, at('dist'));
  rmSync(old, { recursive: true, force: true });
}

function newestSource() {
  const newestIn = (folder) =>
    Math.max(
      0,
      ...readdirSync(folder, { withFileTypes: true, recursive: true })
        .filter((each) => each.isFile() && /\.(tsx?|mjs|json)$/.test(each.name))
        .map((each) => statSync(join(each.parentPath ?? each.path, each.name)).mtimeMs),
    );
  const folders = ['apps', 'libs', 'templates/pages'].map((folder) => newestIn(at(folder)));
  return Math.max(...folders, statSync(at('tsconfig.json')).mtimeMs);
}

function typescript() {
  return mustBeThere('node_modules/typescript/bin/tsc');
}

function mustBeThere(path) {
  if (existsSync(at(path))) return at(path);
  console.error('The packages are not installed. npm start or npm test installs them, or: npm ci');
  process.exit(1);
}

// The build's output must not mix with a command's output.
var toStderr = ['inherit', 2, 2];

function node(args, env = {}, stdio = 'inherit') {
  const done = spawnSync(process.execPath, args, { cwd: root, stdio, env: { ...process.env, ...env } });
  return done.status ?? 1;
}
function mustPass(status) {
  if (status !== 0) process.exit(status);
}
function finish(status) {
  process.exit(status);
}
