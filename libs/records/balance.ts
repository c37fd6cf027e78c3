import type { DispatchKind } from './bodies.js';
import { rowsAmong } from './among.js';
import { toNumber, type Sql } from './sql.js';

/** Where a pack's jars are. made = onHand + sentOut + destroyed + other + (unaccounted ?? 0), always. */
export interface JarBalance {
  readonly made: number;
  /** The last count adjusted by what moved since; where nothing was counted, what the book expects. */
  readonly onHand: number;
  /** Sold and given, less what came home again. */
  readonly sentOut: number;
  readonly destroyed: number;
  /** Samples, kept, held back, broken, and jars poured back to be packed again. */
  readonly other: number;
  /** null until the shelf was counted; below zero where more was found than there can be. */
  readonly unaccounted: number | null;
  readonly parts: Readonly<Record<DispatchKind | 'pouredBack', number>>;
}

const noParts: JarBalance['parts'] = {
  sale: 0,
  gift: 0,
  sample: 0,
  kept: 0,
  retained: 0,
  broken: 0,
  destroyed: 0,
  returned: 0,
  pouredBack: 0,
};
export const noJars: JarBalance = {
  made: 0,
  onHand: 0,
  sentOut: 0,
  destroyed: 0,
  other: 0,
  unaccounted: null,
  parts: noParts,
};

/** Balances of the packs named, as of `nowUtc`: what is planned for later has not moved yet. */
export async function balancesOf(
  sql: Sql,
  sugarhouse: string,
  packs: readonly string[],
  nowUtc: string,
): Promise<Map<string, JarBalance>> {
  const made = await rowsAmong<PackColumns>(
    sql,
    'SELECT code, jars, jar_millilitres FROM lot WHERE sugarhouse = ? AND code IN (LIST)',
    [sugarhouse],
    packs,
  );
  const moved = await rowsAmong<MovedColumns>(
    sql,
    'SELECT lot, kind, sent_utc, jars FROM movement WHERE sugarhouse = ? AND sent_utc <= ? AND lot IN (LIST)',
    [sugarhouse, nowUtc],
    packs,
  );
  const counted = await rowsAmong<CountColumns>(
    sql,
    'SELECT lot, jars, counted_utc FROM shelf WHERE sugarhouse = ? AND counted_utc <= ? AND lot IN (LIST) ORDER BY counted_utc, id',
    [sugarhouse, nowUtc],
    packs,
  );
  const poured = await rowsAmong<PouredColumns>(
    sql,
    'SELECT from_lot, millilitres, at_utc FROM flow WHERE sugarhouse = ? AND at_utc <= ? AND from_lot IN (LIST)',
    [sugarhouse, nowUtc],
    packs,
  );

  const movedBy = groupedBy(moved, (row) => row.lot);
  const pouredBy = groupedBy(poured, (row) => row.from_lot);
  const lastCount = new Map(counted.map((row) => [row.lot, row]));
  return new Map(
    made.map((pack) => [
      pack.code,
      balance(pack, movedBy.get(pack.code) ?? [], pouredBy.get(pack.code) ?? [], lastCount.get(pack.code)),
    ]),
  );
}

export async function balanceOf(sql: Sql, sugarhouse: string, pack: string, nowUtc: string): Promise<JarBalance> {
  return (await balancesOf(sql, sugarhouse, [pack], nowUtc)).get(pack) ?? noJars;
}

export function sumBalances(balances: Iterable<JarBalance>): JarBalance {
  let sum = noJars;
  for (const each of balances)
    sum = {
      made: sum.made + each.made,
      onHand: sum.onHand + each.onHand,
      sentOut: sum.sentOut + each.sentOut,
      destroyed: sum.destroyed + each.destroyed,
      other: sum.other + each.other,
      unaccounted: each.unaccounted === null ? sum.unaccounted : (sum.unaccounted ?? 0) + each.unaccounted,
      parts: Object.fromEntries(
        Object.entries(sum.parts).map(([part, n]) => [part, n + each.parts[part as DispatchKind]]),
      ) as JarBalance['parts'],
    };
  return sum;
}

interface PackColumns {
  code: string;
  jars: number | null;
  jar_millilitres: number | null;
}
interface MovedColumns {
  lot: string;
  kind: DispatchKind;
  sent_utc: string;
  jars: number | string;
}
interface CountColumns {
  lot: string;
  jars: number;
  counted_utc: string;
}
interface PouredColumns {
  from_lot: string;
  millilitres: number;
  at_utc: string;
}

function groupedBy<T>(rows: readonly T[], key: (row: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const row of rows) {
    const group = groups.get(key(row));
    if (group) group.push(row);
    else groups.set(key(row), [row]);
  }
  return groups;
}

function balance(
  pack: PackColumns,
  moved: readonly MovedColumns[],
  poured: readonly PouredColumns[],
  count: CountColumns | undefined,
): JarBalance {
  const made = toNumber(pack.jars);
  const parts = { ...noParts } as Record<keyof JarBalance['parts'], number>;
  for (const row of moved) parts[row.kind] += toNumber(row.jars);

  // Jars poured back leave the shelf. Where the maker has also written them off, they are not taken twice.
  const gone =
    parts.sale +
    parts.gift -
    parts.returned +
    parts.destroyed +
    parts.sample +
    parts.kept +
    parts.retained +
    parts.broken;
  const jarsIn = (rows: readonly PouredColumns[]): number =>
    Math.round(rows.reduce((sum, row) => sum + row.millilitres, 0) / (pack.jar_millilitres ?? Infinity));
  parts.pouredBack = Math.max(0, Math.min(jarsIn(poured), made - gone));

  const sentOut = parts.sale + parts.gift - parts.returned;
  const destroyed = parts.destroyed;
  const other = parts.sample + parts.kept + parts.retained + parts.broken + parts.pouredBack;
  const expected = made - sentOut - destroyed - other;
  if (!count) return { made, onHand: expected, sentOut, destroyed, other, unaccounted: null, parts };

  const left = (kind: DispatchKind): number => (kind === 'returned' ? -1 : 1);
  const movedSince = moved
    .filter((row) => row.sent_utc > count.counted_utc)
    .reduce((sum, row) => sum + left(row.kind) * toNumber(row.jars), 0);
  const pouredSince = jarsIn(poured.filter((row) => row.at_utc > count.counted_utc));
  const onHand = count.jars - movedSince - Math.min(pouredSince, parts.pouredBack);
  return { made, onHand, sentOut, destroyed, other, unaccounted: expected - onHand, parts };
}
