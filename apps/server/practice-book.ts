import { join } from 'node:path';
import { sentencesOf } from '#libs/actions/record/problem.js';
import { type Book, openBook } from '#libs/store/book.js';
import { readHead } from '#libs/store/log/log.js';
import type { Settings } from './settings.js';

export interface PracticeBook {
  /** Opens it, and writes its season where it doesn't exist yet; concurrent callers get the same book. */
  readonly open: () => Promise<Book>;
  readonly current: () => Book | undefined;
  readonly close: () => Promise<void>;
}

/** The path of the practice book below the data folder. */
export const practiceFile = ({ folder }: Pick<Settings, 'folder'>): string => join(folder, 'practice', 'book.sqlite');

/** The practice book has its own folder, log and household, always in SQLite: it is no record of a house. */
export function practiceBook(settings: Settings, clock: () => Date): PracticeBook {
  let opening: Promise<Book> | undefined;
  let currentBook: Book | undefined;
  const open = async (): Promise<Book> => {
    const book = await openBook({ file: practiceFile(settings) });
    const { entries } = await readHead(book.read);
    if (entries === 0) await writeSeason(book, clock());
    return (currentBook = book);
  };
  return {
    open: () =>
      (opening ??= open().catch((fault: unknown) => {
        opening = undefined;
        throw fault;
      })),
    current: () => currentBook,
    close: async () => currentBook?.close(),
  };
}

/** Loaded on demand, since most servers never open it. */
async function writeSeason(book: Book, now: Date): Promise<void> {
  const { writePracticeSeason } = await import('#libs/actions/practice/practice-season.js');
  const written = await writePracticeSeason(book, now);
  if ('problem' in written) throw new Error(sentencesOf(written.problem).join(' '));
}
