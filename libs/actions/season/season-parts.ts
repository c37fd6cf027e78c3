import type { RecordKind } from '#libs/records/record-types.js';
import type { SeasonBoil } from '#libs/reports/season/flow.js';
import type { SeasonLot } from '#libs/reports/season/lot.js';
import type { CarriedIn } from '#libs/reports/season/season.js';
import type { ChangedSince } from '#libs/store/log/lots-since.js';
import type { StoredRecord } from '#libs/store/queries/lots.js';

/**
 * A cache of what earlier readings of the same season found; each reading adds to it. Lots with something in the future
 * (a plan, a count a minute ahead) are not cached: they change without an entry.
 */
export interface SeasonCache {
  readonly lots: Map<string, SeasonLot>;
  readonly boils: Map<string, SeasonBoil>;
  /** Syrup of earlier years, by the lot that it went into. */
  readonly carriedIn: Map<string, readonly CarriedIn[]>;
  /** By the pack whose jars they sent. */
  readonly dispatches: Map<string, readonly StoredRecord<'dispatch'>[]>;
  /** Read from all records of a kind. */
  readonly ofKind: Map<RecordKind, unknown>;
}

/** An empty cache for a season. */
export const emptySeasonCache = (): SeasonCache => ({
  lots: new Map(),
  boils: new Map(),
  carriedIn: new Map(),
  dispatches: new Map(),
  ofKind: new Map(),
});

/** The parts that newer entries have not changed. */
export function keepUnchanged(parts: SeasonCache, changed: ChangedSince): SeasonCache {
  const omitChanged = <K extends string, T>(cached: ReadonlyMap<K, T>, gone: ReadonlySet<string>): Map<K, T> =>
    new Map([...cached].filter(([code]) => !gone.has(code)));
  return {
    lots: omitChanged(parts.lots, changed.lots),
    boils: omitChanged(parts.boils, changed.lots),
    carriedIn: omitChanged(parts.carriedIn, changed.lots),
    dispatches: omitChanged(parts.dispatches, changed.lots),
    ofKind: omitChanged(parts.ofKind, changed.kinds),
  };
}

/** From the cache, else read now. */
export async function loadKindOnce<T>(parts: SeasonCache, kind: RecordKind, read: () => Promise<T>): Promise<T> {
  const cached = parts.ofKind.get(kind) as T | undefined;
  if (cached !== undefined) return cached;
  const found = await read();
  parts.ofKind.set(kind, found);
  return found;
}
