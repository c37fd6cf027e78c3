import { toNumber } from '../connection/sql.js';
import { hasMoved, movementsOf } from './trace.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

/** Jars of a pack that dispatches recorded as destroyed or broken. */
export interface JarsDestroyed {
  /** The dispatch that recorded the last of them. */
  readonly last: string;
  /** How many were destroyed without naming which. */
  readonly byCount: number;
  /** Their numbers, where their codes were recorded. */
  readonly numbers: readonly number[];
  /** Jars that left otherwise, by their codes, and were never returned. */
  readonly elsewhere: readonly number[];
}

/** `exceptDispatch` is a dispatch being corrected. */
export async function jarsDestroyed(
  { sql, sugarhouse }: SugarhouseReader,
  pack: string,
  { nowUtc, exceptDispatch = '' }: { readonly nowUtc: string; readonly exceptDispatch?: string | undefined },
): Promise<JarsDestroyed | undefined> {
  const all = (await movementsOf({ sql, sugarhouse }, [pack])).filter(
    (each) => hasMoved(each, nowUtc) && each.id !== exceptDispatch,
  );
  const moved = all.filter((each) => ['destroyed', 'broken'].includes(each.kind));
  const last = moved.at(-1);
  if (!last) return undefined;
  const named = !all.some(({ byCodes }) => byCodes)
    ? []
    : await sql.rows<{ n: number | string; kind: string }>`SELECT jar.n, movement.kind FROM movement
    JOIN movement_jar ON movement_jar.sugarhouse = movement.sugarhouse AND movement_jar.movement = movement.id
    JOIN jar ON jar.code = movement_jar.jar AND jar.sugarhouse = movement.sugarhouse
    WHERE movement.sugarhouse = ${sugarhouse} AND movement.lot = ${pack} AND movement.id NOT LIKE 'action:%'
      AND movement.sent_utc <= ${nowUtc} AND movement.stopped = 0 AND movement.id <> ${exceptDispatch} ORDER BY jar.n`;
  const numbers = (is: (kind: string) => boolean): number[] =>
    named.filter(({ kind }) => is(kind)).map(({ n }) => toNumber(n));
  const wasted = numbers((kind) => kind === 'destroyed' || kind === 'broken');
  const returned = new Set(numbers((kind) => kind === 'returned'));
  return {
    last: last.id,
    byCount:
      moved.filter(({ kind }) => kind === 'destroyed').reduce((sum, { jars }) => sum + jars, 0) -
      numbers((kind) => kind === 'destroyed').length,
    numbers: wasted,
    elsewhere: numbers((kind) => !['destroyed', 'broken', 'returned'].includes(kind)).filter((n) => !returned.has(n)),
  };
}
