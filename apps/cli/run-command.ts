import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import type { Problem, Refusal } from '#libs/actions/record/problem.js';
import type { Book } from '#libs/store/book.js';
import { isDamage } from '#libs/store/connection/damage-error.js';
import { catalogue } from './catalogue.js';
import type { CommandContext, Command } from './command.js';
import { findCommand } from './commands.js';
import { isStandardOutput, NotWritable, ReaderClosed } from './destination.js';
import { printCommandHelp, printHelp } from './help.js';
import { nearestName } from './did-you-mean.js';
import { programOptions } from './program-options.js';
import { showProgress } from './progress.js';
import type { Terminal } from './terminal.js';
import { stripControls, printResult } from './print-result.js';

/** As the shell reports a program that was ended by SIGPIPE: a reader such as head had enough, which is no failure. */
const brokenPipeStatus = 128 + 13;

/**
 * Runs `book` with these arguments. Returns the exit status: 0 done, 1 a bug or broken disk, 2 invalid input, 3 not
 * found, 4 refused by a rule, 141 where the reader closed standard output.
 */
export async function runCommand(argv: readonly string[], terminal: Terminal): Promise<number> {
  const [name = '', ...rest] = argv;
  if (name === '' || name === '--help' || name === '-h' || name === 'help')
    return printHelp(terminal, name === '' ? 2 : 0);
  if (name === '--version') return version(terminal);
  const isKnown = catalogue.some((each) => each.name === name || each.name === `${name} ${rest[0]}`);
  const command = isKnown ? await findCommand(argv) : undefined;
  if (!command) return reportUnknownCommand(terminal, name, rest[0]);
  const args = command.name.includes(' ') ? rest.slice(1) : rest;
  let parsed: ReturnType<typeof parse>;
  try {
    parsed = parse(command, args);
  } catch (fault) {
    return reportFailure(terminal, 2, [
      parseErrorText(command, fault as Error),
      `book ${command.name} ${command.usage}`.trim(),
    ]);
  }
  if (parsed.values['help']) return printCommandHelp(terminal, command);
  return run(command, parsed.positionals, parsed.values, terminal);
}

async function version({ stdout }: Terminal): Promise<number> {
  const { packageRoot } = await import('#libs/package-root.js');
  const packageJson = JSON.parse(readFileSync(join(packageRoot, 'package.json'), 'utf8')) as { version: string };
  stdout.write(`boilbook ${packageJson.version}\n`);
  return 0;
}

function reportUnknownCommand(terminal: Terminal, name: string, second: string | undefined): number {
  const group = catalogue.filter((each) => each.name.startsWith(`${name} `));
  if (group.length === 0) {
    const suggestion = nearestName(name, [...new Set(catalogue.map((each) => each.name.split(' ')[0] ?? ''))]);
    return reportFailure(terminal, 2, [`Unknown command "${name}".${didYouMean(suggestion)} See book --help.`]);
  }
  if (second === '--help') return printHelp(terminal, 0, group);
  const subcommands = group.map((each) => each.name.slice(name.length + 1));
  const got = second === undefined ? 'nothing' : `"${second}"`;
  const suggestion = second === undefined ? undefined : nearestName(second, subcommands);
  return reportFailure(terminal, 2, [
    `book ${name}: expected one of ${subcommands.join(', ')}, got ${got}.${didYouMean(suggestion)}`,
  ]);
}

function didYouMean(suggestion: string | undefined): string {
  return suggestion === undefined ? '' : ` Did you mean ${suggestion}?`;
}

function parseErrorText(command: Command, { message }: Error): string {
  const sentence = `${message.split('. ')[0]?.replace(/\.$/, '') ?? ''}.`;
  const option = /^Unknown option '--?([^']+)'/.exec(message)?.[1];
  if (option === undefined) return sentence;
  const suggestion = nearestName(option, Object.keys({ ...command.options, ...programOptions }));
  return `${sentence}${didYouMean(suggestion && `--${suggestion}`)}`;
}

