import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { packageRoot } from '#libs/package-root.js';
import { catalogue } from '../../apps/cli/catalogue.js';
import { commandsNamed } from '../../apps/cli/commands.js';
import { nearestName } from '../../apps/cli/did-you-mean.js';
import { spawningTerminal, importPracticeSeason, type Terminal } from '../support/command-line.js';

const program = join(packageRoot, 'dist', 'apps', 'cli', 'main.js');

/** The npm packages that the program loaded. */
const packagesLoaded = (...text: string[]): string[] => [
  ...new Set(filesLoaded(text).flatMap((url) => /node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(url)?.[1] ?? [])),
];

/** The addresses of the modules that the program loaded, as Node itself counts them. */
function filesLoaded(text: readonly string[], data?: string): string[] {
  const folder = mkdtempSync(join(tmpdir(), 'boilbook-loaded-'));
  try {
    const env = { PATH: process.env['PATH'], BOILBOOK_DATA: data ?? join(folder, 'data'), NODE_V8_COVERAGE: folder };
    const done = spawnSync(process.execPath, [program, ...text], { cwd: folder, env, encoding: 'utf8' });
    expect([text, done.status, done.stderr]).toEqual([text, 0, '']);
    const urls = readdirSync(folder)
      .filter((name) => name.endsWith('.json'))
      .flatMap((name) => (JSON.parse(readFileSync(join(folder, name), 'utf8')) as { result: { url: string }[] }).result)
      .map(({ url }) => url);
    expect(urls.some((url) => url.endsWith('apps/cli/main.js'))).toBe(true);
    return urls;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const heavy = /^(typeorm|sqlite3|pg|zod|pdfkit|qrcode|exceljs|svg-to-pdfkit|@node-rs\/argon2.*)$/;

describe('A command loads only what it needs:', () => {
  test.each([['--help'], ['--version'], ['key', '--help']])('no npm package for %s %s', (...text) =>
    expect(packagesLoaded(...text.filter((word) => word))).toEqual([]),
  );

  test.each(['act', 'labels', 'summary', 'trace', 'recall'])(
    'no database, schema or drawing for book %s --help',
    (name) => expect(packagesLoaded(name, '--help').filter((each) => heavy.test(each))).toEqual([]),
  );

  test('the database and nothing else that is slow to load where the book is only read', () => {
    const loaded = packagesLoaded('house', 'list');
    expect(loaded).toContain('typeorm');
    expect(loaded.filter((each) => heavy.test(each) && !/typeorm|sqlite/.test(each))).toEqual([]);
  });

  test('no database and nothing that draws for a calculator without a book', () => {
    const loaded = packagesLoaded('reckon', 'weight', '--volume', '1 gal', '--density', '66.9 Bx');
    expect(loaded.filter((name) => heavy.test(name))).toEqual([]);
  });
});

test('the help lists every command correctly, and no other', async () => {
  // record has one command for each kind, and one line for all of them.
  const result = (await commandsNamed())
    .filter(({ name }) => !name.startsWith('record '))
    .map(({ name, usage, summary }) => ({ name, usage, summary }));
  const byName = (one: { name: string }, other: { name: string }): number => (one.name < other.name ? -1 : 1);
  expect([...catalogue].sort(byName)).toEqual(result.sort(byName));
});

test('a suggestion is a name one or two typos away, and no further', () => {
  const names = ['trace', 'labels', 'summary', 'recall', 'release', 'mock-recall'];
  expect(nearestName('tarce', names)).toBe('trace');
  expect(nearestName('lables', names)).toBe('labels');
  expect(nearestName('sumary', names)).toBe('summary');
  expect(nearestName('Recal', names)).toBe('recall');
  expect(nearestName('sell', names)).toBeUndefined();
  expect(nearestName('', names)).toBeUndefined();
});

describe('In a terminal', () => {
  let terminal: Terminal;
  beforeAll(async () => {
    terminal = spawningTerminal();
    await importPracticeSeason(terminal);
  }, 120_000);
  afterAll(() => terminal.remove());

  test('--version says which program it is', async () => {
    const { version } = JSON.parse(readFileSync(join(packageRoot, 'package.json'), 'utf8')) as { version: string };
    expect(await terminal.run('--version')).toEqual({ exit: 0, out: `boilbook ${version}\n`, err: '' });
  });

  test.each([
    [['tarce', '26065A-1'], /Unknown command "tarce"\. Did you mean trace\?/],
    [['person', 'ad'], /got "ad"\. Did you mean add\?/],
    [['labels', '26065A-1', '--stok', 'x'], /Unknown option '--stok'\. Did you mean --stock\?/],
    [['hold', '26065A-1', '--wy', 'x'], /Did you mean --why\?/],
    [['sell'], /^Unknown command "sell"\. See book --help\.\n$/],
  ])('%j is answered with a suggestion, exit 2', async (text, says) => {
    const formatted = await terminal.call(...text);
    expect([formatted.exit, formatted.out]).toEqual([2, '']);
    expect(formatted.err).toMatch(says);
  });

  test('the help of one command opens no book', async () => {
    const fresh = terminal.at('nowhere');
    expect(await fresh.call('trace', '--help')).toMatchObject({ exit: 0, err: '' });
    expect(await fresh.call('trace', '26065A-1', '--help')).toMatchObject({ exit: 0, err: '' });
    expect(existsSync(fresh.book)).toBe(false);
  });

  test('what only reads loads no rules and nothing that writes', () => {
    const judging = /libs\/(actions\/judging\/judge-lots|syrup\/rules\/judge-pack|actions\/record\/record)\.js$/;
    const loaded = (...text: string[]) => filesLoaded(text, terminal.book).filter((url) => judging.test(url));
    expect([loaded('house', 'list'), loaded('trace', '26065A-1')]).toEqual([[], []]);
    expect(loaded('trace', '26065A-1', '--why')).toHaveLength(2);
  });

  test('mock-recall records the same as practise', async () => {
    const done = await terminal.json<{ jar: string; entry: number }>('mock-recall');
    const again = await terminal.json<{ jar: string; entry: number }>('practise');
    expect([Object.keys(done), again.entry]).toEqual([Object.keys(again), done.entry + 1]);
  });

  test('a pipe gets no progress: standard error is kept for messages', async () => {
    expect((await terminal.run('verify')).err).toBe('');
  });
});
