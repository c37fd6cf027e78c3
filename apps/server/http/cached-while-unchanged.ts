import { readFrontier } from '#libs/store/log/log.js';
import type { WriteContext } from '#libs/actions/record/write-context.js';
import type { Book } from '#libs/store/book.js';

interface CachedAnswer {
  readonly state: string;
  readonly value: Promise<unknown>;
}
/** The part of the principal that is used here. */
interface Asking {
  readonly book: Book;
  readonly writeContext: Pick<WriteContext, 'sugarhouse' | 'now' | 'zone'>;
  readonly bookState?: string | undefined;
}

const cacheOf = new WeakMap<object, Map<string, CachedAnswer>>();
const mostCached = 32;

/**
 * The last result under a name, while nothing is written to the book and the minute is the same: a list that everyone
 * reads is computed once, not for each reader. Whatever differs by person must stay out of `work`. Rejects as `work`
 * does.
 */
export const cachedWhileUnchanged = async <T>(principal: Asking, name: string, work: () => Promise<T>): Promise<T> => {
  const { now, zone } = principal.writeContext;
  return cached(principal, name, `${await bookStateOf(principal)} ${now.toISOString().slice(0, 16)} ${zone}`, work);
};

/** The same for a result that does not depend on the time. */
export const cachedPerBook = async <T>(principal: Asking, name: string, work: () => Promise<T>): Promise<T> =>
  cached(principal, name, await bookStateOf(principal), work);

/**
 * The state of the log, read together with the session, so that writes of another process are noticed too. A request
 * that writes reads it again for the page after its own write.
 */
async function bookStateOf({ book, bookState }: Asking): Promise<string> {
  if (bookState !== undefined) return bookState;
  const { entries, frontier } = await readFrontier(book.read);
  return `${entries} ${JSON.stringify(frontier)}`;
}

function cached<T>({ book, writeContext }: Asking, name: string, state: string, work: () => Promise<T>): Promise<T> {
  const key = `${writeContext.sugarhouse} ${name}`;
  const all = cacheOf.get(book) ?? new Map<string, CachedAnswer>();
  cacheOf.set(book, all);
  const before = all.get(key);
  all.delete(key);
  if (before?.state === state) {
    all.set(key, before);
    return before.value as Promise<T>;
  }
  const value = work();
  all.set(key, { state, value });
  value.catch(() => all.get(key)?.value === value && all.delete(key));
  const [oldest] = all.keys();
  if (all.size > mostCached && oldest !== undefined) all.delete(oldest);
  return value;
}
