import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { Writable } from 'node:stream';
import { importRows } from '#libs/actions/import/import-rows.js';
import { importKinds } from '#libs/actions/kinds/registry.js';
import { type Book, openBook } from '#libs/store/book.js';
import { type Head, readHead } from '#libs/store/log/log.js';
import { packageRoot } from '#libs/package-root.js';
import { runCommand } from '../../apps/cli/run-command.js';
import { whereBooksAre } from './where-books-are.mjs';

/** The output of a command, and its exit status. */
export interface CommandOutput {
  readonly exit: number | null;
  readonly out: string;
  readonly err: string;
}

/** The command line in a folder of its own: what a person has in a terminal. */
export interface Terminal {
  readonly folder: string;
  /** Where the book of this terminal is. */
  readonly book: string;
  path(name: string): string;
  run(...text: string[]): Promise<CommandOutput>;
  /** Runs it by a call in this process, which has loaded the program already: see `inProcessTerminal`. */
  call(...text: string[]): Promise<CommandOutput>;
  /** Runs with `--json`, expects exit 0 and one JSON value on standard output with nothing beside it. */
  json<T = Record<string, unknown>>(...text: string[]): Promise<T>;
  /** Runs it as a process, reads that many characters, and closes the pipe. */
  runUntilClosed(letters: number, ...text: string[]): Promise<CommandOutput>;
  /** The same commands, at another data folder. */
  at(data: string): Terminal;
  remove(): void;
}

/**
 * Each command is a process of its own, of the built program. `root` is the folder of another copy of the program.
 */
export function spawningTerminal(env: Readonly<Record<string, string>> = {}, root = packageRoot): Terminal {
  const folder = temporaryFolder();
  return terminalIn(folder, join(folder, 'data'), (text, where) => start(text, where, Infinity, root), env);
}

/**
 * The same commands run by a call in this process, which has loaded the program already: for tests of what commands do.
 * Tests of exit, pipes, standard output and paths relative to the folder need `spawningTerminal`.
 */
export function inProcessTerminal(env: Readonly<Record<string, string>> = {}): Terminal {
  const folder = temporaryFolder();
  return terminalIn(folder, join(folder, 'data'), call, env);
}

const temporaryFolder = (): string => mkdtempSync(join(whereBooksAre(), 'boilbook-line-'));

type Runner = (text: readonly string[], where: Where) => Promise<CommandOutput>;

function terminalIn(folder: string, book: string, runner: Runner, more: Readonly<Record<string, string>>): Terminal {
  const run = (...text: string[]): Promise<CommandOutput> => runner(text, { folder, book, more });
  return {
    folder,
    book,
    path: (name) => join(folder, name),
    run,
    call: (...text) => call(text, { folder, book, more }),
    json: async <T>(...text: string[]): Promise<T> => {
      const formatted = await run(...text, '--json');
      if (formatted.exit !== 0) throw new Error(`book ${text.join(' ')}: exit ${formatted.exit}\n${formatted.err}`);
      return JSON.parse(formatted.out) as T;
    },
    runUntilClosed: (letters, ...text) => start(text, { folder, book, more }, letters),
    at: (data) => terminalIn(folder, join(folder, data), runner, more),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}

interface Where {
  readonly folder: string;
  readonly book: string;
  readonly more: Readonly<Record<string, string>>;
}

/** Settings of the command, without any of the machine's own. */
const settingsOf = ({ book, more }: Where) => ({
  PATH: process.env['PATH'],
  BOILBOOK_DATA: book,
  BOILBOOK_BY: 'WE',
  BOILBOOK_TIME_ZONE: 'America/New_York',
  ...more,
});

async function call(text: readonly string[], where: Where): Promise<CommandOutput> {
  const out = collected();
  const err = collected();
  const exit = await runCommand(text, { env: settingsOf(where), stdout: out.stream, stderr: err.stream });
  return { exit, out: out.text(), err: err.text() };
}

function collected() {
  const parts: Buffer[] = [];
  const stream = new Writable({ write: (some: Buffer, _, done) => (parts.push(some), done()) });
  return { stream, text: () => Buffer.concat(parts).toString() };
}

function start(
  text: readonly string[],
  where: Where,
  mostLetters: number,
  root: string = packageRoot,
): Promise<CommandOutput> {
  const program = join(root, 'dist', 'apps', 'cli', 'main.js');
  if (!existsSync(program)) throw new Error('The command line is not built: npm run build, then the tests.');
  const { folder } = where;
  const env = settingsOf(where);
  const child = spawn(process.execPath, [program, ...text], { cwd: folder, env, stdio: ['ignore', 'pipe', 'pipe'] });
  let out = '';
  let err = '';
  child.stdout.on('data', (some: Buffer) => {
    out += some.toString();
    if (out.length >= mostLetters) child.stdout.destroy();
  });
  if (mostLetters === 0) child.stdout.destroy();
  child.stderr.on('data', (some: Buffer) => (err += some.toString()));
  return new Promise((resolve, reject) => {
    child.once('error', reject);
    child.once('close', (exit) => resolve({ exit, out, err }));
  });
}

/** Opens a terminal's book apart from the command line. */
export async function lookInto<T>({ book: folder }: Terminal, look: (book: Book) => Promise<T>): Promise<T> {
  const book = await openBook({ file: join(folder, 'book.sqlite') });
  try {
    return await look(book);
  } finally {
    await book.close();
  }
}

/** The head of its record: number of entries and root. */
export const headOf = (terminal: Terminal): Promise<Head> => lookInto(terminal, (book) => readHead(book.read));

export const seasonFile = (kind: string): string => join(packageRoot, 'templates', 'practice', `${kind}.csv`);
export const setUp = [
  'setup',
  '--name',
  'Tamarack Hollow Sugarhouse',
  '--address',
  '9 Hollow Lane',
  '--town',
  'Harrow Notch, Vermont',
  '--postcode',
  '05000',
  '--phone',
  '802 555 0100',
  '--place',
  'Vermont',
  '--zone',
  'America/New_York',
  '--hydrometer-made-for',
  '60 F',
];

/** The season of templates/practice/, file by file, into an empty book; the README's walk types these commands. */
export async function importPracticeSeason(terminal: Terminal): Promise<void> {
  await terminal.json(...setUp);
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: new Date(), zone: 'America/New_York' };
  await lookInto(terminal, async (book) => {
    for (const kind of importKinds) {
      const { faults, refusals } = await importRows(book, context, kind, readFileSync(seasonFile(kind.plural)));
      if (faults.length + refusals.length > 0) throw new Error(JSON.stringify({ faults, refusals }));
    }
  });
}
