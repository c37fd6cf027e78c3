import { balancesOf } from '#libs/store/queries/jar-balance.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { type Movement, returnsNotInspected } from '#libs/store/queries/trace.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** Returned jars still set apart for which nobody has recorded whether they are sealed and how they were stored. */
export async function returnsToInspect(reader: SugarhouseReader, now: Date): Promise<Movement[]> {
  const nowUtc = utcOf(now);
  const waiting = (await returnsNotInspected(reader)).filter((each) => each.sentUtc <= nowUtc);
  const packs = [...new Set(waiting.map((each) => each.lot))];
  const balances = await balancesOf(reader, packs, nowUtc);
  return waiting.filter((each) => (balances.get(each.lot)?.parts.returnedApart ?? 0) > 0);
}
