import type { NamedJars, JarSpan } from '#libs/syrup/jars/jar-spans.js';
import { wholePack } from '#libs/syrup/jars/fill-holds.js';
import { judgeGlassUpstream } from '#libs/syrup/jars/judge-broken-glass.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import type { PackFacts } from '#libs/syrup/rules/judge-pack.js';
import type { RuleName } from '#libs/syrup/rules/rules.js';
import type { Finding } from '#libs/syrup/rules/verdict.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { findRecord, type Lot } from '#libs/store/queries/lots.js';
import { flowsOutOf, ofKind } from '#libs/store/queries/trace.js';
import { momentIn } from '../record/times.js';
import { destroyedByDispatch } from '../jars/destroyed-jars.js';
import type { JudgingContext } from '../judging/judging-context.js';
import { packAfterActions } from './pack-after-actions.js';
import { recordsForJudging } from '../judging/records-for-judging.js';

/** The jars near which glass broke; all of the pack where which is not recorded. */
export const brokenJars = (brokenGlass: NamedJars | undefined, jars: number | undefined): readonly JarSpan[] =>
  brokenGlass?.all ? wholePack(jars ?? null) : (brokenGlass?.spans ?? []);

/**
 * Splinters that came into a pack with syrup poured from others, directly or through packs between. Only what was done
 * about their jars before the pouring counts, whatever is recorded of them afterwards.
 */
export async function glassUpstreamFindings(
  judging: JudgingContext,
  lot: Lot,
  upstream: readonly Lot[],
): Promise<Finding[]> {
  const findings: Finding[] = [];
  const packs = ofKind(upstream, 'pack');
  const into = new Set([lot, ...packs].map(({ code }) => code));
  for (const { code } of packs) {
    const body = (await findRecord(judging, 'pack', code))?.body;
    if (!body?.brokenGlass) continue;
    const written = (await recordsForJudging(judging, code))('action').map((each) => each.body);
    const { actions } = packAfterActions(body, written);
    for (const { atUtc } of (await flowsOutOf(judging, code)).filter((flow) => into.has(flow.into)))
      findings.push(
        ...judgeGlassUpstream({
          pack: code,
          broken: brokenJars(body.brokenGlass, body.jars),
          jars: body.jars ?? null,
          actionsBefore: [
            ...actions.filter(({ at }) => at !== undefined && utcOf(at) <= atUtc),
            ...(await destroyedByDispatch(judging, code, body.jars, atUtc)),
          ],
          pouredOn: momentIn(judging.houseContext.parseOptions.zone, new Date(atUtc)).slice(0, 10),
        }),
      );
  }
  return findings;
}

/** Whether a rule holds for splinters, which no heating removes. */
export const isOfGlass = (rule: string): boolean => glassRules.includes(rule);
const glassRules: readonly string[] = ['broken-glass', 'glass-poured-in'] satisfies RuleName[];

/** The jars near which glass broke in a pack, and whether all its syrup was poured into others since. */
export async function glassFacts(
  judging: JudgingContext,
  { brokenGlass, container, jars }: Pick<PackBody, 'brokenGlass' | 'container' | 'jars'>,
  { code }: Lot,
): Promise<Pick<PackFacts, 'brokenGlass' | 'isPouredIntoOthers'>> {
  if (!brokenGlass) return {};
  const poured = await countJarsPouredOn(judging, code, { jarMl: container.volume.millilitres });
  return { brokenGlass: brokenJars(brokenGlass, jars), isPouredIntoOthers: jars !== undefined && poured >= jars };
}

/** How many jars' syrup of a pack was poured into others, by `untilUtc` where it is given. */
export async function countJarsPouredOn(
  reader: Pick<JudgingContext, 'sql' | 'sugarhouse'>,
  code: string,
  { jarMl, untilUtc }: { readonly jarMl: number; readonly untilUtc?: string | undefined },
): Promise<number> {
  const flows = (await flowsOutOf(reader, code)).filter(
    ({ kind, atUtc }) => kind === 'syrup' && (untilUtc === undefined || atUtc <= untilUtc),
  );
  return Math.round(flows.reduce((sum, { millilitres }) => sum + millilitres, 0) / jarMl);
}
