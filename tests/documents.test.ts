import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from '@jest/globals';
import { packageRoot } from '#libs/package-root.js';

const words = (name: string): string => readFileSync(join(packageRoot, name), 'utf8');
const sources = (folder: string): string =>
  readdirSync(join(packageRoot, folder), { recursive: true, withFileTypes: true })
    .filter((each) => each.isFile() && /\.(ts|mjs)$/.test(each.name))
    .map((each) => readFileSync(join(each.parentPath, each.name), 'utf8'))
    .join('\n');

test('README tells of every setting that the program asks the environment for', () => {
  const request = new Set(`${sources('apps')}${sources('libs')}`.match(/\bBOILBOOK_[A-Z_]+[A-Z]\b/g));
  expect(request.size).toBeGreaterThan(5);
  expect([...request].filter((name) => !words('README.md').includes(name))).toEqual([]);
});

test('README names every command', () => {
  const first = [...words('apps/cli/commands.ts').matchAll(/^ {2}([a-z]+): async \(\) =>/gm)].map(
    (found) => found[1] ?? '',
  );
  expect(first.length).toBeGreaterThan(15);
  const result = words('README.md');
  expect(first.filter((name) => !new RegExp(`\`${name}[ \`]`).test(result))).toEqual([]);
});

test('DEVELOPERS.md says what each kind of refusal is', () => {
  const kinds = [...words('libs/actions/record/problem.ts').matchAll(/readonly kind: '([a-z-]+)'/g)].map(
    (found) => found[1] ?? '',
  );
  expect(kinds.length).toBeGreaterThan(3);
  expect(kinds.filter((kind) => !words('DEVELOPERS.md').includes(`\`${kind}\``))).toEqual([]);
});

test('README opens with the job and then the two commands', () => {
  const [title, job, commands] = words('README.md').split(/\n\n+/);
  expect(title).toBe('# Boilbook');
  expect(job).toMatch(/^A family makes maple syrup/);
  expect(commands).toMatch(/npm start[\s\S]*npm test/);
});

test('the top level is what was asked for', () => {
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
