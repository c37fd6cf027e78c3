import { readSeason } from '#libs/actions/season/read-season.js';
import { emptySeasonCache, type SeasonCache, keepUnchanged } from '#libs/actions/season/season-parts.js';
import { loadSeasonContext } from '#libs/actions/season/season-context.js';
import type { Season } from '#libs/reports/season/season.js';
import { lotsNamed } from '#libs/store/connection/batch-queries.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { type SugarhouseReader, sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { peopleOf } from '#libs/store/household/household.js';
import { lotsChangedSince } from '#libs/store/log/lots-since.js';
import { readHead } from '#libs/store/log/log.js';
import { type Principal, readerOf } from '../../http/principal.js';

interface SeasonRead {
  readonly season: Season;
  readonly parts: SeasonCache;
  /** People's names, which are not in the log. */
  readonly people: string;
  /** The server's clock when it was read. */
  readonly now: Date;
}
interface CachedSeason {
  readonly state: string;
  readonly read: Promise<SeasonRead>;
}
const caches = new WeakMap<object, Map<string, CachedSeason>>();
const maxCached = 12;

/**
 * The season without the log, which its pages don't show. Cached; after a write only the lots that it may have changed
 * are read again: a reading of one pack must not make the next request read hundreds of packs, nor a closed season.
 */
export async function cachedSeason(principal: Principal, year: number): Promise<Season> {
  const { book, writeContext } = principal;
  const people = JSON.stringify(await peopleOf(readerOf(principal)));
  const { root } = await readHead(book.read);
  const state = `${root} ${writeContext.now.toISOString().slice(0, 16)} ${writeContext.zone} ${people}`;
  const key = `${writeContext.sugarhouse} ${year}`;
  const cache = caches.get(book) ?? new Map<string, CachedSeason>();
  caches.set(book, cache);
  const previous = cache.get(key);
  if (previous?.state === state) return (await previous.read).season;
  const read = refresh(principal, year, people, previous?.read);
  cache.delete(key);
  cache.set(key, { state, read });
  read.catch(() => cache.get(key)?.read === read && cache.delete(key));
  const [oldest] = cache.keys();
  if (cache.size > maxCached && oldest !== undefined) cache.delete(oldest);
  return (await read).season;
}

async function refresh(
  principal: Principal,
  year: number,
  people: string,
  pending: Promise<SeasonRead> | undefined,
): Promise<SeasonRead> {
  const previous = await pending?.catch(() => undefined);
  return principal.book.snapshot(
    async (sql) => {
      const reader = sugarhouseReader(sql, principal.writeContext.sugarhouse);
      const { now } = principal.writeContext;
      // Where the clock was set back, what had moved by then has not moved yet.
      const isUsable = previous?.people === people && previous.now <= now;
      const parts = isUsable ? await unchangedSince(reader, previous) : 'none';
      if (parts === 'all' && previous)
        return { ...previous, now, season: await withCurrentTime(sql, principal, previous.season) };
      const known = parts === 'none' || parts === 'all' ? emptySeasonCache() : parts;
      const houseContext = await loadSeasonContext(sql, principal.writeContext);
      const season = await readSeason(reader, year, houseContext, { withoutLog: true, parts: known });
      return { season, parts: known, people, now };
    },
    { rerun: true },
  );
}

/** What later entries may have changed of a cached season: all of it, some of its lots, or nothing. */
async function unchangedSince(
  reader: SugarhouseReader,
  { season, parts }: SeasonRead,
): Promise<'all' | 'none' | SeasonCache> {
  const changed = await lotsChangedSince(reader, season.record.entries);
  if (!changed) return 'none';
  const lots = await lotsNamed(reader, [...changed.lots]);
  // A year's figures are shown beside those of the years before it.
  const isConcerned =
    [...changed.years].some((year) => year <= season.year) || [...lots.values()].some((lot) => lot.year <= season.year);
  const isComplete = parts.lots.size === season.lots.length && !season.dispatches.some(({ planned }) => planned);
  if (!isConcerned && isComplete) return 'all';
  return keepUnchanged(parts, changed);
}

async function withCurrentTime(sql: Sql, principal: Principal, season: Season): Promise<Season> {
  const { asOf } = await loadSeasonContext(sql, principal.writeContext);
  return { ...season, asOf, record: await readHead(sql) };
}
