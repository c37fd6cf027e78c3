import { parseArgs } from 'node:util';
import { readBookSettings } from '#libs/actions/book-settings.js';
import { type Problem, type Refusal, sentencesOf, unknown } from '#libs/actions/problem.js';
import { NotOpened, openFrom } from '#libs/actions/open-from.js';
import { type Book, NewerBook } from '#libs/records/book.js';
import { damageSentence } from '#libs/records/damage.js';
import { isDamage } from '#libs/records/is-damage.js';
import { findHouse, home } from '#libs/records/houses.js';
import type { Bench, Command } from './command.js';
import { commandsNamed, findCommand } from './commands.js';
import { programOptions } from './program-options.js';
import { printable, speak } from './speak.js';
import { NotWritable } from './written-file.js';

// A reader such as head may go away before all is said. What was done is done; the rest is said to nobody.
for (const stream of [process.stdout, process.stderr])
  stream.on('error', (fault: NodeJS.ErrnoException) => {
    if (fault.code !== 'EPIPE') throw fault;
  });

/** Exit status: 0 done, 1 a fault of the program, 2 not understood, 3 no such thing, 4 refused by a rule. */
process.exitCode = await main(process.argv.slice(2));

async function main(argv: readonly string[]): Promise<number> {
  const [name = '', ...rest] = argv;
  if (name === '' || name === '--help' || name === '-h' || name === 'help') return help(name === '' ? 2 : 0);
  const command = await findCommand(argv);
  if (!command) {
    const near = await commandsNamed(name);
    if (near.length === 0) return complain(2, [`There is no command "${name}". book --help lists them.`]);
    if (rest[0] === '--help') return help(0, near);
    return complain(2, [
      `book ${name}: expected one of ${near.map((each) => each.name.slice(name.length + 1)).join(', ')}, got ${rest[0] === undefined ? 'nothing' : `"${rest[0]}"`}`,
    ]);
  }
  const args = command.name.includes(' ') ? rest.slice(1) : rest;
  let parsed: ReturnType<typeof parse>;
  try {
    parsed = parse(command, args);
  } catch (fault) {
    return complain(2, [`${(fault as Error).message.split('. ')[0] ?? ''}.`, `book ${command.name} ${command.usage}`]);
  }
  if (parsed.values['help']) return commandHelp(command);
  return run(command, parsed.positionals, parsed.values);
}

async function run(command: Command, words: readonly string[], options: Bench['options']): Promise<number> {
  const { settings, faults } = readBookSettings(process.env);
  if (faults.length > 0) return complain(2, faults);
  const by =
    (typeof options['by'] === 'string' && options['by'].trim()) || process.env['BOILBOOK_BY']?.trim() || 'owner';
  const now = new Date();
  let opened: Promise<Book> | undefined;
  const book = (): Promise<Book> => (opened ??= openFrom(settings, options['begin-anew'] === true, now));
  const bench = (sugarhouse: string): Bench => ({
    words,
    options,
    settings,
    now,
    book,
    desk: {
      sugarhouse,
      by,
      author: by,
      now,
      zone: settings.zone,
      clockIsRight: options['clock-is-right'] === true,
    },
  });
  try {
    const at = await houseAsked(options['house'], book);
    const said = 'problem' in at ? at : await command.run(bench(at.key));
    return 'problem' in said
      ? complain(exitOf(said.problem), sentencesOf(said.problem))
      : await speak(said, options['json'] === true);
  } catch (fault) {
    if (fault instanceof NewerBook || fault instanceof NotOpened) return complain(4, [fault.message]);
    if (fault instanceof NotWritable) return complain(2, [fault.message]);
    // Damage is a difference that verify would find, whichever command met it.
    if (isDamage(fault) && 'file' in settings.keeping)
      return complain(4, [await damageSentence(settings.keeping.file, (fault as Error).message)]);
    const told = diskSentence(fault);
    return complain(1, [told ?? `Boilbook itself failed: ${(fault as Error).stack ?? String(fault)}`]);
  } finally {
    await (await opened?.catch(() => undefined))?.close();
  }
}

/** --house names one of the book's sugarhouses by its prefix, key or name; without it, the first. */
async function houseAsked(
  typed: Bench['options'][string],
  book: () => Promise<Book>,
): Promise<{ key: string } | Refusal> {
  if (typeof typed !== 'string' || typed.trim() === home) return { key: home };
  return (await findHouse((await book()).read, typed)) ?? unknown('sugarhouse', typed);
}

function exitOf(problem: Problem): number {
  switch (problem.kind) {
    case 'invalid':
      return 2;
    case 'unknown':
      return 3;
    case 'refused':
    case 'key-used':
    case 'changed-since':
      return 4;
  }
}

function complain(exit: number, sentences: readonly string[]): number {
  for (const sentence of sentences) process.stderr.write(`${printable(sentence)}\n`);
  return exit;
}

/** What a full or broken disk says, in a person's words. */
function diskSentence(fault: unknown): string | undefined {
  const text = String((fault as Error | undefined)?.message ?? '');
  if (/SQLITE_FULL|ENOSPC/.test(text)) return 'The disk is full: nothing was written. Make room, then send it again.';
  if (/SQLITE_(IOERR|CANTOPEN|READONLY)|EACCES|EROFS|EIO/.test(text))
    return `The disk did not take it (${text}). It may not be in the book: look, then send it again.`;
  return undefined;
}

function parse(command: Command, args: readonly string[]) {
  const options: Record<string, { type: 'string' | 'boolean' }> = { ...programOptions };
  for (const [name, kind] of Object.entries(command.options ?? {}))
    options[name] = { type: kind === 'flag' ? 'boolean' : 'string' };
  return parseArgs({ args: joinNegatives(args, options), options, allowPositionals: true, strict: true });
}

/** `--at -5 C` is a temperature below zero, not an option -5. */
function joinNegatives(args: readonly string[], options: Readonly<Record<string, { type: string }>>): string[] {
  const joined: string[] = [];
  for (let n = 0; n < args.length; n++) {
    const arg = args[n] ?? '';
    const next = args[n + 1];
    const takesText = arg.startsWith('--') && options[arg.slice(2)]?.type === 'string';
    if (takesText && next !== undefined && /^-\d/.test(next)) {
      joined.push(`${arg}=${next}`);
      n++;
    } else joined.push(arg);
  }
  return joined;
}

async function help(exit: number, some?: readonly Command[]): Promise<number> {
  const commands = some ?? (await commandsNamed());
  const lines = [
    'book COMMAND …    the book of boils, from the command line',
    '',
    ...commands.map((each) => `  ${`${each.name} ${each.usage}`.trim()}\n      ${each.says}`),
    '',
    'Every command takes --json (one JSON value on standard output) and --help; writes take --by INITIALS.',
    'Where the book holds several sugarhouses, --house PREFIX says which is meant; without it, the first.',
    'Exit status: 0 done, 2 not understood, 3 no such lot, jar or file, 4 refused by a rule, 1 a fault of the program.',
  ];
  (exit === 0 ? process.stdout : process.stderr).write(`${lines.join('\n')}\n`);
  return exit;
}

function commandHelp(command: Command): number {
  const meaning = Object.entries(command.options ?? {}).map(
    ([name, kind]) =>
      `  --${name}${kind === 'text' ? ' TEXT' : ''}${command.meaning?.[name] ? `\n      ${command.meaning[name]}` : ''}`,
  );
  process.stdout.write(
    [`book ${`${command.name} ${command.usage}`.trim()}`, '', command.says, '', ...meaning, ''].join('\n'),
  );
  return 0;
}
