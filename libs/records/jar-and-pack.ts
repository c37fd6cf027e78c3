import type { PackBody } from './bodies.js';
import { type Jar, type Lot, type LotColumns, lotFrom } from './lots.js';
import type { Sql } from './sql.js';

export interface JarAndPack {
  readonly jar: Jar;
  readonly lot: Lot;
  readonly pack: PackBody;
}

/** A jar with its pack, as its public page asks for them: together, for most of who looks at a book scans a jar. */
export async function findJarAndPack(sql: Sql, code: string): Promise<JarAndPack | undefined> {
  const row = await sql.row<LotColumns & { jar: string; sugarhouse: string; n: number; body: string }>`SELECT
      lot.*, jar.code AS jar, jar.n, record.body
    FROM jar JOIN lot ON lot.sugarhouse = jar.sugarhouse AND lot.code = jar.pack
      JOIN record ON record.sugarhouse = jar.sugarhouse AND record.kind = 'pack' AND record.id = jar.pack
    WHERE jar.code = ${code}`;
  if (!row) return undefined;
  const jar = { code: row.jar, sugarhouse: row.sugarhouse, pack: row.code, n: row.n };
  return { jar, lot: lotFrom(row), pack: JSON.parse(row.body) as PackBody };
}
