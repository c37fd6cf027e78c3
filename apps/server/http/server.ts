import type { Book } from '#libs/store/book.js';
import type { Settings } from '../settings.js';
import type { SetupCode } from '../screens/set-up/setup-code.js';
import type { DocumentProcesses } from '../documents/document-processes.js';

/** How others reach this server: the address to try first, and the machine's other names and addresses. */
export interface PhoneAddresses {
  readonly first: string;
  readonly others: readonly string[];
  /** A name that some networks know this machine by. */
  readonly byName: string | undefined;
}

/** What every part of the server uses; created by main.ts, and by each test for itself. */
export interface Server {
  readonly settings: Settings;
  readonly book: Book;
  /** Opens the practice book, and creates it where it doesn't exist yet. */
  readonly practice: () => Promise<Book>;
  /** The practice book if it is open in this process. */
  readonly currentPractice: () => Book | undefined;
  /** The setup code that lets the first owner in. */
  readonly setupCode: SetupCode;
  /**
   * What was found wrong with the book's file, in a sentence that explains how to restore; updated when something is
   * found.
   */
  readonly damage?: { found: string | undefined };
  /** Processes that make documents; undefined where they are made in this one. */
  readonly documents?: DocumentProcesses | undefined;
  readonly clock: () => Date;
  /** When this server started: until its first entry its clock is compared with the phone’s. */
  readonly startedAt: Date;
  /** Writes a line to the server's log, never a secret. */
  readonly log: (line: string, more?: Readonly<Record<string, unknown>>) => void;
  /** How phones of the house reach this server, by the machine's current addresses; undefined where only it does. */
  readonly phoneAddresses?: () => PhoneAddresses | undefined;
  /** With `--tls`: the house's certificate authority, for other devices to trust. */
  readonly authority?: () => { readonly authority: string; readonly fingerprint: string };
  /** Ends the server for a restore; `isAutomatic` if the launcher then starts it again. */
  readonly restart?: { readonly isAutomatic: boolean; readonly now: () => void };
  /** Requests to public pages: the size of a burst, regained in a minute; undefined where they aren't limited. */
  readonly requestsPerMinute: number | undefined;
}
