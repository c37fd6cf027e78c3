import type { BookSettings } from '#libs/actions/accounts/book-settings.js';
import type { WriteContext } from '#libs/actions/record/write-context.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import type { Book } from '#libs/store/book.js';
import type { Terminal } from './terminal.js';

/** What a command receives. The book is opened on first use. */
export interface CommandContext {
  /** Positional arguments after the command. */
  readonly argv: readonly string[];
  /** Options by name, without the dashes. */
  readonly options: Readonly<Record<string, string | boolean | undefined>>;
  readonly terminal: Terminal;
  readonly settings: BookSettings;
  readonly now: Date;
  /** Opens the book, creating it where there is none; it is closed after the command. */
  book(): Promise<Book>;
  /** Who writes: --by, else BOILBOOK_BY, else `owner`. */
  readonly writeContext: WriteContext;
}

/** The output of a command. `lines` are for people, `json` for scripts; only one of them is printed. */
export interface CommandOutput {
  readonly json: unknown;
  readonly lines: readonly string[];
  /** Rows of a list too long for memory: printed one by one after `lines`; in JSON they are the last field. */
  readonly rows?: {
    readonly name: string;
    readonly forEachRow: (
      emit: (row: { readonly json: unknown; readonly line: string }) => Promise<void>,
    ) => Promise<void>;
  };
  /** Printed to standard error in both formats: cautions, missing label items. */
  readonly warnings?: readonly string[];
  /** 0 by default; 4 where verify found a difference. */
  readonly exit?: number;
}

export interface Command {
  readonly name: string;
  /** After `book NAME`: `LOT --why TEXT`. */
  readonly usage: string;
  readonly summary: string;
  readonly options?: Readonly<Record<string, 'text' | 'flag'>>;
  /** What each option means, for --help. */
  readonly optionHelp?: Readonly<Record<string, string>>;
  run(cli: CommandContext): Promise<CommandOutput | Refusal>;
}

/** The text of an option, trimmed; undefined where it was not given. */
export function optionText(cli: CommandContext, name: string): string | undefined {
  const value = cli.options[name];
  return typeof value === 'string' ? value.trim() : undefined;
}
