import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openBook } from '#libs/records/book.js';
import { type Head, readHead } from '#libs/records/log.js';
import { packageRoot } from '#libs/records/package-root.js';

/** What a command said, and how it ended. */
export interface Said {
  readonly exit: number | null;
  readonly out: string;
  readonly err: string;
}

/** A folder of its own with the command line at it: what a person in a terminal has. */
export interface Terminal {
  readonly folder: string;
  /** Where the book of this terminal is. */
  readonly book: string;
  path(name: string): string;
  run(...words: string[]): Promise<Said>;
  /** Runs with `--json`, expects exit 0 and one JSON value on standard output with nothing beside it. */
  json<T = Record<string, unknown>>(...words: string[]): Promise<T>;
  /** Runs it, hears so many letters of it, and hangs up. */
  heard(letters: number, ...words: string[]): Promise<Said>;
  /** The same commands, at another data folder. */
  at(data: string): Terminal;
  remove(): void;
}

const program = join(packageRoot, 'dist', 'apps', 'book', 'main.js');

export function aTerminal(): Terminal {
  if (!existsSync(program)) throw new Error('The command line is not built: npm run build, then the tests.');
  const folder = mkdtempSync(join(tmpdir(), 'boilbook-line-'));
  return terminalIn(folder, join(folder, 'data'));
}

function terminalIn(folder: string, book: string): Terminal {
  const run = (...words: string[]): Promise<Said> => start(words, folder, book);
  return {
    folder,
    book,
    path: (name) => join(folder, name),
    run,
    json: async <T>(...words: string[]): Promise<T> => {
      const said = await run(...words, '--json');
      if (said.exit !== 0) throw new Error(`book ${words.join(' ')}: exit ${said.exit}\n${said.err}`);
      return JSON.parse(said.out) as T;
    },
    heard: (letters, ...words) => start(words, folder, book, letters),
    at: (data) => terminalIn(folder, join(folder, data)),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}

/** Nothing of the machine's own settings reaches the command. */
function start(words: readonly string[], folder: string, book: string, heard = Infinity): Promise<Said> {
  const env = {
    PATH: process.env['PATH'],
    BOILBOOK_DATA: book,
    BOILBOOK_BY: 'WE',
    BOILBOOK_TIME_ZONE: 'America/New_York',
  };
  const child = spawn(process.execPath, [program, ...words], { cwd: folder, env, stdio: ['ignore', 'pipe', 'pipe'] });
  let out = '';
  let err = '';
  child.stdout.on('data', (some: Buffer) => {
    out += some.toString();
    if (out.length >= heard) child.stdout.destroy();
  });
  if (heard === 0) child.stdout.destroy();
  child.stderr.on('data', (some: Buffer) => (err += some.toString()));
  return new Promise((resolve, reject) => {
    child.once('error', reject);
    child.once('close', (exit) => resolve({ exit, out, err }));
  });
}

/** How far the record of a terminal's book has come, read beside the command line. */
export async function headOf({ book: folder }: Terminal): Promise<Head> {
  const book = await openBook({ file: join(folder, 'book.sqlite') });
  try {
    return await readHead(book.read);
  } finally {
    await book.close();
  }
}

export const seasonFile = (kind: string): string => join(packageRoot, 'templates', 'practice', `${kind}.csv`);
/** In the order in which a season's files are brought in. */
export const kindsOfFile = ['gatherings', 'receipts', 'boils', 'draws', 'packs', 'dispatches', 'counts'] as const;

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
];

/** The season of templates/practice/, file by file, into a book of one's own. */
export async function bringInTheSeason(terminal: Terminal): Promise<void> {
  await terminal.json(...setUp);
  for (const kind of kindsOfFile) await terminal.json('import', kind, seasonFile(kind));
}
