import type { LotState } from '#libs/records/entry.js';
import type { LotKind } from '#libs/records/record-types.js';
import { lotFrom, type Lot, type LotColumns } from './lots.js';
import { toNumber } from '../connection/sql.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

/** A lot and how much of it has not gone into another yet. */
export interface LotInProgress extends Lot {
  /** Undefined until the amount is recorded. */
  readonly leftMillilitres: number | undefined;
}

/** Lots of a kind with what is left of each, newest first. What stayed in the pans was never drawn. */
export async function lotsInProgress(
  { sql, sugarhouse }: SugarhouseReader,
  kind: LotKind,
  most = 500,
): Promise<LotInProgress[]> {
  const rows = await sql.rows<DrawnColumns>`SELECT lot.*,
      (SELECT SUM(flow.millilitres) FROM flow WHERE flow.sugarhouse = lot.sugarhouse AND flow.from_lot = lot.code
        AND flow.kind <> 'carried') AS drawn
    FROM lot WHERE lot.sugarhouse = ${sugarhouse} AND lot.kind = ${kind} ORDER BY lot.at_utc DESC, lot.code DESC LIMIT ${most}`;
  return rows.map(workInProgress);
}

/** A lot's row with what was drawn from it; what stayed in the pans was never drawn. */
export type DrawnColumns = LotColumns & { readonly drawn: number | string | null };

export function workInProgress(row: DrawnColumns): LotInProgress {
  const lot = lotFrom(row);
  const left = lot.millilitres === undefined ? undefined : Math.max(0, lot.millilitres - toNumber(row.drawn));
  return { ...lot, leftMillilitres: left };
}

/** Lots of a kind since a year with something left, or without a recorded amount, newest first. */
export async function lotsWithSomeLeft(
  { sql, sugarhouse }: SugarhouseReader,
  kind: LotKind,
  sinceYear: number,
  most = 200,
): Promise<LotInProgress[]> {
  const rows = await sql.rows<DrawnColumns>`SELECT * FROM (SELECT lot.*,
      (SELECT SUM(flow.millilitres) FROM flow WHERE flow.sugarhouse = lot.sugarhouse AND flow.from_lot = lot.code
        AND flow.kind <> 'carried') AS drawn
    FROM lot WHERE lot.sugarhouse = ${sugarhouse} AND lot.kind = ${kind} AND lot.at_utc >= ${String(sinceYear)}) AS those
    WHERE millilitres IS NULL OR millilitres - COALESCE(drawn, 0) >= 1 ORDER BY at_utc DESC, code DESC LIMIT ${most}`;
  return rows.map(workInProgress);
}

/** Lots in a state, whatever their kind, newest first. */
export async function lotsInState({ sql, sugarhouse }: SugarhouseReader, state: LotState, most = 200): Promise<Lot[]> {
  const rows = await sql.rows<LotColumns>`SELECT * FROM lot WHERE sugarhouse = ${sugarhouse} AND state = ${state}
    ORDER BY at_utc DESC, code DESC LIMIT ${most}`;
  return rows.map(lotFrom);
}

/** Finished packs that are open or released by a verdict of other rules than these, newest first. */
export async function packsJudgedOtherwise({ sql, sugarhouse }: SugarhouseReader, rules: string): Promise<Lot[]> {
  const rows = await sql.rows<LotColumns>`SELECT * FROM lot WHERE sugarhouse = ${sugarhouse}
    AND state IN ('open', 'released') AND kind = 'pack' AND jars IS NOT NULL
    AND (verdict IS NULL OR verdict NOT LIKE ${`%"rules":"${escapeLike(rules)}%`} ESCAPE '!')
    ORDER BY at_utc DESC, code DESC`;
  return rows.map(lotFrom);
}

const escapeLike = (text: string): string => text.replace(/[!%_]/g, (mark) => `!${mark}`);
