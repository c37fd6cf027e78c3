import type { Book } from '#libs/store/book.js';

/** After the free attempts the wait doubles with each wrong one, up to this. */
const maxWaitSeconds = 64;
const resetAfterSeconds = 86_400;
const maxTracked = 20_000;

/** Whose attempts are counted together, and after how many of them the waits begin. */
export interface AttemptCounter {
  readonly key: string;
  readonly free: number;
}

/**
 * The counters that an attempt adds to: by address and typed initials, whether or not such a person exists, so that a
 * stranger's waits affect only the stranger and don't reveal who has an account; by address alone, so that initials
 * can't be tried one after another; and on a device where the person has signed in before, by that device alone.
 */
export function attemptCounters(
  sugarhouse: string,
  input: { readonly address: string; readonly initials: string },
  knownDevice: string | undefined,
): readonly AttemptCounter[] {
  if (knownDevice !== undefined) return [{ key: `device ${sugarhouse} ${knownDevice}`, free: 3 }];
  const initials = input.initials.trim().toUpperCase().slice(0, 60);
  return [
    { key: `address ${input.address}`, free: 30 },
    { key: `pair ${input.address} ${sugarhouse} ${initials}`, free: 3 },
  ];
}

/**
 * Counts an attempt before its outcome is known, so that parallel attempts can't slip through; returns the wait, if
 * any.
 */
export function countAttempt(book: Book, counters: readonly AttemptCounter[], now: Date): number {
  const saved = countersOfBook(book);
  const waits = counters.map(({ key, free }) => waitSecondsFor(saved.get(key), free, now));
  const wait = Math.max(...waits);
  if (wait > 0) return wait;
  for (const { key } of counters) {
    const before = saved.get(key);
    const count = before && secondsSince(before, now) <= resetAfterSeconds ? before.count : 0;
    // Re-inserted last, so that the first key of the map is the least recently seen.
    saved.delete(key);
    saved.set(key, { count: Math.min(count + 1, 60), at: now.getTime() });
  }
  while (saved.size > maxTracked) saved.delete(saved.keys().next().value ?? '');
  return 0;
}

/** After a successful sign-in: resets this person's counters, but not others' at the same address. */
export function forgetAttempts(book: Book, counters: readonly AttemptCounter[]): void {
  const saved = countersOfBook(book);
  for (const { key } of counters) {
    const before = saved.get(key);
    if (before && key.startsWith('address ')) saved.set(key, { ...before, count: before.count - 1 });
    else saved.delete(key);
  }
}

interface AttemptCount {
  readonly count: number;
  readonly at: number;
}

function waitSecondsFor(attempts: AttemptCount | undefined, free: number, now: Date): number {
  if (!attempts || attempts.count < free) return 0;
  const wait = Math.min(maxWaitSeconds, 2 ** (attempts.count - free));
  const ago = secondsSince(attempts, now);
  // A clock that was set back must not make the wait longer than its maximum.
  return ago >= 0 && ago < wait ? Math.ceil(wait - ago) : 0;
}

const secondsSince = ({ at }: AttemptCount, now: Date): number => (now.getTime() - at) / 1000;

/** Forgotten when the server stops. */
const countersByBook = new WeakMap<Book, Map<string, AttemptCount>>();
function countersOfBook(book: Book): Map<string, AttemptCount> {
  const saved = countersByBook.get(book) ?? new Map<string, AttemptCount>();
  countersByBook.set(book, saved);
  return saved;
}
