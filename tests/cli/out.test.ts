import { spawn, spawnSync } from 'node:child_process';
import {
  chmodSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  readlinkSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { Writable } from 'node:stream';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { packageRoot } from '#libs/package-root.js';
import { runCommand } from '../../apps/cli/run-command.js';
import { readPdf } from '../support/read-pdf.js';

import { spawningTerminal, importPracticeSeason, headOf, type Terminal } from '../support/command-line.js';

let terminal: Terminal;
beforeAll(async () => {
  terminal = spawningTerminal();
  await importPracticeSeason(terminal);
}, 120_000);
afterAll(() => terminal.remove());

const program = join(packageRoot, 'dist', 'apps', 'cli', 'main.js');
const environment = () => ({ PATH: process.env['PATH'], BOILBOOK_DATA: terminal.book, BOILBOOK_BY: 'WE' });
/** Runs a line as typed into a shell, where `book` is the program. */
const shell = (line: string) =>
  spawnSync('bash', ['-c', line.replaceAll(/\bbook\b(?= )/g, `"${process.execPath}" "${program}"`)], {
    cwd: terminal.folder,
    env: environment(),
    // Bash reads the start-up files of an interactive shell if its input is a socket.
    stdio: ['ignore', 'pipe', 'pipe'],
    maxBuffer: 1 << 28,
  });

const labels = 'labels 26065A-1 --stock letter-30-up-66x25 --to 2';
const documents: readonly (readonly [string, string])[] = [
  [labels, '%PDF-'],
  ['recall 26065A-1 --only-list', '%PDF-'],
  ['summary 2026 --format pdf', '%PDF-'],
  ['summary 2026 --format xlsx', 'PK'],
  ['summary 2026 --format csv', '"Lot'],
  ['summary 2026 --format json', '{'],
  ['summary 2026 --format jsonld', '{'],
  ['stocks letter-30-up-66x25', '%PDF-'],
  ['log', '{"about"'],
];

/** A printed PDF, a document in many pieces and a text go through pipes of processes; all go to a stream by a call. */
const piped = documents.filter(([text]) => [labels, 'summary 2026 --format xlsx', 'log'].includes(text));

const expectDocument = async (text: string, begins: string, status: number | null, bytes: Buffer): Promise<void> => {
  expect([text, status, bytes.subarray(0, begins.length).toString()]).toEqual([text, 0, begins]);
  if (begins === '%PDF-') expect((await readPdf(bytes)).pages.length).toBeGreaterThan(0);
  if (text.endsWith('json')) expect(JSON.parse(bytes.toString())).toMatchObject({ year: 2026 });
};

test.each(piped)('%s is piped to standard output, with nothing else in it', async (text, begins) => {
  const done = shell(`book ${text} --out - | cat`);
  await expectDocument(text, begins, done.status, done.stdout);
});

test.each(piped)('%s ends quietly where the reader closes the pipe early', (text) => {
  // Nobody reads: the pipe is closed before the program starts to write.
  const gone = shell(`set -o pipefail; (sleep 0.3; book ${text} --out -) | true`);
  expect([text, gone.status, gone.stderr.toString()]).toEqual([text, 141, '']);
});

test('a reader that takes one line of a long or a short output gets it, and no message follows', () => {
  const log = shell('book log --out - | head -1');
  expect([log.status, log.stdout.toString().split('\n').length]).toEqual([0, 2]);
  expect(log.stderr.toString()).toMatch(/^(Standard output: \d+ entries\.\n)?$/);
  for (const line of ['book trace 26065A-1 --json', 'book --help', 'book stocks']) {
    const done = shell(`set -o pipefail; ${line} | true`);
    expect([line, [0, 141].includes(done.status ?? -1), done.stderr.toString()]).toEqual([line, true, '']);
  }
});

test('what was saved is saved, with exit 0, though nobody reads what is printed about it', async () => {
  const before = await headOf(terminal);
  const done = shell('set -o pipefail; (sleep 0.3; book hold 26065A-1 --why "a loose lid") | true');
  expect([done.status, done.stderr.toString()]).toEqual([0, '']);
  expect((await headOf(terminal)).entries).toBe(before.entries + 1);
  expect(shell('book release 26065A-1 --why "all lids looked at"').status).toBe(0);
});

test('the device of standard output is standard output, and stays a device', () => {
  const done = shell('book log --out /dev/stdout | cat');
  expect([done.status, done.stdout.subarray(0, 8).toString()]).toEqual([0, '{"about"']);
  expect(lstatSync('/dev/stdout').isSymbolicLink()).toBe(true);
});

test('messages about a piped document go to standard error', () => {
  const done = shell('book log --out -');
  expect(done.stderr.toString()).toMatch(/^Standard output: \d+ entries\.\n$/);
  expect(
    done.stdout
      .toString()
      .trimEnd()
      .split('\n')
      .every((line) => JSON.parse(line) !== null),
  ).toBe(true);
});

test('a JSON value and a document can’t share standard output', async () => {
  const before = await headOf(terminal);
  for (const out of ['-', '/dev/stdout']) {
    const done = await terminal.run('recall', '26065A-1', '--out', out, '--json');
    expect([done.exit, done.out]).toEqual([2, '']);
    expect(done.err).toMatch(/^Out: expected a file name, since --json/);
  }
  expect(await headOf(terminal)).toEqual(before);
});

test('a summary to standard output needs its format', async () => {
  const done = await terminal.call('summary', '2026', '--out', '-');
  expect([done.exit, done.out]).toEqual([2, '']);
  expect(done.err).toMatch(/^Format: expected one of pdf, xlsx, csv, json, jsonld/);
  expect((await terminal.call('summary', '2026', '--out', '-', '--format', 'doc')).exit).toBe(2);
});

test('a device is written to directly and stays a device', () => {
  const before = statSync('/dev/null');
  for (const text of [labels, 'log']) {
    const done = shell(`book ${text} --out /dev/null`);
    expect([text, done.status, done.stderr.toString().includes('Out:')]).toEqual([text, 0, false]);
  }
  const after = statSync('/dev/null');
  expect([after.isCharacterDevice(), after.ino]).toEqual([true, before.ino]);
});

test('a named pipe and a stream opened by the shell are written to directly', async () => {
  shell('mkfifo pipe');
  const reader = spawn('cat', [terminal.path('pipe')]);
  let read = '';
  reader.stdout.on('data', (some: Buffer) => (read += some.toString('latin1')));
  const closed = new Promise((done) => reader.once('close', done));
  expect((await terminal.run(...`${labels} --out`.split(' '), terminal.path('pipe'))).exit).toBe(0);
  await closed;
  expect(read.startsWith('%PDF-')).toBe(true);
  expect(lstatSync(terminal.path('pipe')).isFIFO()).toBe(true);
  const done = shell('book log --out >(cat > through.jsonl); wait $!; sleep 0.2; head -c 8 through.jsonl');
  expect(done.stdout.toString()).toContain('{"about"');
  const third = shell('book log --out /dev/fd/3 3> third.jsonl && wc -l < third.jsonl');
  expect(third.stdout.toString()).toMatch(/: \d+ entries\.\n\d+\n$/);
});

test('an existing file is overwritten only with --force, and keeps its mode', async () => {
  const file = terminal.path('mine.pdf');
  writeFileSync(file, 'a letter to the inspector');
  chmodSync(file, 0o640);
  const before = await headOf(terminal);
  for (const text of [labels, 'recall 26065A-1']) {
    const done = await terminal.call(...text.split(' '), '--out', file);
    expect([done.exit, done.out]).toEqual([2, '']);
    expect(done.err).toBe(`Out: expected a file that does not exist yet, or --force to overwrite it, got "${file}"\n`);
  }
  // Nothing is printed or recalled for a document that isn't written.
  expect(await headOf(terminal)).toEqual(before);
  expect(readFileSync(file, 'utf8')).toBe('a letter to the inspector');
  expect((await terminal.call(...labels.split(' '), '--out', file, '--force')).exit).toBe(0);
  expect(readFileSync(file, 'latin1').startsWith('%PDF-')).toBe(true);
  expect(statSync(file).mode & 0o777).toBe(0o640);
});

test('no document is written over the record book or a backup, also with --force', async () => {
  const before = await headOf(terminal);
  expect((await terminal.call('backup', terminal.path('kept.sqlite'))).exit).toBe(0);
  symlinkSync(terminal.path('kept.sqlite'), terminal.path('linked.pdf'));
  for (const [text, name] of [
    [labels, 'linked.pdf'],
    ['recall 26065A-1', 'linked.pdf'],
    ['summary 2026 --format csv', 'kept.sqlite'],
  ] as const) {
    const file = terminal.path(name);
    const done = await terminal.call(...text.split(' '), '--out', file, '--force');
    const expected = `Out: expected a file that is not a record book or a backup, got "${file}", which is a database\n`;
    expect([done.exit, done.out, done.err]).toEqual([2, '', expected]);
  }
  expect(readFileSync(terminal.path('kept.sqlite'), 'latin1').startsWith('SQLite format 3')).toBe(true);
  expect(await headOf(terminal)).toEqual(before);
});

test('a link is followed and stays a link, also one whose target doesn’t exist yet', async () => {
  mkdirSync(terminal.path('far'));
  symlinkSync('far/real.pdf', terminal.path('link.pdf'));
  const print = (...more: string[]) => terminal.call(...labels.split(' '), '--out', terminal.path('link.pdf'), ...more);
  expect((await print()).exit).toBe(0);
  expect(readlinkSync(terminal.path('link.pdf'))).toBe('far/real.pdf');
  expect(readdirSync(terminal.path('far'))).toEqual(['real.pdf']);
  expect((await print()).exit).toBe(2);
  writeFileSync(terminal.path('far/real.pdf'), 'old');
  expect((await print('--force')).exit).toBe(0);
  expect(lstatSync(terminal.path('link.pdf')).isSymbolicLink()).toBe(true);
  expect(readFileSync(terminal.path('far/real.pdf'), 'latin1').startsWith('%PDF-')).toBe(true);
  symlinkSync('round.pdf', terminal.path('round.pdf'));
  expect((await terminal.call(...labels.split(' '), '--out', terminal.path('round.pdf'))).exit).toBe(2);
});

test('a missing folder is named and not created; a folder is no file', async () => {
  const done = await terminal.call(...labels.split(' '), '--out', terminal.path('no/such/labels.pdf'));
  expect([done.exit, done.out]).toEqual([2, '']);
  expect(done.err).toContain(`there is no folder ${terminal.path('no/such')}`);
  expect(readdirSync(terminal.folder)).not.toContain('no');
  mkdirSync(terminal.path('folder.pdf'));
  expect((await terminal.call(...labels.split(' '), '--out', terminal.path('folder.pdf'))).err).toContain('the folder');
  writeFileSync(terminal.path('file'), '');
  expect((await terminal.call(...labels.split(' '), '--out', terminal.path('file/labels.pdf'))).exit).toBe(2);
});

test('labels whose pipe was closed are not recorded as printed', async () => {
  const before = await headOf(terminal);
  const done = await terminal.runUntilClosed(0, 'labels', '26065A-1', '--stock', 'letter-30-up-66x25', '--out', '-');
  expect([done.exit, done.err]).toEqual([141, '']);
  expect(await headOf(terminal)).toEqual(before);
});

test('no half-written file is left beside a document', () => {
  const left = readdirSync(terminal.folder, { recursive: true }).filter((name) => String(name).includes('unfinished'));
  expect(left).toEqual([]);
});

// Last in the file: after these calls in the test's own process a spawned command takes many seconds.

/** Runs a command by a call, its standard output a stream that `write` receives. */
async function callInto(text: string, write: (part: Buffer, done: (fault?: Error) => void) => void) {
  const errors: Buffer[] = [];
  const stdout = new Writable({ write: (part: Buffer, _, done) => write(part, done) });
  stdout.on('error', () => {});
  const stderr = new Writable({ write: (part: Buffer, _, done) => (errors.push(part), done()) });
  const status = await runCommand([...text.split(' '), '--out', '-'], { env: environment(), stdout, stderr });
  return { status, errors: Buffer.concat(errors).toString() };
}

test.each(documents)('%s goes to standard output, with nothing else in it', async (text, begins) => {
  const parts: Buffer[] = [];
  const { status } = await callInto(text, (part, done) => (parts.push(part), done()));
  await expectDocument(text, begins, status, Buffer.concat(parts));
});

test.each(documents)('%s ends quietly where the first write to standard output fails', async (text) => {
  const closed = Object.assign(new Error('write EPIPE'), { code: 'EPIPE' });
  expect(await callInto(text, (_, done) => done(closed))).toEqual({ status: 141, errors: '' });
});
