import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from '@jest/globals';
import { packageRoot } from '#libs/package-root.js';

/** The commands of the README's walk, one per line: a newcomer types them first, so they are run here too. */
function walk(): string[] {
  const readme = readFileSync(join(packageRoot, 'README.md'), 'utf8');
  const block = /<!-- walk -->\s*```\w*\n([\s\S]*?)```/.exec(readme)?.[1] ?? '';
  return block
    .replace(/\\\n\s*/g, ' ')
    .split('\n')
    .map((line) => line.replace(/^\$ /, '').trim())
    .filter((line) => line !== '' && !line.startsWith('#'));
}

test('every command of the README’s walk does what it says, in the order given', () => {
  const lines = walk();
  expect(lines.length).toBeGreaterThan(5);
  const folder = mkdtempSync(join(tmpdir(), 'boilbook-walk-'));
  // The walk is typed in the README's folder; the files that it imports are in it.
  symlinkSync(join(packageRoot, 'templates'), join(folder, 'templates'));
  const program = `"${process.execPath}" "${join(packageRoot, 'dist', 'apps', 'cli', 'main.js')}"`;
  try {
    for (const line of lines) {
      expect(line).toMatch(/npm run --silent book -- /);
      const done = spawnSync('sh', ['-c', line.replaceAll('npm run --silent book --', program)], {
        cwd: folder,
        env: { PATH: process.env['PATH'], BOILBOOK_DATA: join(folder, 'data') },
        encoding: 'utf8',
      });
      expect({ line, exit: done.status, err: done.status === 0 ? '' : done.stderr }).toEqual({
        line,
        exit: 0,
        err: '',
      });
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}, 240_000);
