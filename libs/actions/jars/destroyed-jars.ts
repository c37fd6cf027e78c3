import { utcOf } from '#libs/store/connection/instants.js';
import { jarsDestroyed } from '#libs/store/queries/jars-destroyed.js';
import { findRecord } from '#libs/store/queries/lots.js';
import type { JarAction } from '#libs/syrup/jars/judge-action.js';
import { wholePack } from '#libs/syrup/jars/fill-holds.js';
import { mergeSpans, jarsInSpans, subtractSpans } from '#libs/syrup/jars/jar-spans.js';
import type { JudgingContext } from '../judging/judging-context.js';

/**
 * Jars dispatched as destroyed or broken: off sale as if a corrective action named them. By count nobody knows which
 * they were, so they clear none, unless every jar that didn't leave by its code was destroyed.
 */
export async function destroyedByDispatch(
  { sql, sugarhouse, houseContext, exceptDispatch }: JudgingContext,
  pack: string,
  jarsMade: number | undefined,
  nowUtc = utcOf(houseContext.parseOptions.now),
): Promise<JarAction[]> {
  if (jarsMade === undefined) return [];
  const destroyed = await jarsDestroyed({ sql, sugarhouse }, pack, { nowUtc, exceptDispatch });
  if (!destroyed) return [];
  const numbered = mergeSpans(destroyed.numbers.map((n) => ({ from: n, to: n })));
  const elsewhere = mergeSpans(destroyed.elsewhere.map((n) => ({ from: n, to: n })));
  const unsent = subtractSpans(wholePack(jarsMade), [...elsewhere, ...numbered]);
  const jars = destroyed.byCount >= jarsInSpans(unsent) ? mergeSpans([...numbered, ...unsent]) : numbered;
  if (jars.length === 0) return [];
  const body = (await findRecord({ sql, sugarhouse }, 'dispatch', destroyed.last))?.body;
  return [{ how: 'destroyed', jars, fills: [], by: body?.by ?? '', at: body?.sentAt ?? '' }];
}
