import { utcOf } from '#libs/store/connection/instants.js';
import { jarsDestroyed } from '#libs/store/queries/jars-destroyed.js';
import { findRecord } from '#libs/store/queries/lots.js';
import type { JarsActedOn } from '#libs/syrup/jars/acted-jars.js';
import { wholePack } from '#libs/syrup/jars/fill-holds.js';
import { mergedSpans } from '#libs/syrup/jars/held-jars.js';
import type { Judging } from './judging.js';

/**
 * Jars that were written as sent out, kind destroyed or broken: they are off sale as if a corrective action named them.
 * By count nobody knows which they were, so they free none, unless all of the pack was destroyed.
 */
export async function destroyedByDispatch(
  { sql, sugarhouse, houseContext, leavingOut }: Judging,
  pack: string,
  made: number | undefined,
): Promise<JarsActedOn[]> {
  if (made === undefined) return [];
  const nowUtc = utcOf(houseContext.parseOptions.now);
  const destroyed = await jarsDestroyed({ sql, sugarhouse }, pack, { nowUtc, leavingOut });
  if (!destroyed) return [];
  const named = mergedSpans(destroyed.numbers.map((n) => ({ from: n, to: n })));
  const jars = destroyed.count >= made ? wholePack(made) : named;
  if (jars.length === 0) return [];
  const body = (await findRecord({ sql, sugarhouse }, 'dispatch', destroyed.last))?.body;
  return [{ how: 'destroyed', jars, fills: [], by: body?.by ?? '', at: body?.sentAt ?? '' }];
}
