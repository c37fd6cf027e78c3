import type { Judged, NumberedEntry } from '#libs/records/entry.js';
import { type JarSpan, overlapsSpans } from '#libs/syrup/jars/jar-spans.js';
import type { Verdict } from '#libs/syrup/rules/verdict.js';
import { utcOf } from '../connection/instants.js';
import { rowsInList } from '../connection/in-list.js';
import { rowByKey } from '../connection/rows-by-key.js';
import type { LotColumns } from '../queries/lots.js';
import { movementsOf } from '../queries/trace.js';
import type { Sql } from '../connection/sql.js';

/**
 * A hold or recall stops the future plans of its lot: nobody recorded that those jars left, so they don't count as gone
 * when the day of the plan passes. Plans made while the lot was already held, for free jars, are left unchanged. Called
 * before the verdict is written, to compare it with the previous one.
 */
export async function stopPlans(sql: Sql, entry: NumberedEntry, judged: Judged): Promise<void> {
  if (judged.state === 'open' || judged.state === 'released') return;
  const house = entry.sugarhouse;
  const before = await rowByKey<LotColumns>(sql, { table: 'lot', sugarhouse: house }, judged.lot);
  const held = entry.entryType === 'hold' || judged.state === 'recalled' ? undefined : spansHeld(judged.verdict);
  if (before?.state === judged.state && entry.entryType !== 'hold') {
    const was = spansHeld(before.verdict === null ? undefined : (JSON.parse(before.verdict) as Verdict));
    if (was === undefined || held?.every((span) => was.some(({ from, to }) => from <= span.from && span.to <= to)))
      return;
  }
  const plans = (await movementsOf({ sql, sugarhouse: house }, [judged.lot])).filter(
    (each) =>
      each.sentUtc > utcOf(entry.typedAt) &&
      !each.stopped &&
      !each.laboratory &&
      ['sale', 'gift', 'sample', 'kept'].includes(each.kind),
  );
  for (const { id, byCodes } of plans) {
    if (byCodes && held && !(await namesHeld(sql, house, id, held))) continue;
    await sql.run`UPDATE movement SET stopped = 1 WHERE sugarhouse = ${house} AND id = ${id}`;
  }
}

/** Undefined where the whole pack is held. */
const spansHeld = (verdict: Verdict | undefined): readonly JarSpan[] | undefined =>
  verdict?.awaitsRelease === undefined && verdict?.heldJars && verdict.heldJars.length > 0
    ? verdict.heldJars
    : undefined;

async function namesHeld(sql: Sql, house: string, plan: string, held: readonly JarSpan[]): Promise<boolean> {
  const named = await sql.rows<{ jar: string }>`SELECT jar FROM movement_jar
    WHERE sugarhouse = ${house} AND movement = ${plan}`;
  const jars = await rowsInList<{ n: number }>(
    sql,
    'SELECT n FROM jar WHERE sugarhouse = ? AND code IN (LIST)',
    [house],
    named.map(({ jar }) => jar),
  );
  return jars.some(({ n }) => overlapsSpans(held, { from: n, to: n }));
}
