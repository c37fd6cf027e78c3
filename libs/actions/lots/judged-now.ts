import { findLot, type Lot } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { rulesVersion } from '#libs/syrup/rules/rules.js';
import { type WriteContext, loadSugarhouseContext } from '../record/write-context.js';
import { judgeLots } from './judge-lots.js';
import type { Judging } from './judging.js';
import { momentIn } from '../record/times.js';

/** What a lot is judged anew with where nothing is being written. */
export async function judgingNow(
  sql: Sql,
  context: Pick<WriteContext, 'sugarhouse' | 'now' | 'zone' | 'houseContext'>,
): Promise<Judging> {
  const houseContext = context.houseContext ?? (await loadSugarhouseContext(sql, context));
  return {
    sql,
    sugarhouse: context.sugarhouse,
    houseContext,
    at: momentIn(houseContext.parseOptions.zone, context.now),
  };
}

/**
 * A lot as the rules of this program judge it now. The index may hold the verdict of an older program, or of a moment
 * before something upstream changed: what is about to leave is not sent on the strength of that.
 */
export async function lotJudgedNow(judging: Judging, code: string): Promise<Lot | undefined> {
  const lot = await findLot(judging, code);
  if (!lot) return undefined;
  const [judged] = await judgeLots(judging, [lot.code]);
  if (!judged) return lot;
  return { ...lot, state: judged.state, heldSince: judged.heldSince, verdict: judged.verdict ?? lot.verdict };
}

/** How a verdict of today's rules begins. */
export const rulesNow = `rules ${rulesVersion};`;

/** Whether a lot's verdict in the index was given by an older version of the rules, or by none. */
export const isJudgedByOlderRules = (lot: Lot): boolean =>
  lot.verdict === undefined || !lot.verdict.rules.startsWith(rulesNow);
