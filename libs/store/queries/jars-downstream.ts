import { rowsInList } from '../connection/in-list.js';
import { jarsOfPack } from './lots.js';
import { toNumber } from '../connection/sql.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

export interface JarDownstream {
  readonly code: string;
  readonly pack: string;
  readonly n: number;
}

/** How many jars of each pack have a code, from the key's index alone. */
export async function jarCounts(
  { sql, sugarhouse }: SugarhouseReader,
  packs: readonly string[],
): Promise<{ pack: string; jars: number }[]> {
  const rows = await rowsInList<{ pack: string; jars: number | string }>(
    sql,
    'SELECT pack, COUNT(*) AS jars FROM jar WHERE sugarhouse = ? AND pack IN (LIST) GROUP BY pack',
    [sugarhouse],
    packs,
  );
  const counted = new Map(rows.map((row) => [row.pack, toNumber(row.jars)]));
  return packs.map((pack) => ({ pack, jars: counted.get(pack) ?? 0 }));
}

/** Jars `from` to `from + most - 1` of all jars of these packs, counted from 1, pack by pack in the order given. */
export async function someJarsDownstream(
  reader: SugarhouseReader,
  packs: readonly string[],
  { from, most }: { readonly from: number; readonly most: number },
): Promise<{ count: number; jars: JarDownstream[] }> {
  const counted = await jarCounts(reader, packs);
  const jars: JarDownstream[] = [];
  let before = 0;
  for (const { pack, jars: inPack } of counted) {
    const first = Math.max(1, from - before);
    before += inPack;
    if (inPack === 0 || first > inPack || jars.length >= most) continue;
    // Numbers run from 1 without gaps: an assigned code stays.
    const last = Math.min(inPack, first + most - jars.length - 1);
    for await (const jar of jarsOfPack(reader, pack, first, last)) jars.push({ ...jar, pack });
  }
  return { count: before, jars };
}

/** Which dispatches name each of these jars, oldest first. */
export async function movementsNaming(
  { sql, sugarhouse }: SugarhouseReader,
  jars: readonly string[],
): Promise<Map<string, string[]>> {
  const rows = await rowsInList<{ jar: string; movement: string }>(
    sql,
    `SELECT movement_jar.jar, movement_jar.movement FROM movement_jar
       JOIN movement ON movement.sugarhouse = movement_jar.sugarhouse AND movement.id = movement_jar.movement
     WHERE movement_jar.sugarhouse = ? AND movement_jar.jar IN (LIST) ORDER BY movement.sent_utc, movement.id`,
    [sugarhouse],
    jars,
  );
  const named = new Map<string, string[]>();
  for (const { jar, movement } of rows) named.set(jar, [...(named.get(jar) ?? []), movement]);
  return named;
}

/** The first `most` jars that each of these dispatches names, and their total. */
export async function jarsNamedByEach(
  { sql, sugarhouse }: SugarhouseReader,
  movements: readonly string[],
  most: number,
): Promise<Map<string, { count: number; codes: string[] }>> {
  const rows = await rowsInList<{ movement: string; jar: string; n: number | string }>(
    sql,
    `SELECT movement, jar, n FROM (SELECT movement, jar,
         ROW_NUMBER() OVER (PARTITION BY movement ORDER BY jar) AS place, COUNT(*) OVER (PARTITION BY movement) AS n
       FROM movement_jar WHERE sugarhouse = ? AND movement IN (LIST)) AS named WHERE place <= ${most} ORDER BY movement, jar`,
    [sugarhouse],
    movements,
  );
  const named = new Map<string, { count: number; codes: string[] }>();
  for (const { movement, jar, n } of rows) {
    const known = named.get(movement) ?? { count: toNumber(n), codes: [] };
    known.codes.push(jar);
    named.set(movement, known);
  }
  return named;
}

/**
 * Jars of a pack between two numbers that are still here by their codes: no movement names them, or the last one that
 * does is a return. Jars of later or stopped plans have not moved.
 */
export async function countJarsNotGone(
  { sql, sugarhouse }: SugarhouseReader,
  pack: string,
  { from, to }: { readonly from: number; readonly to: number },
  nowUtc: string,
): Promise<number> {
  const row = await sql.row<{ n: number | string }>`SELECT COUNT(*) AS n FROM jar WHERE sugarhouse = ${sugarhouse}
    AND pack = ${pack} AND n >= ${from} AND n <= ${to} AND NOT EXISTS (SELECT 1 FROM movement_jar
      JOIN movement ON movement.sugarhouse = movement_jar.sugarhouse AND movement.id = movement_jar.movement
      WHERE movement_jar.sugarhouse = ${sugarhouse} AND movement_jar.jar = jar.code AND movement.kind <> 'returned'
        AND movement.stopped = 0 AND movement.sent_utc <= ${nowUtc} AND NOT EXISTS (SELECT 1 FROM movement_jar AS back_jar
          JOIN movement AS back ON back.sugarhouse = back_jar.sugarhouse AND back.id = back_jar.movement
          WHERE back_jar.sugarhouse = ${sugarhouse} AND back_jar.jar = jar.code AND back.kind = 'returned'
            AND back.sent_utc >= movement.sent_utc AND back.sent_utc <= ${nowUtc}))`;
  return toNumber(row?.n);
}
