import { readHead } from '#libs/store/log/log.js';
import type { Principal } from './principal.js';

interface Kept {
  readonly state: string;
  readonly value: Promise<unknown>;
}
const keptOf = new WeakMap<object, Map<string, Kept>>();
const mostKept = 16;

/**
 * What was worked out last under a name, as long as nothing was written to the book since and the minute is the same:
 * a list that everybody looks at is worked out once, not for each reader. What differs by person stays out of `work`.
 * The root of the log is asked for each time, so that what another process wrote is seen too. Rejects as `work` does.
 */
export async function keptWhileUnchanged<T>(
  { book, writeContext }: Principal,
  name: string,
  work: () => Promise<T>,
): Promise<T> {
  const { root } = await readHead(book.read);
  const state = `${root} ${writeContext.now.toISOString().slice(0, 16)} ${writeContext.zone}`;
  const key = `${writeContext.sugarhouse} ${name}`;
  const kept = keptOf.get(book) ?? new Map<string, Kept>();
  keptOf.set(book, kept);
  const before = kept.get(key);
  if (before?.state === state) return before.value as Promise<T>;
  const value = work();
  kept.delete(key);
  kept.set(key, { state, value });
  value.catch(() => kept.get(key)?.value === value && kept.delete(key));
  const [oldest] = kept.keys();
  if (kept.size > mostKept && oldest !== undefined) kept.delete(oldest);
  return value;
}
