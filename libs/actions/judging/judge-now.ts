import { findLot, type Lot } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { rulesVersion } from '#libs/syrup/rules/rules.js';
import { type WriteContext, loadSugarhouseContext } from '../record/write-context.js';
import { judgeLots } from './judge-lots.js';
import type { JudgingContext } from './judging-context.js';
import { momentIn } from '../record/times.js';

/** The context for judging a lot where nothing is being written. */
export async function loadJudgingContext(
  sql: Sql,
  context: Pick<WriteContext, 'sugarhouse' | 'now' | 'zone' | 'houseContext'>,
): Promise<JudgingContext> {
  const houseContext = context.houseContext ?? (await loadSugarhouseContext(sql, context));
  return {
    sql,
    sugarhouse: context.sugarhouse,
    houseContext,
    at: momentIn(houseContext.parseOptions.zone, context.now),
  };
}

/**
 * A lot as this version's rules judge it now. The index may hold the verdict of an older version, or from before
 * something upstream changed, which is not enough to send jars out.
 */
export async function judgeLotNow(judging: JudgingContext, code: string): Promise<Lot | undefined> {
  const lot = await findLot(judging, code);
  if (!lot) return undefined;
  const [judged] = await judgeLots(judging, [lot.code]);
  if (!judged) return lot;
  return { ...lot, state: judged.state, heldSince: judged.heldSince, verdict: judged.verdict ?? lot.verdict };
}

/** The prefix of a verdict by today's rules. */
export const currentRulesPrefix = `rules ${rulesVersion};`;

/** Whether a lot's verdict in the index is by an older version of the rules, or missing. */
export const isJudgedByOlderRules = (lot: Lot): boolean =>
  lot.verdict === undefined || !lot.verdict.rules.startsWith(currentRulesPrefix);
