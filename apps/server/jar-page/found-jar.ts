import type { Book } from '#libs/records/book.js';
import { findJar, type Jar } from '#libs/records/lots.js';
import { readJarCode } from '#libs/syrup/jar-codes.js';
import type { Visitor } from '../web/visitor.js';

export interface FoundJar {
  readonly book: Book;
  readonly jar: Jar;
}

/** The house's own jars first; those of the practice book where it is open, marked as such on the page. */
export async function jarTyped({ server }: Visitor, typed: string): Promise<FoundJar | undefined> {
  const code = readJarCode(typed);
  if (code === undefined) return undefined;
  for (const book of [server.book, server.practiceOpen()]) {
    const jar = book && (await findJar(book.read, code));
    if (book && jar) return { book, jar };
  }
  return undefined;
}
