import type { Judged } from '#libs/records/entry.js';
import { heldByHand } from '#libs/store/log/lot-entries.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { heldUpstream } from '#libs/syrup/rules/entry-findings.js';
import { type RuleName, ruleTitle } from '#libs/syrup/rules/rules.js';
import type { Finding, Verdict } from '#libs/syrup/rules/verdict.js';
import { boilRulesVersion } from './judge-boil-lot.js';
import type { JudgingContext } from './judging-context.js';
import { judgeBoilLotState } from './lot-state.js';

/**
 * Holds of a pack for the lots that its syrup came from (`upstream`): each one recalled, held by hand, or held for a
 * cause that stays in the syrup. Lots judged in the same write are in `judged`, by code; a boil that older rules judged
 * is judged again and added to it.
 */
export async function upstreamHolds(
  judging: JudgingContext,
  upstream: readonly Lot[],
  judged: Map<string, Judged>,
): Promise<Finding[]> {
  const { sql, sugarhouse } = judging;
  const findings: Finding[] = [];
  for (const lot of upstream) {
    if (
      lot.kind === 'boil' &&
      !judged.has(lot.code) &&
      lot.verdict?.rules !== boilRulesVersion(judging.houseContext.place)
    )
      judged.set(lot.code, await judgeBoilLotState(judging, lot));
    const { state, verdict } = judged.get(lot.code) ?? lot;
    if (state === 'recalled') findings.push(heldUpstream({ upstream: lot.code, status: 'recalled' }));
    if (state !== 'held') continue;
    const why = lot.kind === 'boil' ? boilHoldText(verdict) : persistentCause(verdict);
    const byHand = await heldByHand({ sql, sugarhouse }, lot.code);
    if (byHand || why !== undefined) findings.push(heldUpstream({ upstream: lot.code, status: 'held', why }));
  }
  return findings;
}

/**
 * Why a held pack also holds the packs poured from it: lead stays in the syrup. Splinters, mould and illness are judged
 * for each pack separately. Undefined where pouring it back and packing again clears its hold.
 */
function persistentCause(verdict: Verdict | undefined): string | undefined {
  const inSyrup: RuleName = 'lead-over-limit';
  return verdict?.findings.some(({ stop, rule }) => stop && rule === inSyrup) ? `“${ruleTitle(inSyrup)}”` : undefined;
}

/** Why a boil holds its packs. Equipment and lead are judged for each pack separately (`upstreamEquipmentFindings`). */
function boilHoldText(verdict: Verdict | undefined): string | undefined {
  const rules: readonly RuleName[] = ['sap-question', 'more-sugar-than-came-in'];
  const rule = rules.find((each) => verdict?.findings.some((finding) => finding.stop && finding.rule === each));
  if (rule) return `“${ruleTitle(rule)}”`;
  return verdict?.awaitsRelease === undefined ? undefined : 'it waits to be released';
}
