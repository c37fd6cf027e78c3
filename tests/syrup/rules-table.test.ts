import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from '@jest/globals';
import { packageRoot } from '#libs/package-root.js';
import { rules, rulesTable } from '#libs/syrup/rules/rules.js';

test('each rule has a unique name, a unique title in plain words, a sentence, a source and a provenance', () => {
  expect(new Set(rules.map(({ name }) => name)).size).toBe(rules.length);
  expect(new Set(rules.map(({ title }) => title)).size).toBe(rules.length);
  for (const rule of rules) {
    expect(rule.title).toMatch(/^[A-Z][^|\n]{5,48}$/);
    expect(rule.name).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
    expect(rule.says).toMatch(/^[A-Z][^|\n]+\.$/);
    expect(rule.source).toMatch(/^[^|\n]{5,}$/);
  }
});

test('libs/syrup/README.md lists every rule as it is applied', () => {
  const developers = readFileSync(join(packageRoot, 'libs/syrup/README.md'), 'utf8').replace(/ +/g, ' ');
  const missing = rulesTable()
    .split('\n')
    .slice(2)
    .filter((row) => !developers.includes(row));
  expect(missing).toEqual([]);
});