async function run(
  command: Command,
  argv: readonly string[],
  options: CommandContext['options'],
  terminal: Terminal,
): Promise<number> {
  const stdoutTaken = typeof options['out'] === 'string' && (await isStandardOutput(options['out'].trim()));
  if (stdoutTaken && options['json'] === true)
    return reportFailure(terminal, 2, [
      'Out: expected a file name, since --json prints its value on standard output, got "-"',
    ]);
  // Loaded when a command runs: help, a mistyped command and the calculators need no database.
  const { readBookSettings } = await import('#libs/actions/accounts/book-settings.js');
  const { settings, faults } = readBookSettings(terminal.env);
  if (faults.length > 0) return reportFailure(terminal, 2, faults);
  const now = new Date();
  let opened: Promise<Book> | undefined;
  const book = (): Promise<Book> => (opened ??= openRequestedBook(settings, options['begin-anew'] === true, now));
  const clearProgress = showProgress(terminal, command.name);
  try {
    const house = await requestedHouse(options['house'], book);
    const output =
      'problem' in house
        ? house
        : await command.run(commandContext(house.key, { argv, options, terminal, settings, now, book }));
    clearProgress();
    const { sentencesOf } = await import('#libs/actions/record/problem.js');
    return 'problem' in output
      ? reportFailure(terminal, exitStatusOf(output.problem), sentencesOf(output.problem))
      : await printResult(terminal, output, { json: options['json'] === true, stdoutTaken });
  } catch (fault) {
    clearProgress();
    if (opened && (await isOpenRefusal(fault))) return reportFailure(terminal, 4, [(fault as Error).message]);
    return reportFault(terminal, settings, fault);
  } finally {
    await (await opened?.catch(() => undefined))?.close();
  }
}

/** What a command of one sugarhouse receives; it writes in the name of --by, else BOILBOOK_BY, else `owner`. */
function commandContext(sugarhouse: string, parts: Omit<CommandContext, 'writeContext'>): CommandContext {
  const { options, terminal, settings, now } = parts;
  const by =
    (typeof options['by'] === 'string' && options['by'].trim()) || terminal.env['BOILBOOK_BY']?.trim() || 'owner';
  return {
    ...parts,
    writeContext: {
      sugarhouse,
      by,
      author: by,
      now,
      get zone() {
        return settings.zone;
      },
      clockIsRight: options['clock-is-right'] === true,
    },
  };
}

/** Prints what a command threw; returns the exit status. */
async function reportFault(
  terminal: Terminal,
  { location }: CommandContext['settings'],
  fault: unknown,
): Promise<number> {
  if (fault instanceof NotWritable) return reportFailure(terminal, 2, [fault.message]);
  if (fault instanceof ReaderClosed) return brokenPipeStatus;
  // A damaged file counts as a difference that verify would find, whichever command found it.
  if (isDamage(fault) && 'file' in location) {
    const { damageSentence } = await import('#libs/store/backup/damage.js');
    return reportFailure(terminal, 4, [await damageSentence(location.file, (fault as Error).message)]);
  }
  const diskText = diskFaultText(fault);
  return reportFailure(terminal, 1, [diskText ?? `A fault in Boilbook: ${(fault as Error).stack ?? String(fault)}`]);
}

async function openRequestedBook(
  settings: CommandContext['settings'],
  beginNewBook: boolean,
  now: Date,
): Promise<Book> {
  const { openConfiguredBook } = await import('#libs/actions/record/open-configured-book.js');
  return openConfiguredBook(settings, beginNewBook, now);
}

async function isOpenRefusal(fault: unknown): Promise<boolean> {
  const { BookNotOpened } = await import('#libs/actions/record/open-configured-book.js');
  const { NewerBook } = await import('#libs/store/book.js');
  return fault instanceof BookNotOpened || fault instanceof NewerBook;
}

/** --house names one of the book's sugarhouses by its prefix, key or name; without it, the first. */
async function requestedHouse(
  typed: CommandContext['options'][string],
  book: () => Promise<Book>,
): Promise<{ key: string } | Refusal> {
  const { findHouse, home } = await import('#libs/store/household/houses.js');
  if (typeof typed !== 'string' || typed.trim() === home) return { key: home };
  const { unknown } = await import('#libs/actions/record/problem.js');
  return (await findHouse((await book()).read, typed)) ?? unknown('sugarhouse', typed);
}

function exitStatusOf(problem: Problem): number {
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

function reportFailure({ stderr }: Terminal, exit: number, sentences: readonly string[]): number {
  for (const sentence of sentences) stderr.write(`${stripControls(sentence)}\n`);
  return exit;
}

/** The message for a full or broken disk. */
function diskFaultText(fault: unknown): string | undefined {
  const text = String((fault as Error | undefined)?.message ?? '');
  if (/SQLITE_FULL|ENOSPC/.test(text))
    return 'The disk is full: nothing was saved. Free some space, then run the command again.';
  if (/SQLITE_(IOERR|CANTOPEN|READONLY)|EACCES|EROFS|EIO/.test(text))
    return `Writing to the disk failed (${text}). It may not have been saved: check before you run the command again.`;
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
