// Which packages are installed, and what is missing for a command: those that run the book, or also those that test it.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/**
 * Installs what a command lacks. A stamp in node_modules says which lock file was installed, and `production` behind it
 * where that was without the tools for tests; all of them satisfy a command that needs fewer, and without a network
 * nothing is asked.
 * @param {string} root the folder of package.json
 * @param {'production' | 'all'} needed
 * @returns {number} the exit status of npm, 0 where nothing was missing
 */
export function ensureInstalled(root, needed) {
  const lock = createHash('sha256')
    .update(readFileSync(join(root, 'package-lock.json')))
    .digest('hex');
  const stamp = join(root, 'node_modules/.boilbook-lock');
  const [installedLock, installedSet = 'all'] = existsSync(stamp) ? readFileSync(stamp, 'utf8').split(' ') : [];
  const before = installedLock === undefined ? undefined : installedSet;
  if (installedLock === lock && (before === 'all' || needed === 'production')) return 0;
  // Once there, the tools for tests stay: an update should not take them away.
  const set = needed === 'all' || before === 'all' ? 'all' : 'production';
  console.error('Installing what is missing (once; this takes a minute or two) …');
  // `npm ci` empties the folder, under a server that may be running: only where nothing was installed.
  const args = existsSync(join(root, 'node_modules')) ? ['install', '--no-save'] : ['ci'];
  const status =
    npm(root, [
      ...args,
      ...(set === 'production' ? ['--omit=dev'] : ['--include=dev']),
      '--ignore-scripts',
      '--no-audit',
      '--no-fund',
    ]) || runScripts(root);
  if (status === 0) writeFileSync(stamp, set === 'all' ? lock : `${lock} ${set}`);
  return status;
}

/**
 * No package runs a script as it is installed but those that package.json names, which can't do without: older npm reads
 * no such list, so that all are left out first and these are run by name. A mark in a package says that its script ran;
 * it goes when the package is replaced.
 */
function runScripts(root) {
  const { allowScripts } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  const markOf = (name) => join(root, 'node_modules', name, '.boilbook-scripts');
  const named = Object.keys(allowScripts).filter(
    (name) => allowScripts[name] && existsSync(join(root, 'node_modules', name)) && !existsSync(markOf(name)),
  );
  // npm itself says nothing meanwhile.
  if (named.length > 0)
    console.error(`Preparing ${named.join(', ')} (some minutes where it has to be compiled here) …`);
  const status = named.length === 0 ? 0 : npm(root, ['rebuild', '--ignore-scripts=false', ...named]);
  if (status === 0) for (const name of named) writeFileSync(markOf(name), '');
  return status;
}

function npm(root, args) {
  // npm's output must not mix with a command's output.
  const options = { cwd: root, stdio: ['inherit', 2, 2] };
  const path = process.env['npm_execpath'];
  const done = path ? spawnSync(process.execPath, [path, ...args], options) : spawnSync('npm', args, options);
  return done.status ?? 1;
}
