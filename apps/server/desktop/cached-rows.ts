import type { LotKind } from '#libs/records/record-types.js';
import { utcOf } from '#libs/store/connection/instants.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { lotsTouchedSince } from '#libs/store/log/lots-since.js';
import { readFrontier } from '#libs/store/log/log.js';
import { lotsListed } from '#libs/store/queries/lists.js';
import { type LotInProgress, lotsInProgressNamed } from '#libs/store/queries/work-in-progress.js';
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
  readonly inOrder: readonly Row[];
}
const cacheOf = new WeakMap<object, Map<string, Promise<Cached<CachedRow>>>>();
const mostCached = 8;

/** The most rows of a table that are sorted, filtered or exported at once. */
export const mostRead = 20_000;

/**
 * A row for each lot of these kinds, newest first, for a table that is sorted or filtered. Cached; after a write only
 * the lots that its entries name or judge are read again: reading six thousand packs takes a second. `unit` is what else
 * the rows depend on.
 */
export async function cachedRows<Row extends CachedRow>(
  principal: Principal,
  [kind, other = kind]: readonly [LotKind, LotKind?],
  unit: string,
  read: ReadRows<Row>,
): Promise<readonly Row[]> {
  const { book, writeContext } = principal;
  const key = `${writeContext.sugarhouse} ${kind} ${unit}`;
  const all = cacheOf.get(book) ?? new Map<string, Promise<Cached<CachedRow>>>();
  cacheOf.set(book, all);
  const value = readAfter(principal, [kind, other], read, all.get(key) as Promise<Cached<Row>> | undefined);
  all.delete(key);
  all.set(key, value);
  value.catch(() => all.get(key) === value && all.delete(key));
  const [oldest] = all.keys();
  if (all.size > mostCached && oldest !== undefined) all.delete(oldest);
  return (await value).inOrder;
}

async function readAfter<Row extends CachedRow>(
  principal: Principal,
  kinds: readonly [LotKind, LotKind],
  read: ReadRows<Row>,
  earlier: Promise<Cached<Row>> | undefined,
): Promise<Cached<Row>> {
  const before = await earlier?.catch(() => undefined);
  const reader = readerOf(principal);
  const asOf = utcOf(principal.writeContext.now);
  // Read first, so that entries written in the meantime are read next time and never skipped.
  const { entries } = await readFrontier(reader.sql);
  const again = before && (await codesToRead(reader, before, entries, asOf));
  if (before && again) {
    const readAt = { entries, asOf: isSameMinute(asOf, before.asOf) ? earlierOf(asOf, before.asOf) : asOf };
    if (again.size === 0) return { ...before, ...readAt };
    const lots = (await lotsInProgressNamed(reader, [...again])).filter((lot) => kinds.includes(lot.kind));
    const still = before.inOrder.filter(({ lot }) => !again.has(lot.code));
    return cacheFrom([...still, ...(await read(lots, asOf))], readAt);
  }
  const { lots } = await lotsListed(reader, kinds[0], { from: 1, most: mostRead }, kinds[1]);
  return cacheFrom(await read(lots, asOf), { entries, asOf });
}

/** The lots whose rows may have changed; undefined where any may. */
async function codesToRead<Row extends CachedRow>(
  reader: SugarhouseReader,
  before: Cached<Row>,
  entries: number,
  asOf: string,
): Promise<ReadonlySet<string> | undefined> {
  if (entries < before.entries) return undefined;
  const touched = entries === before.entries ? new Set<string>() : await lotsTouchedSince(reader, before.entries);
  if (!touched) return undefined;
  // Also where the clock was set back: what had moved by then has not moved yet.
  const since = earlierOf(asOf, before.asOf);
  const changed = isSameMinute(asOf, before.asOf) ? [] : before.inOrder.filter((row) => row.changesUntil > since);
  return new Set([...touched, ...changed.map(({ lot }) => lot.code)]);
}

function cacheFrom<Row extends CachedRow>(rows: readonly Row[], read: { entries: number; asOf: string }): Cached<Row> {
  return { ...read, inOrder: [...rows].sort(newestFirst).slice(0, mostRead) };
}

const isSameMinute = (one: string, other: string): boolean => one.slice(0, 16) === other.slice(0, 16);
const earlierOf = (one: string, other: string): string => (one < other ? one : other);

function newestFirst({ lot: one }: CachedRow, { lot: other }: CachedRow): number {
  if (one.atUtc !== other.atUtc) return one.atUtc > other.atUtc ? -1 : 1;
  return one.code > other.code ? -1 : 1;
}
