import type { LabelRun } from '#libs/actions/labels/label-count.js';
import { lotsNamed, recordsAboutEach } from '#libs/store/connection/batch-queries.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { lotsTouchedSince } from '#libs/store/log/lots-since.js';
import { readFrontier } from '#libs/store/log/log.js';
import { type Lot, lotsOf } from '#libs/store/queries/lots.js';
import { type JarAccount, jarAccounts } from '#libs/store/queries/pack-accounts.js';
import { LeastRecentlyUsed } from '../../http/least-recently-used.js';
import { type Principal, readerOf } from '../../http/principal.js';

/** A pack with its jar movements, and which jars had labels. None of it depends on the time. */
export interface PackedLot {
  readonly lot: Lot;
  readonly account: JarAccount;
  readonly runs: readonly LabelRun[];
}

interface CachedPacks {
  /** The number of log entries when all of it was read. */
  readonly entries: number;
  readonly packs: ReadonlyMap<string, PackedLot>;
}
const caches = new WeakMap<object, LeastRecentlyUsed<Promise<CachedPacks>>>();
const maxCached = 8;

/**
 * The packs of a year and of the one before, each year's newest first. Cached; after a write only the lots that its
 * entries name are read again, for Today is what everyone looks at between two jars.
 */
export async function packedLots(principal: Principal, year: number): Promise<readonly PackedLot[]> {
  const { book, writeContext } = principal;
  const key = `${writeContext.sugarhouse} ${year}`;
  const years = caches.get(book) ?? new LeastRecentlyUsed<Promise<CachedPacks>>(maxCached);
  caches.set(book, years);
  const value = refresh(readerOf(principal), year, years.get(key));
  years.set(key, value);
  value.catch(() => years.deleteIfSame(key, value));
  return [...(await value).packs.values()].sort(newestOfYear);
}

async function refresh(
  reader: SugarhouseReader,
  year: number,
  pending: Promise<CachedPacks> | undefined,
): Promise<CachedPacks> {
  const previous = await pending?.catch(() => undefined);
  // Read first, so that entries written in the meantime are read next time and never skipped.
  const { entries } = await readFrontier(reader.sql);
  if (previous?.entries === entries) return previous;
  const affected =
    previous && previous.entries < entries ? await lotsTouchedSince(reader, previous.entries) : undefined;
  if (!previous || !affected)
    return {
      entries,
      packs: await readPacks(reader, [
        ...(await lotsOf(reader, 'pack', year - 1)),
        ...(await lotsOf(reader, 'pack', year)),
      ]),
    };
  const toRead = [...(await lotsNamed(reader, [...affected])).values()].filter(
    (lot) => lot.kind === 'pack' && (lot.year === year || lot.year === year - 1),
  );
  const unchanged = [...previous.packs].filter(([code]) => !affected.has(code));
  return { entries, packs: new Map([...unchanged, ...(await readPacks(reader, toRead))]) };
}

async function readPacks(reader: SugarhouseReader, lots: readonly Lot[]): Promise<ReadonlyMap<string, PackedLot>> {
  const codes = lots.map(({ code }) => code);
  const accounts = await jarAccounts(reader, codes);
  const runs = await recordsAboutEach(reader, codes, 'labels');
  return new Map(
    lots.flatMap((lot) => {
      const account = accounts.get(lot.code);
      return account
        ? [[lot.code, { lot, account, runs: (runs.get(lot.code) ?? []).map(({ body }) => body) }] as const]
        : [];
    }),
  );
}

function newestOfYear({ lot: one }: PackedLot, { lot: other }: PackedLot): number {
  if (one.year !== other.year) return one.year - other.year;
  if (one.atUtc !== other.atUtc) return one.atUtc > other.atUtc ? -1 : 1;
  return one.code > other.code ? -1 : 1;
}
