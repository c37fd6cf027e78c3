import type { PackBody } from '#libs/records/kinds/pack.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { mentionsBoiling } from '#libs/syrup/contents/judge-thin-syrup.js';
import type { RuleName } from '#libs/syrup/rules/rules.js';
import type { JudgingContext } from '../judging/judging-context.js';
import { recordsForJudging } from '../judging/records-for-judging.js';

/**
 * Packs poured into this one whose density was found below the minimum, unless its kettle, its note or what was done
 * with them says that the syrup was boiled again.
 */
export async function thinPacksPoured(
  { sql, sugarhouse }: Pick<JudgingContext, 'sql' | 'sugarhouse'>,
  pack: Pick<PackBody, 'fromLots' | 'hotPackTemp' | 'note'>,
  upstream: readonly Lot[],
): Promise<string[]> {
  if ((pack.hotPackTemp?.celsius ?? 0) >= 100 || mentionsBoiling(pack.note)) return [];
  const poured = new Set(pack.fromLots.map(({ lot }) => lot));
  const thin: string[] = [];
  for (const { code, kind, verdict } of upstream) {
    if (kind !== 'pack' || !poured.has(code)) continue;
    if (!verdict?.findings.some(({ rule }) => rule === tooThin)) continue;
    const done = (await recordsForJudging({ sql, sugarhouse }, code))('action').map(({ body }) => body.done);
    if (!done.some(mentionsBoiling)) thin.push(code);
  }
  return thin;
}
const tooThin: RuleName = 'density-too-thin';
