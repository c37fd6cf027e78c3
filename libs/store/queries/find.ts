import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';
import { lotFrom, type Lot, type LotColumns, type RecordColumns, recordFrom, type StoredRecord } from './lots.js';

/** Local days, both included: `2026-03-12`. */
export interface Days {
  readonly from: string;
  readonly to: string;
}

/** From the first day to the day after the last, as text in the format of stored times. */
function bounds(days: Days | undefined): readonly [string, string] {
  if (!days) return ['0000-01-01', '9999-99-99'];
  return [days.from, new Date(Date.parse(`${days.to}T00:00:00Z`) + 86_400_000).toISOString().slice(0, 10)];
}

/** Lots whose code contains these characters, in any case, optionally within some days; newest first. */
export async function lotsHolding(
  { sql, sugarhouse }: SugarhouseReader,
  letters: string,
  days: Days | undefined,
  most = 50,
): Promise<Lot[]> {
  const [from, to] = bounds(days);
  const rows = await sql.rows<LotColumns>`SELECT * FROM lot WHERE sugarhouse = ${sugarhouse}
    AND UPPER(code) LIKE ${`%${escapeLike(letters.toUpperCase())}%`} ESCAPE '!'
    AND at_text >= ${from} AND at_text < ${to} ORDER BY at_utc DESC, code LIMIT ${most}`;
  return rows.map(lotFrom);
}

/**
 * Records that contain each of the typed words, newest first, optionally within some days: a destination, a buyer,
 * initials, a note.
 */
export async function recordsHolding(
  { sql, sugarhouse }: SugarhouseReader,
  terms: readonly string[],
  days: Days | undefined,
  most = 100,
): Promise<StoredRecord[]> {
  const sought = terms.map((word) => JSON.stringify(word.toLowerCase()).slice(1, -1));
  const longest = [...sought].sort((a, b) => b.length - a.length)[0] ?? '';
  // SQLite lower-cases ASCII only: other letters match any character here and are compared below.
  const like = `%${escapeLike(longest).replace(/[^\x20-\x7e]/gu, '_')}%`;
  const [from, to] = bounds(days);
  const rows = await sql.rows<RecordColumns>`SELECT * FROM record WHERE sugarhouse = ${sugarhouse}
    AND (LOWER(typed) LIKE ${like} ESCAPE '!' OR LOWER(id) LIKE ${like} ESCAPE '!')
    AND at_text >= ${from} AND at_text < ${to} ORDER BY at_utc DESC, kind, id LIMIT ${terms.length > 1 ? most * 20 : most}`;
  return rows
    .filter((row) => sought.every((word) => `${row.typed} ${row.id}`.toLowerCase().includes(word)))
    .slice(0, most)
    .map((row) => recordFrom(row));
}

/** Jars whose code begins with these characters of the code alphabet; by pack and number. */
export async function jarsBeginning(
  { sql, sugarhouse }: SugarhouseReader,
  letters: string,
  most = 20,
): Promise<readonly { readonly code: string; readonly pack: string; readonly n: number }[]> {
  const rows = await sql.rows<{ code: string; pack: string; n: number }>`SELECT code, pack, n FROM jar
    WHERE code >= ${letters} AND code < ${`${letters}~`} AND sugarhouse = ${sugarhouse} ORDER BY code LIMIT ${most}`;
  return rows.map((row) => ({ code: row.code, pack: row.pack, n: Number(row.n) }));
}

const escapeLike = (text: string): string => text.replace(/[!%_]/g, (character) => `!${character}`);
