import type { BookSettings } from '#libs/actions/accounts/book-settings.js';
import type { WriteContext } from '#libs/actions/record/write-context.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import type { Book } from '#libs/store/book.js';

/** What a command receives. The book is opened on first use. */
export interface CommandContext {
  /** The arguments after the command that are no options. */
  readonly argv: readonly string[];
  /** Options by name as typed, without the dashes. */
  readonly options: Readonly<Record<string, string | boolean | undefined>>;
  readonly settings: BookSettings;
  readonly now: Date;
  /** Opens the book, new where there is none; closed again after the command. */
  book(): Promise<Book>;
  /** Who writes: --by, else BOILBOOK_BY, else `owner`. */
  readonly writeContext: WriteContext;
}

/** The output of a command. `lines` are for people, `json` for scripts; only one of them is printed. */
export interface CommandOutput {
  readonly json: unknown;
  readonly lines: readonly string[];
  /** A list too long to be held: printed row by row after `lines`; to a script it is the last field of the value. */
  readonly rows?: {
    readonly name: string;
    readonly tellEach: (
      tell: (row: { readonly json: unknown; readonly line: string }) => Promise<void>,
    ) => Promise<void>;
  };
  /** To standard error, in either case: cautions, label items that are missing. */
  readonly warnings?: readonly string[];
  /** 0 by default; 4 where verify found a difference. */
  readonly exit?: number;
}

export interface Command {
  readonly name: string;
  /** After `book NAME`: `LOT --why TEXT`. */
  readonly usage: string;
  readonly says: string;
  readonly options?: Readonly<Record<string, 'text' | 'flag'>>;
  /** What each option means, for --help. */
  readonly meaning?: Readonly<Record<string, string>>;
  run(cli: CommandContext): Promise<CommandOutput | Refusal>;
}

/** The text of an option, trimmed; undefined where it was not given. */
export function optionText(cli: CommandContext, name: string): string | undefined {
  const value = cli.options[name];
  return typeof value === 'string' ? value.trim() : undefined;
}
