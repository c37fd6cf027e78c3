import { catalogue, type Described } from './catalogue.js';
import type { Command } from './command.js';
import type { Terminal } from './terminal.js';

/** Prints the help of all commands, or of those that begin with one word. */
export function help({ stdout, stderr }: Terminal, exit: number, some: readonly Described[] = catalogue): number {
  const lines = [
    'book COMMAND …    the record book, from the command line',
    '',
    ...some.map((each) => `  ${`${each.name} ${each.usage}`.trim()}\n      ${each.says}`),
    '',
    'Every command takes --json (one JSON value on standard output) and --help; writes take --by INITIALS.',
    'A document goes to --out FILE; - is standard output, and an existing file is overwritten only with --force.',
    'Where the book holds several sugarhouses, --house PREFIX chooses one; without it, the first.',
    'Exit status: 0 done, 2 not understood, 3 no such lot, jar or file, 4 refused by a rule, 1 a fault of the program.',
    'Where the reader of standard output closes it early (head), the document ends there: no message, 141 as by SIGPIPE.',
    'book --version prints the version of the program.',
  ];
  (exit === 0 ? stdout : stderr).write(`${lines.join('\n')}\n`);
  return exit;
}

/** Prints one command's usage and options to standard output; returns the exit status 0. */
export function commandHelp({ stdout }: Terminal, command: Command): number {
  const meaning = Object.entries(command.options ?? {}).map(
    ([name, kind]) =>
      `  --${name}${kind === 'text' ? ' TEXT' : ''}${command.meaning?.[name] ? `\n      ${command.meaning[name]}` : ''}`,
  );
  stdout.write([`book ${`${command.name} ${command.usage}`.trim()}`, '', command.says, '', ...meaning, ''].join('\n'));
  return 0;
}
