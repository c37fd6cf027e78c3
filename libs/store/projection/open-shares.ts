import type { NumberedEntry } from '#libs/records/entry.js';
import type { Sql } from '../connection/sql.js';
import { drawnFrom, flowsOutOf } from '../queries/trace.js';

/**
 * Settles the share of a lot that took all that was left before anybody recorded how much there was: it becomes what is
 * left of `millilitres` now that the amount is recorded. Of several such shares the oldest takes it. Without this, syrup
 * that was packed before it was measured would wait to be packed for ever.
 */
export async function settleOpenShares(
  sql: Sql,
  { sugarhouse }: NumberedEntry,
  code: string,
  millilitres: number,
): Promise<void> {
  const open = (await flowsOutOf({ sql, sugarhouse }, code)).filter(
    (flow) => flow.kind !== 'carried' && flow.typed === '' && flow.millilitres === 0,
  );
  const [oldest] = open;
  const left = oldest ? millilitres - (await drawnFrom({ sql, sugarhouse }, code)) : 0;
  if (!oldest || left <= 0) return;
  await sql.run`UPDATE flow SET millilitres = ${left}
    WHERE sugarhouse = ${sugarhouse} AND from_lot = ${code} AND into_lot = ${oldest.into} AND kind = ${oldest.kind}`;
}
