// The commands at the root. Each works on a fresh clone: it installs what is missing, builds when sources are newer,
// then does its work. Plain JavaScript on Node alone, for nothing else is there yet when it runs.
import { spawn, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
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
import { keepServing } from './keep-serving.mjs';
import { transpileChanged } from './transpile.mjs';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const at = (...names) => join(root, ...names);
const [command = '', ...rest] = process.argv.slice(2);

const commands = {
  start: async () => {
    ensureInstalled();
    await ensureBuilt();
    keepServing(at('dist/apps/server/main.js'), rest);
  },
  book: async () => {
    ensureInstalled();
    await ensureBuilt();
    await runHere('apps/cli/main.js');
  },
  build: () => build(),
  dev: async () => {
    ensureInstalled();
    await serveAndWatch();
  },
  test: async () => {
    ensureInstalled();
    await ensureBuilt();
    finish(
      node(['--experimental-vm-modules', at('node_modules/jest/bin/jest.js'), ...rest], { NODE_NO_WARNINGS: '1' }),
    );
  },
  bench: async () => {
    ensureInstalled();
    await ensureBuilt();
    mustPass(node([typescript(), '-p', at('tests/bench/tsconfig.json')], {}, toStderr));
    // `npm run bench --json` gives the word to npm, which passes it on in the environment.
    const json = process.env['npm_config_json'] === 'true' && !rest.includes('--json') ? ['--json'] : [];
    finish(node(['--expose-gc', at('dist/tests/bench/run.js'), ...rest, ...json]));
  },
  check: () => {
    ensureInstalled();
    const steps = [
      ['types', [typescript(), '-p', at('tsconfig.json'), '--noEmit']],
      ['types of the tests', [typescript(), '-p', at('tests/tsconfig.json'), '--noEmit']],
      ['lint', [at('node_modules/eslint/bin/eslint.js'), '--config', at('.eslint.config.mjs'), root]],
      ['format', [at('node_modules/prettier/bin/prettier.cjs'), '--check', '--log-level', 'warn', root]],
      // Also files that import each other in a circle.
      ['unused code and packages', [at('node_modules/knip/bin/knip.js'), '--config', '.knip.jsonc', '--no-progress']],
      [
        'dependency rule',
        ['--experimental-vm-modules', at('node_modules/jest/bin/jest.js'), 'tests/dependency-rule.test.ts'],
      ],
    ];
    const failed = steps.filter((step) => !isWell(step)).map(([name]) => name);
    console.log(failed.length === 0 ? 'check: all is well' : `check: ${failed.join(', ')} failed`);
    finish(failed.length === 0 ? 0 : 1);
  },
};

/** One step of `npm run check`; on which one the time went is said beside it. */
function isWell([name, args]) {
  const began = performance.now();
  const passed = node(args, { NODE_NO_WARNINGS: '1' }) === 0;
  console.log(`check: ${name} ${passed ? 'well' : 'failed'}, ${((performance.now() - began) / 1000).toFixed(1)} s`);
  return passed;
}

// The book is where the person said, or beside this file: the same for the server and the command line.
const typedFrom = process.env['INIT_CWD'] ?? process.cwd();
process.env['BOILBOOK_DATA'] = process.env['BOILBOOK_DATA']?.trim()
  ? resolve(typedFrom, process.env['BOILBOOK_DATA'].trim())
  : at('data');

// npm runs a script in the package's folder; paths that a person typed are meant from where they stood.
if (command === 'book' && process.env['INIT_CWD']) process.chdir(process.env['INIT_CWD']);
if (command !== 'book') process.chdir(root);
const run = commands[command];
if (!run) {
  console.error(`There is no command ${command}. There are: ${Object.keys(commands).join(', ')}`);
  process.exit(2);
}
await run();

/** In this very process, so that signals and exit status are its own. */
async function runHere(script) {
  process.setSourceMapsEnabled(true);
  process.argv = [process.argv[0], at('dist', script), ...rest];
  await import(pathToFileURL(at('dist', script)).href);
}

/** A stamp in node_modules says which lock file was installed; without a network nothing is asked when it fits. */
function ensureInstalled() {
  const lock = createHash('sha256')
    .update(readFileSync(at('package-lock.json')))
    .digest('hex');
  const stamp = at('node_modules/.boilbook-lock');
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === lock) return;
  console.error('Installing what is missing (once; this takes a minute or two) …');
  const npm = process.env['npm_execpath'];
  const options = { cwd: root, stdio: toStderr };
  const args = ['ci', '--no-audit', '--no-fund'];
  const done = npm ? spawnSync(process.execPath, [npm, ...args], options) : spawnSync('npm', args, options);
  mustPass(done.status ?? 1);
  writeFileSync(stamp, lock);
}

/** What changed since is transpiled file by file; where the fast compiler isn't installed, all of it is compiled. */
async function ensureBuilt() {
  const built = at('dist/.built');
  if (existsSync(built) && statSync(built).mtimeMs >= newestSource()) return;
  const began = Date.now();
  if (existsSync(built) && (await transpileChanged(at('dist'))) !== undefined)
    writeFileSync(built, new Date(began).toISOString());
  else build();
}

/** Serves, and starts the server anew when a source or a page was saved. */
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
  return spawn(process.execPath, ['--enable-source-maps', server, ...rest], { stdio: 'inherit' });
}

/** Into a folder of its own, then into place: a server or a command that runs meanwhile never sees half of it. */
function build() {
  const part = at(`.dist-part-${process.pid}`);
  rmSync(part, { recursive: true, force: true });
  const began = Date.now();
  const status = node(
    [typescript(), '-p', at('tsconfig.json'), '--outDir', part, '--incremental', 'false', '--tsBuildInfoFile', 'null'],
    {},
    toStderr,
  );
  if (status !== 0) rmSync(part, { recursive: true, force: true });
  mustPass(status);
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
  const tsc = at('node_modules/typescript/bin/tsc');
  if (!existsSync(tsc)) {
    console.error('The packages are not installed. npm start or npm test installs them, or: npm ci');
    process.exit(1);
  }
  return tsc;
}

// What the build says must not stand in a command's answer.
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
