// Installs the npm packages that a command needs: those that run the book, or also those that test it.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/**
 * Installs missing packages. A stamp in node_modules holds the hash of the installed lock file, followed by
 * `production` if the test tools were left out. A complete install satisfies every command, and then npm isn't run, so
 * no network is needed.
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
  // Test tools that are installed stay installed: an update should not remove them.
  const set = needed === 'all' || before === 'all' ? 'all' : 'production';
  console.error('Installing what is missing (once; this takes a minute or two) …');
  // `npm ci` empties the folder, perhaps under a running server, so it is used only for the first install.
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
 * Only the packages in package.json's `allowScripts` run their install scripts. Older npm ignores that list, so the
 * install skips all scripts and these are run by name. A file in the package records that its script ran; it disappears
 * when the package is replaced.
 */
function runScripts(root) {
  const { allowScripts } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  const markOf = (name) => join(root, 'node_modules', name, '.boilbook-scripts');
  const named = Object.keys(allowScripts).filter(
    (name) => allowScripts[name] && existsSync(join(root, 'node_modules', name)) && !existsSync(markOf(name)),
  );
  // npm prints nothing during this step.
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
