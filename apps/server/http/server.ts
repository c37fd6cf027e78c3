import type { Book } from '#libs/store/book.js';
import type { Settings } from '../settings.js';
import type { SetupCode } from '../screens/set-up/setup-code.js';
import type { DocumentProcesses } from '../documents/document-processes.js';

/** How others reach this server: the address to try first, and the rest of what the machine answers to. */
export interface Reach {
  readonly first: string;
  readonly others: readonly string[];
  /** A name that some networks know this machine by. */
  readonly byName: string | undefined;
}

/** What every part of the server receives; created by main.ts, and by each test for itself. */
export interface Server {
  readonly settings: Settings;
  readonly book: Book;
  /** The practice book: opened, and made where it isn't there yet, when somebody asks for it. */
  readonly practice: () => Promise<Book>;
  /** The practice book if it is open in this process. */
  readonly practiceOpen: () => Book | undefined;
  /** The setup code that lets the first owner in. */
  readonly firstWord: SetupCode;
  /** What was found wrong with the book's file, in a sentence that says how to restore; updated as it is found. */
  readonly damage?: { found: string | undefined };
  /** Processes that make documents; undefined where they are made in this one. */
  readonly documents?: DocumentProcesses | undefined;
  readonly clock: () => Date;
  /** When this server started: before its first entry the clocks are compared. */
  readonly began: Date;
  /** Writes a line to the server's log, never a secret. */
  readonly log: (line: string, more?: Readonly<Record<string, unknown>>) => void;
  /** How phones of the house reach this server, as the machine's addresses are now; undefined where only it does. */
  readonly reach?: () => Reach | undefined;
  /** With `--tls`: the authority of the house, which other devices may trust. */
  readonly authority?: () => { readonly authority: string; readonly fingerprint: string };
  /** Ends the server for a restore; `isAutomatic` where it is started again by itself. */
  readonly restart?: { readonly isAutomatic: boolean; readonly now: () => void };
  /** Requests to public pages: the size of a burst, regained in a minute; undefined where they aren't limited. */
  readonly visitsAMinute: number | undefined;
}
