import type { Book } from '#libs/store/book.js';
import { findJarAndPack } from '#libs/store/queries/jar-and-pack.js';
import { findJar, type Jar } from '#libs/store/queries/lots.js';
import { readJarCode } from '#libs/syrup/codes/jar-codes.js';
import type { Principal } from '../../http/principal.js';

export interface FoundJar {
  readonly book: Book;
  readonly jar: Jar;
}

/** The jar of a code as typed or scanned, in the book or the practice book; undefined where neither has it. */
export async function findTypedJar(principal: Principal, typed: string): Promise<FoundJar | undefined> {
  return findInEitherBook(principal, typed, async (book, code) => {
    const jar = await findJar(book.read, code);
    return jar && { book, jar };
  });
}

/** The same with its pack, for the page that repeats the label. */
export const findTypedJarAndPack = (principal: Principal, typed: string) =>
  findInEitherBook(principal, typed, async (book, code) => {
    const found = await findJarAndPack(book.read, code);
    return found && { book, ...found };
  });

/** The house's own jars first; then those of the practice book if it is open, which the page marks as practice. */
async function findInEitherBook<T>(
  { server }: Principal,
  typed: string,
  find: (book: Book, code: string) => Promise<T | undefined>,
): Promise<T | undefined> {
  const code = readJarCode(typed);
  if (code === undefined) return undefined;
  const practice = server.currentPractice();
  return (await find(server.book, code)) ?? (practice && (await find(practice, code)));
}
