import type { LotKind } from '#libs/records/record-types.js';
import { toNumber } from '../connection/sql.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';
import { type RecordColumns, recordFrom, type StoredRecord } from './lots.js';

// Queries over a whole year for a season: they select only needed columns, for a year has hundreds of rows.

/** The codes of a year's lots of a kind, oldest first; for packs only those whose jars are filled. */
export async function codesOfYear(
  { sql, sugarhouse }: SugarhouseReader,
  kind: LotKind,
  year: number,
): Promise<string[]> {
  const rows = await sql.rows<{ code: string }>`SELECT code FROM lot
    WHERE sugarhouse = ${sugarhouse} AND kind = ${kind} AND year = ${year} AND (kind <> 'pack' OR jars IS NOT NULL)
    ORDER BY at_utc, code`;
  return rows.map(({ code }) => code);
}

/** How many entries after number `seq` of the log are about lots of this year. */
export async function countEntriesAboutLotsOf(
  { sql, sugarhouse }: SugarhouseReader,
  year: number,
  seq: number,
): Promise<number> {
  const [row] = await sql.rows<{ found: number | string }>`SELECT COUNT(DISTINCT lot_entry.seq) AS found
    FROM lot JOIN lot_entry ON lot_entry.sugarhouse = lot.sugarhouse AND lot_entry.lot = lot.code
    WHERE lot.sugarhouse = ${sugarhouse} AND lot.year = ${year} AND lot_entry.seq > ${seq}`;
  return toNumber(row?.found ?? 0);
}

/** The lots of a year with something left, and how many millilitres, by code. */
export async function leftOfYear(
  { sql, sugarhouse }: SugarhouseReader,
  kind: LotKind,
  year: number,
): Promise<ReadonlyMap<string, number>> {
  const rows = await sql.rows<{ code: string; millilitres: number; drawn: number | string | null }>`SELECT * FROM (
      SELECT code, millilitres, (SELECT SUM(flow.millilitres) FROM flow WHERE flow.sugarhouse = lot.sugarhouse
        AND flow.from_lot = lot.code AND flow.kind <> 'carried') AS drawn
      FROM lot WHERE sugarhouse = ${sugarhouse} AND kind = ${kind} AND year = ${year} AND millilitres IS NOT NULL) AS those
    WHERE millilitres - COALESCE(drawn, 0) >= 1`;
  return new Map(rows.map(({ code, millilitres, drawn }) => [code, Math.max(0, millilitres - toNumber(drawn))]));
}

/** Dispatches of a year, of lots that are not packs of that year. */
export async function dispatchesOfOtherPacks(
  { sql, sugarhouse }: SugarhouseReader,
  year: number,
): Promise<StoredRecord<'dispatch'>[]> {
  const rows = await sql.rows<RecordColumns>`SELECT record.* FROM record
      LEFT JOIN lot ON lot.sugarhouse = record.sugarhouse AND lot.code = record.lot AND lot.kind = 'pack'
        AND lot.jars IS NOT NULL
    WHERE record.sugarhouse = ${sugarhouse} AND record.kind = 'dispatch' AND record.year = ${year}
      AND (lot.year IS NULL OR lot.year <> ${year})`;
  return rows.map((row) => recordFrom<'dispatch'>(row));
}
