import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from '@jest/globals';
import { packageRoot } from '#libs/package-root.js';

const document = (name: string): string => readFileSync(join(packageRoot, name), 'utf8');
const sources = (folder: string): string =>
  readdirSync(join(packageRoot, folder), { recursive: true, withFileTypes: true })
    .filter((each) => each.isFile() && /\.(ts|mjs)$/.test(each.name))
    .map((each) => readFileSync(join(each.parentPath, each.name), 'utf8'))
    .join('\n');

test('README describes every environment variable that the program reads, the tests’ README those of tests', () => {
  const request = new Set(`${sources('apps')}${sources('libs')}`.match(/\bBOILBOOK_[A-Z_]+[A-Z]\b/g));
  expect(request.size).toBeGreaterThan(5);
  const where = (name: string) => (name.startsWith('BOILBOOK_TEST_') ? 'tests/README.md' : 'README.md');
  expect([...request].filter((name) => !document(where(name)).includes(name))).toEqual([]);
});

test('README names every command', () => {
  const first = [...document('apps/cli/commands.ts').matchAll(/^ {2}([a-z]+): async \(\) =>/gm)].map(
    (found) => found[1] ?? '',
  );
  expect(first.length).toBeGreaterThan(15);
  const result = document('README.md');
  expect(first.filter((name) => !new RegExp(`\`${name}[ \`]`).test(result))).toEqual([]);
});

test('DEVELOPERS.md describes each kind of refusal', () => {
  const kinds = [...document('libs/actions/record/problem.ts').matchAll(/readonly kind: '([a-z-]+)'/g)].map(
    (found) => found[1] ?? '',
  );
  expect(kinds.length).toBeGreaterThan(3);
  expect(kinds.filter((kind) => !document('DEVELOPERS.md').includes(`\`${kind}\``))).toEqual([]);
});

test('every library and program has a README of its own, and DEVELOPERS.md stays short', () => {
  const folders = ['libs', 'apps'].flatMap((top) =>
    readdirSync(join(packageRoot, top), { withFileTypes: true })
      .filter((each) => each.isDirectory())
      .map((each) => `${top}/${each.name}`),
  );
  expect(folders.length).toBeGreaterThan(8);
  expect(folders.filter((folder) => !readdirSync(join(packageRoot, folder)).includes('README.md'))).toEqual([]);
  expect(document('DEVELOPERS.md').length).toBeLessThanOrEqual(12_000);
});

test('every file and folder that the documents name exists', () => {
  const documents = ['DEVELOPERS.md', 'README.md', '.github/CONTRIBUTING.md', 'libs/actions/README.md'];
  const named = documents.flatMap((name) =>
    [...document(name).matchAll(/`((?:apps|libs|templates|tests)\/[A-Za-z0-9/.-]+)`/g)].map((found) => found[1] ?? ''),
  );
  expect(named.length).toBeGreaterThan(5);
  const candidates = (path: string): string[] => [path, `${path}.ts`, `${path}.test.ts`];
  expect(named.filter((path) => !candidates(path).some((each) => existsSync(join(packageRoot, each))))).toEqual([]);
});

test('README opens with the job and then the two commands', () => {
  const [title, job, commands] = document('README.md').split(/\n\n+/);
  expect(title).toBe('# Boilbook');
  expect(job).toMatch(/^A family makes maple syrup/);
  expect(commands).toMatch(/npm start[\s\S]*npm test/);
});

test('the top level contains only the agreed files and folders', () => {
  const request = [
    'README.md',
    'DEVELOPERS.md',
    'package.json',
    'package-lock.json',
    'tsconfig.json',
    'LICENSE',
    'apps',
    'libs',
    'templates',
    'tests',
  ];
  const made = ['node_modules', 'dist', 'data'];
  const there = readdirSync(packageRoot).filter((name) => !name.startsWith('.') && !made.includes(name));
  expect(there.sort()).toEqual(request.sort());
});
