import type { LotState } from '#libs/records/entry.js';
import type { LotKind } from '#libs/records/record-types.js';
import { type StoredRecord, type Lot, type LotColumns, lotFrom, type RecordColumns, recordFrom } from './lots.js';
import { rowsInList } from '../connection/in-list.js';
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

/** The existing ones of these lots, with what is left of each, in no order. */
export async function lotsInProgressNamed(
  { sql, sugarhouse }: SugarhouseReader,
  codes: readonly string[],
): Promise<LotInProgress[]> {
  const text = `SELECT lot.*,
      (SELECT SUM(flow.millilitres) FROM flow WHERE flow.sugarhouse = lot.sugarhouse AND flow.from_lot = lot.code
        AND flow.kind <> 'carried') AS drawn
    FROM lot WHERE lot.sugarhouse = ? AND lot.code IN (LIST)`;
  return (await rowsInList<DrawnColumns>(sql, text, [sugarhouse], codes)).map(workInProgress);
}

/** A lot's row with what was drawn from it; what stayed in the pans was never drawn. */
export type DrawnColumns = LotColumns & { readonly drawn: number | string | null };

/** A lot with how much of it is left, in millilitres; undefined where it was never measured. */
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
export async function packsJudgedByOtherRules({ sql, sugarhouse }: SugarhouseReader, rules: string): Promise<Lot[]> {
  // Two ranges of an index, before and after all rules with this prefix.
  const behind = `${rules.slice(0, -1)}${String.fromCharCode(rules.charCodeAt(rules.length - 1) + 1)}`;
  const rows = await sql.rows<LotColumns>`SELECT * FROM lot WHERE sugarhouse = ${sugarhouse} AND kind = 'pack'
      AND rules < ${rules} AND state IN ('open', 'released') AND jars IS NOT NULL
    UNION ALL SELECT * FROM lot WHERE sugarhouse = ${sugarhouse} AND kind = 'pack'
      AND rules >= ${behind} AND state IN ('open', 'released') AND jars IS NOT NULL
    ORDER BY at_utc DESC, code DESC`;
  return rows.map(lotFrom);
}

/** Packs since a year whose jars are not filled yet, oldest first. */
export async function packsUnderway(
  { sql, sugarhouse }: SugarhouseReader,
  sinceYear: number,
  most: number,
): Promise<StoredRecord<'pack'>[]> {
  const rows = await sql.rows<RecordColumns>`SELECT record.* FROM lot JOIN record
      ON record.sugarhouse = lot.sugarhouse AND record.kind = 'pack' AND record.id = lot.code
    WHERE lot.sugarhouse = ${sugarhouse} AND lot.kind = 'pack' AND lot.jars IS NULL
      AND lot.at_utc >= ${String(sinceYear)} ORDER BY lot.at_utc, lot.code LIMIT ${most}`;
  return rows.map((row) => recordFrom<'pack'>(row));
}

/** Finished packs of a year whose seals nobody checked, packed again ones too, oldest first; and how many in all. */
export async function packsWithSealsToCheck(
  { sql, sugarhouse }: SugarhouseReader,
  year: number,
  most: number,
): Promise<{ count: number; packs: Lot[] }> {
  const rows = await sql.rows<LotColumns & { n: number | string }>`SELECT lot.*, COUNT(*) OVER () AS n
    FROM lot WHERE lot.sugarhouse = ${sugarhouse} AND lot.kind = 'pack' AND lot.year = ${year} AND lot.jars IS NOT NULL
      AND lot.at_utc >= ${String(year - 1)} AND (lot.seals_checked = 0 OR lot.seal_check_asked = 1)
    ORDER BY lot.at_utc, lot.code LIMIT ${most}`;
  return { count: toNumber(rows[0]?.n), packs: rows.map(lotFrom) };
}

/** Whether a year has a lot of a kind. */
export async function hasLotOf({ sql, sugarhouse }: SugarhouseReader, kind: LotKind, year: number): Promise<boolean> {
  const row = await sql.row`SELECT code FROM lot WHERE sugarhouse = ${sugarhouse} AND kind = ${kind} AND year = ${year}
    AND at_utc >= ${String(year - 1)} LIMIT 1`;
  return row !== undefined;
}

/** Whether a pack has a density of a hydrometer, or of an instrument not recorded, without the temperature it is made for. */
export async function hasDensityByHydrometer({ sql, sugarhouse }: SugarhouseReader): Promise<boolean> {
  // The typed text is searched, so that no record need be parsed.
  const row = await sql.row`SELECT id FROM record WHERE sugarhouse = ${sugarhouse} AND kind = 'pack'
    AND typed LIKE ${'%"densityReading":%'} AND typed NOT LIKE ${'%"densityBy":"refractometer%'}
    AND typed NOT LIKE ${'%"densityCalibratedAt":%'} LIMIT 1`;
  return row !== undefined;
}

/** Finished packs of a year before which a check of the thermometer was put off, newest first. */
export async function packsWithCheckPutOff(
  { sql, sugarhouse }: SugarhouseReader,
  year: number,
  most: number,
): Promise<StoredRecord<'pack'>[]> {
  // The typed text is searched first, so that a season's records need not all be parsed.
  const rows = await sql.rows<RecordColumns>`SELECT record.* FROM lot JOIN record
      ON record.sugarhouse = lot.sugarhouse AND record.kind = 'pack' AND record.id = lot.code
    WHERE lot.sugarhouse = ${sugarhouse} AND lot.kind = 'pack' AND lot.year = ${year} AND lot.jars IS NOT NULL
      AND lot.at_utc >= ${String(year - 1)} AND record.typed LIKE ${'%"thermometerCheck":"later"%'}
    ORDER BY lot.at_utc DESC, lot.code DESC LIMIT ${most}`;
  return rows.map((row) => recordFrom<'pack'>(row));
}
