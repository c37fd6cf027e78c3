import { catalogue, type CommandHelp } from './catalogue.js';
import type { Command } from './command.js';
import type { Terminal } from './terminal.js';

/** Prints the help of all commands, or of those that begin with one word. */
export function printHelp(
  { stdout, stderr }: Terminal,
  exit: number,
  commands: readonly CommandHelp[] = catalogue,
): number {
  const lines = [
    'Usage: book COMMAND [ARGUMENTS] [OPTIONS]',
    '',
    ...commands.map((each) => `  ${`${each.name} ${each.usage}`.trim()}\n      ${each.summary}`),
    '',
    'Every command takes --help and --json, which prints one JSON value on standard output.',
    'Commands that write take --by INITIALS; without it BOILBOOK_BY, else owner.',
    '  --clock-is-right  saves although the clock differs much from the last entry, if the clock is right.',
    '  --begin-anew      creates a book where one seems to be missing.',
    'A document is written to --out FILE; - is standard output. An existing file is overwritten only with --force.',
    'Where the book holds several sugarhouses, --house PREFIX chooses one; without it, the first.',
    'Exit status: 0 done, 2 invalid input, 3 no such lot, jar or file, 4 refused by a rule or verify found a difference,',
    '1 a fault of the program or the disk, 141 if the reader of standard output (for example, head) closed it early.',
    'book --version prints the version of the program.',
  ];
  (exit === 0 ? stdout : stderr).write(`${lines.join('\n')}\n`);
  return exit;
}

/** Prints one command's usage and options to standard output; returns the exit status 0. */
export function printCommandHelp({ stdout }: Terminal, command: Command): number {
  const optionLines = Object.entries(command.options ?? {}).map(
    ([name, kind]) =>
      `  --${name}${kind === 'text' ? ' TEXT' : ''}${command.optionHelp?.[name] ? `\n      ${command.optionHelp[name]}` : ''}`,
  );
  stdout.write(
    [`book ${`${command.name} ${command.usage}`.trim()}`, '', command.summary, '', ...optionLines, ''].join('\n'),
  );
  return 0;
}
