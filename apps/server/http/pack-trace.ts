import { type TraceWithSources, tracePack } from '#libs/actions/lots/trace-lot.js';
import { balanceChangesUntil } from '#libs/store/queries/jar-balance.js';
import { lotCacheSlot, type LotValue } from './lot-cache.js';
import { type Principal, readerOf } from './principal.js';

interface CachedTrace extends LotValue {
  readonly found: TraceWithSources;
}

/**
 * The trace of a pack, which its jars' traces have in common: cached until an entry that may concern the pack is
 * written. Undefined where the sugarhouse has no such pack.
 */
export async function packTraceFor(principal: Principal, pack: string): Promise<TraceWithSources | undefined> {
  const slot = await lotCacheSlot<CachedTrace>(principal, `trace of ${pack} ${principal.readsAll}`);
  if (slot.value) return slot.value.found;
  const found = await tracePack(readerOf(principal), pack, principal.writeContext.now, { members: principal.readsAll });
  if (found && isTracedInOneBook(found))
    slot.put({ lot: pack, changesUntil: traceChangesUntil(found), bytes: bytesOfTrace(found), found });
  return found;
}

/** Whether it rests on this sugarhouse's entries alone: a received lot may be traced into another one's book. */
export const isTracedInOneBook = ({ trace }: TraceWithSources): boolean => trace.receipts.length === 0;

/** The last moment in UTC at which the trace changes by itself: jars that are planned to leave are then sent. */
export const traceChangesUntil = ({ accounts }: TraceWithSources): string =>
  [...accounts.values()].map(balanceChangesUntil).sort().at(-1) ?? '';

/**
 * Roughly how much memory it takes: numbers and texts take about twice as much as written out. Kept, for both the trace
 * and what a pack's jars share are cached with it.
 */
export function bytesOfTrace(found: TraceWithSources): number {
  const known = bytesOfEach.get(found);
  if (known !== undefined) return known;
  const bytes = 2 * JSON.stringify([found, [...found.accounts]]).length;
  bytesOfEach.set(found, bytes);
  return bytes;
}
const bytesOfEach = new WeakMap<TraceWithSources, number>();
