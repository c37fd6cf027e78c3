import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, test } from '@jest/globals';
import { packageRoot } from '#libs/package-root.js';

const at = (path: string): string => pathToFileURL(join(packageRoot, path)).href;

test('a stack trace of the built program names source lines, and leaves other lines as they are', () => {
  const source = join(packageRoot, 'libs/syrup/codes/jar-codes.ts');
  const line = readFileSync(source, 'utf8')
    .split('\n')
    .findIndex((each) => each.includes('throw new RangeError'));
  const script = `const { jarCodeFrom } = await import(${JSON.stringify(at('dist/libs/syrup/codes/jar-codes.js'))});
    try { jarCodeFrom(new Uint8Array(2)); } catch (fault) { console.log(fault.stack); }
    console.log(new Error('of another place').stack);`;
  const { stdout } = spawnSync(
    process.execPath,
    ['--import', at('apps/source-lines.mjs'), '--input-type=module', '-e', script],
    { encoding: 'utf8' },
  );
  expect(stdout).toContain('RangeError: a jar code needs 7 bytes, not 2\n');
  expect(stdout).toContain(`at jarCodeFrom (${source}:${line + 1}:`);
  expect(stdout).toMatch(/Error: of another place\n {4}at \S*\[eval1\]:3:\d+/);
});
