import { existsSync, lstatSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, beforeEach, expect, test } from '@jest/globals';
import { packageRoot } from '#libs/package-root.js';

// npm is replaced by a script that records its arguments: what npm does with them isn't tested here.
const npm = `
  const { appendFileSync, mkdirSync } = require('node:fs');
  appendFileSync('asked', process.argv.slice(2).join(' ') + '\\n');
  mkdirSync('node_modules/sqlite3', { recursive: true });`;

let root = '';
const before = process.env['npm_execpath'];
beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'boilbook-installed-'));
  writeFileSync(join(root, 'npm.cjs'), npm);
  writeFileSync(join(root, 'package.json'), JSON.stringify({ allowScripts: { sqlite3: true, other: false } }));
  writeFileSync(join(root, 'package-lock.json'), '{"first":1}');
  process.env['npm_execpath'] = join(root, 'npm.cjs');
});
afterEach(() => {
  if (before === undefined) delete process.env['npm_execpath'];
  else process.env['npm_execpath'] = before;
  rmSync(root, { recursive: true, force: true });
});

async function packagesNeeded(needed: 'production' | 'all'): Promise<string[]> {
  const path = pathToFileURL(join(packageRoot, 'apps/installed.mjs')).href;
  const { ensureInstalled } = (await import(path)) as { ensureInstalled: (root: string, set: string) => number };
  expect(ensureInstalled(root, needed)).toBe(0);
  const file = join(root, 'asked');
  const lines = existsSync(file) ? readFileSync(file, 'utf8').trim().split('\n') : [];
  rmSync(file, { force: true });
  return lines;
}
const plain = '--ignore-scripts --no-audit --no-fund';

test('npm start installs no test tool, and runs only the install scripts that are allowed', async () => {
  expect(await packagesNeeded('production')).toEqual([
    `ci --omit=dev ${plain}`,
    'rebuild --ignore-scripts=false sqlite3',
  ]);
  expect(await packagesNeeded('production')).toEqual([]);
});

test('test tools are added to the installed packages, which stay', async () => {
  await packagesNeeded('production');
  expect(await packagesNeeded('all')).toEqual([`install --no-save --include=dev ${plain}`]);
  expect([await packagesNeeded('production'), await packagesNeeded('all')]).toEqual([[], []]);
});

test('an update removes no test tools, and never empties the folder', async () => {
  await packagesNeeded('all');
  writeFileSync(join(root, 'package-lock.json'), '{"second":2}');
  expect(await packagesNeeded('production')).toEqual([`install --no-save --include=dev ${plain}`]);
  expect(await packagesNeeded('all')).toEqual([]);
});

test('the packages that npm start installs take less than 150 MB before the database is compiled', () => {
  const lock = JSON.parse(readFileSync(join(packageRoot, 'package-lock.json'), 'utf8')) as {
    packages: Record<string, { dev?: boolean; devOptional?: boolean }>;
  };
  const folders = Object.entries(lock.packages)
    .filter(([path, { dev, devOptional }]) => path.startsWith('node_modules/') && !dev && !devOptional)
    .map(([path]) => join(packageRoot, path))
    .filter((path) => existsSync(path));
  expect(folders.length).toBeGreaterThan(250);
  const bytes = folders.reduce((sum, folder) => sum + sizeOf(folder), 0);
  expect({ megabytes: bytes / 1e6, fits: bytes < 150e6 }).toMatchObject({ fits: true });
});

/** Bytes of a package, without nested packages, which the lock file lists themselves, and without compiled binaries. */
function sizeOf(folder: string): number {
  return readdirSync(folder, { withFileTypes: true }).reduce((sum, entry) => {
    const isApart = entry.name === 'node_modules' || (entry.name === 'build' && folder.endsWith('/sqlite3'));
    if (entry.isDirectory()) return isApart ? sum : sum + sizeOf(join(folder, entry.name));
    return sum + lstatSync(join(folder, entry.name)).size;
  }, 0);
}
