import { readFrontier } from '#libs/store/log/log.js';
import type { WriteContext } from '#libs/actions/record/write-context.js';
import type { Book } from '#libs/store/book.js';
import { LeastRecentlyUsed } from './least-recently-used.js';

interface CachedAnswer {
  readonly state: string;
  readonly value: Promise<unknown>;
}
/** The part of the principal that is used here. */
interface CacheScope {
  readonly book: Book;
  readonly writeContext: Pick<WriteContext, 'sugarhouse' | 'now' | 'zone'>;
  readonly bookState?: string | undefined;
}

const caches = new WeakMap<object, LeastRecentlyUsed<CachedAnswer>>();
const maxCached = 32;

/**
 * The last result under a name, while nothing is written to the book and the minute is the same: a list that everyone
 * reads is computed once, not for each reader. Whatever differs by person must stay out of `work`. Rejects as `work`
 * does.
 */
export const cachedWhileUnchanged = async <T>(
  principal: CacheScope,
  name: string,
  compute: () => Promise<T>,
): Promise<T> => {
  const { now, zone } = principal.writeContext;
  return cached(principal, name, `${await bookStateOf(principal)} ${now.toISOString().slice(0, 16)} ${zone}`, compute);
};

/** The same for a result that does not depend on the time. */
export const cachedPerBook = async <T>(principal: CacheScope, name: string, compute: () => Promise<T>): Promise<T> =>
  cached(principal, name, await bookStateOf(principal), compute);

/**
 * The state of the log, read together with the session, so that writes of another process are noticed too. A request
 * that writes reads it again for the page after its own write.
 */
async function bookStateOf({ book, bookState }: CacheScope): Promise<string> {
  if (bookState !== undefined) return bookState;
  const { entries, frontier } = await readFrontier(book.read);
  return `${entries} ${JSON.stringify(frontier)}`;
}

function cached<T>(
  { book, writeContext }: CacheScope,
  name: string,
  state: string,
  compute: () => Promise<T>,
): Promise<T> {
  const key = `${writeContext.sugarhouse} ${name}`;
  const cache = caches.get(book) ?? new LeastRecentlyUsed<CachedAnswer>(maxCached);
  caches.set(book, cache);
  const found = cache.get(key);
  if (found?.state === state) return found.value as Promise<T>;
  const value = compute();
  const answer = { state, value };
  cache.set(key, answer);
  value.catch(() => cache.deleteIfSame(key, answer));
  return value;
}
