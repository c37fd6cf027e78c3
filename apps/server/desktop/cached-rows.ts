import type { LotKind } from '#libs/records/record-types.js';
import { utcOf } from '#libs/store/connection/instants.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { lotsTouchedSince } from '#libs/store/log/lots-since.js';
import { readFrontier } from '#libs/store/log/log.js';
import { lotsListed } from '#libs/store/queries/lists.js';
import { type LotInProgress, lotsInProgressNamed } from '#libs/store/queries/work-in-progress.js';
import { LeastRecentlyUsed } from '../http/least-recently-used.js';
import { type Principal, readerOf } from '../http/principal.js';

/** A row of a table of lots, as it is cached: only what the table's columns show. */
export interface CachedRow {
  readonly lot: Pick<LotInProgress, 'code' | 'atUtc'>;
  /** The last moment in UTC at which the row changes by itself, such as when planned jars leave; empty where none. */
  readonly changesUntil: string;
}

/** Reads the rows of these lots, as of `nowUtc`; none of a lot that no longer exists. */
export type ReadRows<Row extends CachedRow> = (
  lots: readonly LotInProgress[],
  nowUtc: string,
) => Promise<readonly Row[]>;

interface Cached<Row> {
  /** The number of log entries when all of it was read. */
  readonly entries: number;
  /** The time in UTC as of which they were read, the earliest of them. */
  readonly asOf: string;
  /** Newest first. */
  readonly rows: readonly Row[];
}
const caches = new WeakMap<object, LeastRecentlyUsed<Promise<Cached<CachedRow>>>>();
const maxCached = 8;

/** The most rows of a table that are sorted, filtered or exported at once. */
export const maxRowsRead = 20_000;

/**
 * A row for each lot of these kinds, newest first, for a table that is sorted or filtered. Cached; after a write only
 * the lots that its entries name or judge are read again: reading six thousand packs takes a second. `unit` is what else
 * the rows depend on.
 */
export async function cachedRows<Row extends CachedRow>(
  principal: Principal,
  [kind, secondKind = kind]: readonly [LotKind, LotKind?],
  unit: string,
  read: ReadRows<Row>,
): Promise<readonly Row[]> {
  const { book, writeContext } = principal;
  const key = `${writeContext.sugarhouse} ${kind} ${unit}`;
  const tables = caches.get(book) ?? new LeastRecentlyUsed<Promise<Cached<CachedRow>>>(maxCached);
  caches.set(book, tables);
  const value = refresh(principal, [kind, secondKind], read, tables.get(key) as Promise<Cached<Row>> | undefined);
  tables.set(key, value);
  value.catch(() => tables.deleteIfSame(key, value));
  return (await value).rows;
}

async function refresh<Row extends CachedRow>(
  principal: Principal,
  kinds: readonly [LotKind, LotKind],
  read: ReadRows<Row>,
  pending: Promise<Cached<Row>> | undefined,
): Promise<Cached<Row>> {
  const previous = await pending?.catch(() => undefined);
  const reader = readerOf(principal);
  const asOf = utcOf(principal.writeContext.now);
  // Read first, so that entries written in the meantime are read next time and never skipped.
  const { entries } = await readFrontier(reader.sql);
  const toRead = previous && (await codesToRead(reader, previous, entries, asOf));
  if (previous && toRead) {
    const readAt = { entries, asOf: isSameMinute(asOf, previous.asOf) ? earlierOf(asOf, previous.asOf) : asOf };
    if (toRead.size === 0) return { ...previous, ...readAt };
    const lots = (await lotsInProgressNamed(reader, [...toRead])).filter((lot) => kinds.includes(lot.kind));
    const unchanged = previous.rows.filter(({ lot }) => !toRead.has(lot.code));
    return cacheEntry([...unchanged, ...(await read(lots, asOf))], readAt);
  }
  const { lots } = await lotsListed(reader, kinds[0], { from: 1, most: maxRowsRead }, kinds[1]);
  return cacheEntry(await read(lots, asOf), { entries, asOf });
}

/** The lots whose rows may have changed; undefined where any may. */
async function codesToRead<Row extends CachedRow>(
  reader: SugarhouseReader,
  previous: Cached<Row>,
  entries: number,
  asOf: string,
): Promise<ReadonlySet<string> | undefined> {
  if (entries < previous.entries) return undefined;
  const affected = entries === previous.entries ? new Set<string>() : await lotsTouchedSince(reader, previous.entries);
  if (!affected) return undefined;
  // Also where the clock was set back: what had moved by then has not moved yet.
  const since = earlierOf(asOf, previous.asOf);
  const changed = isSameMinute(asOf, previous.asOf) ? [] : previous.rows.filter((row) => row.changesUntil > since);
  return new Set([...affected, ...changed.map(({ lot }) => lot.code)]);
}

function cacheEntry<Row extends CachedRow>(rows: readonly Row[], read: { entries: number; asOf: string }): Cached<Row> {
  return { ...read, rows: [...rows].sort(newestFirst).slice(0, maxRowsRead) };
}

const isSameMinute = (one: string, other: string): boolean => one.slice(0, 16) === other.slice(0, 16);
const earlierOf = (one: string, other: string): string => (one < other ? one : other);

function newestFirst({ lot: one }: CachedRow, { lot: other }: CachedRow): number {
  if (one.atUtc !== other.atUtc) return one.atUtc > other.atUtc ? -1 : 1;
  return one.code > other.code ? -1 : 1;
}
