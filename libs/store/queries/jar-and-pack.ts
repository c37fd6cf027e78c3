import type { PackBody } from '#libs/records/kinds/pack.js';
import { type Jar, type Lot, type LotColumns, lotFrom } from './lots.js';
import type { Sql } from '../connection/sql.js';

export interface JarAndPack {
  readonly jar: Jar;
  readonly lot: Lot;
  readonly pack: PackBody;
  /** The fields of the pack as typed. */
  readonly typed: Readonly<Record<string, string>>;
}

/**
 * A jar with its pack in one query, since most requests are scans of a jar. The jar is looked up first: in a new book
 * without statistics PostgreSQL would scan all packs for it.
 */
export async function findJarAndPack(sql: Sql, code: string): Promise<JarAndPack | undefined> {
  const row = await sql.row<
    LotColumns & { jar: string; sugarhouse: string; n: number; body: string; record_typed: string }
  >`
    WITH found AS MATERIALIZED (SELECT code, sugarhouse, pack, n FROM jar WHERE code = ${code} LIMIT 1)
    SELECT lot.*, found.code AS jar, found.n, record.body, record.typed AS record_typed
    FROM found JOIN lot ON lot.sugarhouse = found.sugarhouse AND lot.code = found.pack
      JOIN record ON record.sugarhouse = found.sugarhouse AND record.kind = 'pack' AND record.id = found.pack`;
  if (!row) return undefined;
  const jar = { code: row.jar, sugarhouse: row.sugarhouse, pack: row.code, n: row.n };
  const typed = JSON.parse(row.record_typed) as JarAndPack['typed'];
  return { jar, lot: lotFrom(row), pack: JSON.parse(row.body) as PackBody, typed };
}
