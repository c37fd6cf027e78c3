import { toNumber } from '../connection/sql.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

/** Jars of a pack that dispatches wrote as destroyed or broken. */
export interface JarsDestroyed {
  /** The dispatch that wrote the last of them. */
  readonly last: string;
  /** How many were destroyed, by code or by count. */
  readonly count: number;
  /** Their numbers, where their codes were written. */
  readonly numbers: readonly number[];
}

/** `leavingOut` is a dispatch that is being corrected. */
export async function jarsDestroyed(
  { sql, sugarhouse }: SugarhouseReader,
  pack: string,
  { nowUtc, leavingOut = '' }: { readonly nowUtc: string; readonly leavingOut?: string | undefined },
): Promise<JarsDestroyed | undefined> {
  const moved = await sql.rows<{ id: string; kind: string; jars: number | string }>`SELECT id, kind, jars FROM movement
    WHERE sugarhouse = ${sugarhouse} AND lot = ${pack} AND kind IN ('destroyed', 'broken') AND id NOT LIKE 'action:%'
      AND sent_utc <= ${nowUtc} AND stopped = 0 AND id <> ${leavingOut} ORDER BY sent_utc, id`;
  const last = moved.at(-1);
  if (!last) return undefined;
  const named = await sql.rows<{ n: number | string }>`SELECT jar.n FROM movement
    JOIN movement_jar ON movement_jar.sugarhouse = movement.sugarhouse AND movement_jar.movement = movement.id
    JOIN jar ON jar.code = movement_jar.jar AND jar.sugarhouse = movement.sugarhouse
    WHERE movement.sugarhouse = ${sugarhouse} AND movement.lot = ${pack} AND movement.kind IN ('destroyed', 'broken')
      AND movement.sent_utc <= ${nowUtc} AND movement.stopped = 0 AND movement.id <> ${leavingOut} ORDER BY jar.n`;
  return {
    last: last.id,
    count: moved.filter(({ kind }) => kind === 'destroyed').reduce((sum, { jars }) => sum + toNumber(jars), 0),
    numbers: named.map(({ n }) => toNumber(n)),
  };
}
