import type { LotKind, RecordKind } from '#libs/records/record-types.js';
import { type DrawnColumns, workInProgress, type LotInProgress } from './work-in-progress.js';
import { countRecords, type StoredRecord, type RecordColumns, recordFrom } from './lots.js';
import { toNumber } from '../connection/sql.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

/** Part of a list: its first item, counted from 1, and the total. */
export interface Part {
  readonly from: number;
  readonly most: number;
}

/** Lots of one or two kinds, newest first, with what is left of each; reads only as many as are shown. */
export async function lotsListed(
  { sql, sugarhouse }: SugarhouseReader,
  kind: LotKind,
  { from, most }: Part,
  other: LotKind = kind,
): Promise<{ count: number; lots: LotInProgress[] }> {
  const counted = await sql.row<{ n: number | string }>`SELECT COUNT(*) AS n FROM lot
    WHERE sugarhouse = ${sugarhouse} AND kind IN (${kind}, ${other})`;
  const rows = await sql.rows<DrawnColumns>`SELECT lot.*,
      (SELECT SUM(flow.millilitres) FROM flow WHERE flow.sugarhouse = lot.sugarhouse AND flow.from_lot = lot.code
        AND flow.kind <> 'carried') AS drawn
    FROM (SELECT * FROM lot WHERE sugarhouse = ${sugarhouse} AND kind IN (${kind}, ${other})
      ORDER BY at_utc DESC, code DESC LIMIT ${most} OFFSET ${from - 1}) AS lot ORDER BY at_utc DESC, code DESC`;
  return { count: toNumber(counted?.n), lots: rows.map(workInProgress) };
}

/** Records of a kind, newest first. */
export async function recordsListed<K extends RecordKind>(
  reader: SugarhouseReader,
  kind: K,
  { from, most }: Part,
): Promise<{ count: number; records: StoredRecord<K>[] }> {
  const { sql, sugarhouse } = reader;
  const rows = await sql.rows<RecordColumns>`SELECT * FROM record WHERE sugarhouse = ${sugarhouse} AND kind = ${kind}
    ORDER BY at_utc DESC, id DESC LIMIT ${most} OFFSET ${from - 1}`;
  return { count: await countRecords(reader, kind), records: rows.map((row) => recordFrom<K>(row)) };
}

/** Where a page of records ends: the next one begins after it, whatever was written in between. */
export interface Place {
  readonly atUtc: string;
  readonly id: string;
}

/** Records of a kind after a place, oldest first, optionally of one year; and whether there are more. */
export async function recordsBehind<K extends RecordKind>(
  { sql, sugarhouse }: SugarhouseReader,
  kind: K,
  request: {
    readonly year?: number | undefined;
    readonly behind?: Place | undefined;
    readonly skip: number;
    readonly most: number;
  },
): Promise<{ count: number; records: StoredRecord<K>[]; more: boolean }> {
  const [first, last] = request.year === undefined ? [0, 9999] : [request.year, request.year];
  const { atUtc, id } = request.behind ?? { atUtc: '', id: '' };
  const counted = await sql.row<{ n: number | string }>`SELECT COUNT(*) AS n FROM record
    WHERE sugarhouse = ${sugarhouse} AND kind = ${kind} AND year BETWEEN ${first} AND ${last}`;
  const rows = await sql.rows<RecordColumns>`SELECT * FROM record WHERE sugarhouse = ${sugarhouse} AND kind = ${kind}
    AND year BETWEEN ${first} AND ${last} AND at_utc >= ${atUtc} AND (at_utc > ${atUtc} OR id > ${id})
    ORDER BY at_utc, id LIMIT ${request.most + 1} OFFSET ${request.skip}`;
  const records = rows.slice(0, request.most).map((row) => recordFrom<K>(row));
  return { count: toNumber(counted?.n), records, more: rows.length > request.most };
}
