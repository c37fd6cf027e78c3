import { balancesOf } from '#libs/store/queries/jar-balance.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { findLot, type Lot } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { packsJudgedByOtherRules } from '#libs/store/queries/work-in-progress.js';
import { type Movement, movementsStopped } from '#libs/store/queries/trace.js';
import type { JudgingContext } from '../judging/judging-context.js';
import { isJudgedByOlderRules, judgeLotNow, currentRulesPrefix } from '../judging/judge-now.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

interface CachedLot {
  readonly lastSeq: number;
  readonly lot: Lot | undefined;
}
/** By book, then by lot; a lot that an older version judged is judged again only after an entry about it. */
const cacheByBook = new WeakMap<object, Map<string, CachedLot>>();

/**
 * Packs with jars on hand that an older version left open or released and today's rules would hold. The log stays as it
 * is: they become held with the next entry about them, and may not leave before.
 */
export async function heldByTodaysRules(book: { readonly read: Sql }, judging: JudgingContext): Promise<Lot[]> {
  const { sql, sugarhouse } = judging;
  const old = await packsJudgedByOtherRules({ sql, sugarhouse }, currentRulesPrefix);
  const codes = old.map((lot) => lot.code);
  const balances = await balancesOf({ sql, sugarhouse }, codes, utcOf(judging.houseContext.parseOptions.now));
  const held: Lot[] = [];
  for (const lot of old) {
    if ((balances.get(lot.code)?.onHand ?? 0) <= 0) continue;
    const judged = await findHeldByTodaysRules(book, judging, lot);
    if (judged) held.push(judged);
  }
  return held;
}

/** The lot as today's rules judge it, where they would hold it and the stored verdict is by older rules. */
export async function findHeldByTodaysRules(
  book: { readonly read: Sql },
  judging: JudgingContext,
  lot: Lot,
): Promise<Lot | undefined> {
  if (!isJudgedByOlderRules(lot) || (lot.state !== 'open' && lot.state !== 'released')) return undefined;
  const key = `${judging.sugarhouse}/${lot.code}`;
  const cache = cacheByBook.get(book) ?? new Map<string, CachedLot>();
  cacheByBook.set(book, cache);
  const cached = cache.get(key);
  if (cached?.lastSeq === lot.lastSeq) return cached.lot;
  const judged = await judgeLotNow(judging, lot.code);
  const held = judged?.state === 'held' ? judged : undefined;
  cache.set(key, { lastSeq: lot.lastSeq, lot: held });
  return held;
}

/** Planned dispatches, overdue ones too, from a lot that has since been held or recalled. */
export async function plansOfHeldLots(reader: SugarhouseReader): Promise<[Movement, Lot][]> {
  const plans: [Movement, Lot][] = [];
  for (const plan of await movementsStopped(reader)) {
    const lot = await findLot(reader, plan.lot);
    if (lot) plans.push([plan, lot]);
  }
  return plans;
}
