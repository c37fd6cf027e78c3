import type { RecordKind } from '#libs/records/record-types.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

/** The entry that voided a record, by its kind and id: a voided id is never reused. */
export async function voidedBy(
  { sql, sugarhouse }: SugarhouseReader,
  kind: RecordKind,
  id: string,
): Promise<number | undefined> {
  // In most books no record of the kind was voided: rows of one file share this query.
  const any = await sql.row<{ seq: number }>`SELECT seq FROM voided
    WHERE sugarhouse = ${sugarhouse} AND kind = ${kind} LIMIT 1`;
  if (!any) return undefined;
  const row = await sql.row<{ seq: number }>`SELECT seq FROM voided
    WHERE sugarhouse = ${sugarhouse} AND kind = ${kind} AND id = ${id}`;
  return row?.seq;
}

/** Records about a lot, other than its own: they prevent voiding it. */
export async function recordsNaming(
  { sql, sugarhouse }: SugarhouseReader,
  lot: string,
): Promise<{ readonly kind: RecordKind; readonly id: string }[]> {
  return sql.rows<{ kind: RecordKind; id: string }>`SELECT kind, id FROM record
    WHERE sugarhouse = ${sugarhouse} AND lot = ${lot} AND id <> ${lot} ORDER BY at_utc, id LIMIT 100`;
}
