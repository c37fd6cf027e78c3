import { join } from 'node:path';
import { record } from '#libs/actions/record.js';
import { houses } from '#libs/actions/set-up.js';
import { type Book, openBook } from '#libs/records/book.js';
import { readHead } from '#libs/records/log.js';
import { home } from './web/identify.js';
import type { Settings } from './settings.js';

export interface PracticeBook {
  /** Opens it, and writes its season where it isn't there yet; two who ask at once get the same. */
  open(): Promise<Book>;
  isOpen(): Book | undefined;
  close(): Promise<void>;
}

/** The practice book has a folder, a log and a household of its own, always in SQLite: it is nobody's record. */
export function practiceBook(settings: Settings, clock: () => Date): PracticeBook {
  let opening: Promise<Book> | undefined;
  let opened: Book | undefined;
  const open = async (): Promise<Book> => {
    const book = await openBook({ file: join(settings.folder, 'practice', 'book.sqlite') });
    const { entries } = await readHead(book.read);
    if (entries === 0) await writeSeason(book, settings, clock());
    return (opened = book);
  };
  return {
    open: () => (opening ??= open().catch((fault: unknown) => ((opening = undefined), Promise.reject(fault)))),
    isOpen: () => opened,
    close: async () => opened?.close(),
  };
}

async function writeSeason(book: Book, settings: Settings, now: Date): Promise<void> {
  const desk = { sugarhouse: home, by: 'WE', author: 'WE', now, zone: settings.zone };
  await record(book, desk, houses, { name: 'Tamarack Hollow Sugarhouse', place: 'Vermont', practice: 'yes' });
}
