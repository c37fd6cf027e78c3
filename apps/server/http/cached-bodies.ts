import type { LotKind, RecordByKind } from '#libs/records/record-types.js';
import { recordsNamed } from '#libs/store/connection/batch-queries.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { type Principal, readerOf } from './principal.js';

interface CachedBody {
  readonly lastSeq: number;
  readonly body: unknown;
}
const caches = new WeakMap<object, Map<string, CachedBody>>();
const maxCached = 5000;

/**
 * The parsed bodies of these lots' records, by code. Each is cached until an entry about its lot is written, as every
 * change to it is: a list of two hundred boils reads and parses only the one that changed.
 */
export async function cachedBodies<K extends LotKind>(
  principal: Principal,
  kind: K,
  lots: readonly Pick<Lot, 'code' | 'lastSeq'>[],
): Promise<ReadonlyMap<string, RecordByKind[K]>> {
  const cache = caches.get(principal.book) ?? new Map<string, CachedBody>();
  caches.set(principal.book, cache);
  const keyOf = (code: string): string => `${principal.writeContext.sugarhouse} ${kind} ${code}`;
  const unread = lots.filter(({ code, lastSeq }) => cache.get(keyOf(code))?.lastSeq !== lastSeq);
  const record = await recordsNamed(
    readerOf(principal),
    [kind],
    unread.map(({ code }) => code),
  );
  const bodies = new Map<string, RecordByKind[K]>();
  for (const { code, lastSeq } of lots) {
    const key = keyOf(code);
    const cached = cache.get(key);
    const body = cached?.lastSeq === lastSeq ? (cached.body as RecordByKind[K]) : record(kind, code)?.body;
    if (body === undefined) continue;
    bodies.set(code, body);
    cache.delete(key);
    cache.set(key, { lastSeq, body });
  }
  for (const [oldest] of cache) {
    if (cache.size <= maxCached) break;
    cache.delete(oldest);
  }
  return bodies;
}
