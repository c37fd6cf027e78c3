import type { HouseBody } from '#libs/records/kinds/house.js';
import { isFixed } from '../connection/prepared.js';
import type { Sql } from '../connection/sql.js';

/** The first sugarhouse of a book: the packer's, where the book has several. */
export const home = 'home';

/** A sugarhouse of the book. Its key never changes; the prefix is shown before its lot codes. */
export interface House {
  readonly key: string;
  /** Empty only for the first sugarhouse, while it is the only one. */
  readonly prefix: string;
  readonly name: string;
}

/** Every sugarhouse that has been set up, home first, then by prefix. */
export async function housesOf(sql: Sql): Promise<House[]> {
  // Only what is set up is listed: a sugarhouse without the record of its kind adds nothing.
  const rows = await sql.statement<{ sugarhouse: string; body: string }>(allHouses, [], ['house']);
  const houses = rows.map((row): House => {
    const body = JSON.parse(row.body) as HouseBody;
    return { key: row.sugarhouse, prefix: body.prefix ?? '', name: body.name };
  });
  const order = (house: House): string => (house.key === home ? '' : house.prefix);
  return houses.sort((one, other) => (order(one) < order(other) ? -1 : 1));
}

/**
 * Skips from key to key in the table's index: a book has many records and few sugarhouses. CROSS JOIN keeps SQLite from
 * scanning all sugarhouses once for each.
 */
const allHouses = `WITH RECURSIVE house(code) AS (
    SELECT MIN(sugarhouse) FROM record
    UNION ALL
    SELECT (SELECT MIN(sugarhouse) FROM record WHERE sugarhouse > house.code) FROM house WHERE house.code IS NOT NULL)
  SELECT record.sugarhouse, record.body FROM house CROSS JOIN record WHERE record.sugarhouse = house.code
    AND record.kind = 'house' AND record.id = 'house' ORDER BY record.sugarhouse`;
isFixed(allHouses);

/**
 * Whether the book has more than one sugarhouse, by the two ends of an index: needed on every page for people who may
 * choose.
 */
export async function severalHouses(sql: Sql): Promise<boolean> {
  const ends = await sql.row<{ first: string | null; last: string | null }>`SELECT
    (SELECT MIN(sugarhouse) FROM record) AS first, (SELECT MAX(sugarhouse) FROM record) AS last`;
  return ends !== undefined && ends.first !== ends.last;
}

/** A sugarhouse by its key, its prefix or its name, in any case. */
export async function findHouse(sql: Sql, typed: string): Promise<House | undefined> {
  return houseNamed(await housesOf(sql), typed);
}

/** The sugarhouse with this key, prefix or name, in any case; undefined where there is none. */
export function houseNamed(houses: readonly House[], typed: string): House | undefined {
  const text = typed.trim().toLowerCase();
  if (text === '') return undefined;
  return (['key', 'prefix', 'name'] as const)
    .map((by) => houses.find((house) => house[by].toLowerCase() === text))
    .find((house) => house !== undefined);
}
