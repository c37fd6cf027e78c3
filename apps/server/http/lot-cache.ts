import { momentIn } from '#libs/actions/record/times.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { lotsChangedSince } from '#libs/store/log/lots-since.js';
import { readFrontier } from '#libs/store/log/log.js';
import type { Book } from '#libs/store/book.js';
import { type Principal, readerOf, sugarhouseContextFor } from './principal.js';

/** A value made from a lot and those upstream and downstream of it. */
export interface LotValue {
  readonly lot: string;
  /** The last moment in UTC at which it changes by itself, such as when planned jars leave; empty where none. */
  readonly changesUntil: string;
  /** Roughly how much memory it takes. */
  readonly bytes: number;
}

/** What is cached under a name, and a function that caches a value made by this request. */
export interface CacheSlot<T extends LotValue> {
  readonly value: T | undefined;
  readonly put: (value: T) => void;
}

interface Cached {
  readonly sugarhouse: string;
  readonly value: LotValue;
  /** The day in the sugarhouse's time zone, since pages say `yesterday`. */
  readonly day: string;
}
interface Cache {
  /** Of every sugarhouse, by its key and the name; the least recently used first. */
  readonly values: Map<string, Cached>;
  bytes: number;
  readonly houses: Map<string, HouseState>;
}
interface HouseState {
  readonly sugarhouse: string;
  /** The state of the log that each of its values is true for; empty before the first request. */
  state: string;
  /** While the values that later entries may have changed are being found. */
  advancing: Promise<void> | undefined;
}

/** About two thousand pages of lots. */
const maxBytes = 32 * 1024 * 1024;
const caches = new WeakMap<Book, Cache>();

/**
 * What was made from a lot under this name, until an entry that may concern the lot is written, by this server or
 * another, the day ends or the clock is set back before `changesUntil`. Nothing for a request that writes, which must see
 * its own entry. Whatever differs by person must be in the name or stay out of the value.
 */
export async function lotCacheSlot<T extends LotValue>(principal: Principal, name: string): Promise<CacheSlot<T>> {
  const { book, bookState, writeContext } = principal;
  const { sugarhouse } = writeContext;
  const cache = caches.get(book) ?? {
    values: new Map<string, Cached>(),
    bytes: 0,
    houses: new Map<string, HouseState>(),
  };
  caches.set(book, cache);
  const house = cache.houses.get(sugarhouse) ?? { sugarhouse, state: '', advancing: undefined };
  cache.houses.set(sugarhouse, house);
  if (bookState === undefined || !(await isUpToDate(cache, house, principal, bookState)))
    return { value: undefined, put: () => {} };
  const { parseOptions } = await sugarhouseContextFor(principal);
  const day = momentIn(parseOptions.zone, writeContext.now).slice(0, 10);
  const nowUtc = utcOf(writeContext.now);
  const key = `${sugarhouse} ${name}`;
  const found = cache.values.get(key);
  if (found) remove(cache, key);
  const isValid = found?.day === day && found.value.changesUntil <= nowUtc;
  if (isValid) add(cache, key, found);
  return {
    value: isValid ? (found.value as T) : undefined,
    put: (value) => {
      // Made from rows that were read at the request's state or later. Where the cache is already further, an entry in
      // between may concern them.
      if (house.state !== bookState || value.changesUntil > nowUtc) return;
      remove(cache, key);
      add(cache, key, { sugarhouse, value, day });
    },
  };
}

/** Brings the sugarhouse's values to the state of the log at which the request arrived; false where they are later. */
async function isUpToDate(cache: Cache, house: HouseState, principal: Principal, state: string): Promise<boolean> {
  while (house.state !== state) {
    if (house.advancing) await house.advancing;
    else if (entriesIn(state) < entriesIn(house.state)) {
      // An answer that took long, or the log of a backup that is shorter.
      const { entries } = await readFrontier(principal.book.read);
      if (entries < entriesIn(house.state)) removeChanged(cache, house, undefined, '');
      return false;
    } else {
      house.advancing = advance(cache, house, principal, state).finally(() => (house.advancing = undefined));
      await house.advancing;
    }
  }
  return true;
}

async function advance(cache: Cache, house: HouseState, principal: Principal, state: string): Promise<void> {
  const [before, entries] = [entriesIn(house.state), entriesIn(state)];
  const changed =
    before > 0 && before < entries
      ? await lotsChangedSince(readerOf(principal), before).catch(() => undefined)
      : undefined;
  removeChanged(cache, house, changed?.lots, state);
}

/** Removes the values of these lots, of every lot where it isn't known which changed. */
function removeChanged(cache: Cache, house: HouseState, lots: ReadonlySet<string> | undefined, state: string): void {
  for (const [key, { sugarhouse, value }] of [...cache.values])
    if (sugarhouse === house.sugarhouse && (lots?.has(value.lot) ?? true)) remove(cache, key);
  house.state = state;
}

/** The number of entries, with which the state begins. */
const entriesIn = (state: string): number => Number.parseInt(state || '0', 10);

function remove(cache: Cache, key: string): void {
  cache.bytes -= cache.values.get(key)?.value.bytes ?? 0;
  cache.values.delete(key);
}

/** Adds it as the one most recently used; the least recently used ones make room. */
function add(cache: Cache, key: string, cached: Cached): void {
  cache.values.set(key, cached);
  cache.bytes += cached.value.bytes;
  for (const [oldest] of cache.values) {
    if (cache.bytes <= maxBytes) break;
    remove(cache, oldest);
  }
}
