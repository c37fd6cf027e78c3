import { rowsInList } from '../connection/in-list.js';
import type { DispatchKind } from '#libs/records/kinds/dispatch.js';
import type { LotKind } from '#libs/records/record-types.js';
import { rowsBy } from '../connection/row-groups.js';
import { flowsOutOfEach, lotsNamed } from '../connection/batch-queries.js';
import type { RowOf } from '../projection/index-tables.js';
import { type Flow, isMovedByAction, type Movement, movementOf, movementRows } from './trace.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

/** Everything that moved jars of a pack, from which balance and whereabouts are computed. */
export interface JarAccount {
  readonly code: string;
  /** Null while it is being filled. */
  readonly jars: number | null;
  readonly jarMillilitres: number | null;
  /** Planned ones too, oldest first. */
  readonly movements: readonly Movement[];
  /** Jars that corrective actions destroyed or poured back: off the shelf without a dispatch. */
  readonly takenOff: readonly TakenOff[];
  /** Oldest first. */
  readonly counts: readonly { readonly jars: number; readonly countedUtc: string }[];
  /** Jars poured back into other packs, oldest first. */
  readonly outOf: readonly Flow[];
}

export interface TakenOff {
  readonly kind: 'destroyed' | 'poured-back';
  readonly jars: number;
  readonly atUtc: string;
}

/** The same with the syrup drawn for it, largest first. */
export interface PackAccount extends JarAccount {
  readonly into: readonly Source[];
}

/** A flow with its source: a boil, a receipt, or a pack that was poured back. */
export interface Source extends Flow {
  readonly fromKind: LotKind | undefined;
}

/**
 * The accounts of these packs, in one statement: what was made, counted, sent and poured is consistent, though others
 * write, and PostgreSQL needs one round trip instead of five.
 */
export async function packAccounts(
  { sql, sugarhouse }: SugarhouseReader,
  packs: readonly string[],
): Promise<Map<string, PackAccount>> {
  const rows = await rowsInList<Line>(sql, jarLines + intoLines, Array<string>(5).fill(sugarhouse), packs);
  return accountsOf(rows, packs);
}

/** Jars only: an old boil has hundreds of packs downstream, and their other inputs are not needed. */
export async function jarAccounts(
  { sql, sugarhouse }: SugarhouseReader,
  packs: readonly string[],
): Promise<Map<string, JarAccount>> {
  if (sql.keyed) return accountsByPart({ sql, sugarhouse }, packs);
  return accountsOf(await rowsInList<Line>(sql, jarLines, Array<string>(4).fill(sugarhouse), packs), packs);
}

/** The same in a write, where what is known of each table is kept until that table is written. */
async function accountsByPart(reader: SugarhouseReader, packs: readonly string[]): Promise<Map<string, JarAccount>> {
  const { sql, sugarhouse } = reader;
  const lots = await lotsNamed(reader, packs);
  const moved = rowsByLot(await movementRows(reader, packs));
  const counts = rowsByLot(
    await rowsBy<RowOf<'shelf_count'>>(sql, { table: 'shelf_count', column: 'lot', sugarhouse }, packs),
  );
  const outOf = await flowsOutOfEach(reader, packs);
  const accounts = packs.flatMap((code): JarAccount[] => {
    const lot = lots.get(code);
    if (!lot) return [];
    const own = moved.get(code) ?? [];
    return [
      {
        code,
        jars: lot.jars ?? null,
        jarMillilitres: lot.jarMillilitres ?? null,
        movements: own.filter(({ id }) => !isMovedByAction(id)).map(movementOf),
        takenOff: own
          .filter(({ id }) => isMovedByAction(id))
          .map((row) => ({ kind: row.kind as TakenOff['kind'], jars: row.jars, atUtc: row.sent_utc })),
        counts: (counts.get(code) ?? [])
          .sort((a, b) => order(a.counted_utc, b.counted_utc) || order(a.id, b.id))
          .map((row) => ({ jars: row.jars, countedUtc: row.counted_utc })),
        outOf: outOf.get(code) ?? [],
      },
    ];
  });
  return new Map(accounts.map((account) => [account.code, account]));
}

function rowsByLot<Row extends { readonly lot: string }>(rows: readonly Row[]): Map<string, Row[]> {
  const byLot = new Map<string, Row[]>();
  for (const row of rows) {
    const some = byLot.get(row.lot);
    if (some) some.push(row);
    else byLot.set(row.lot, [row]);
  }
  return byLot;
}

/** In the order requested, on either engine. */
function accountsOf(rows: readonly Line[], packs: readonly string[]): Map<string, PackAccount> {
  const byLot = rowsByLot(rows);
  return new Map(packs.flatMap((code) => accountOf(code, byLot.get(code) ?? [])));
}

function accountOf(code: string, rows: readonly Line[]): [string, PackAccount][] {
  const pack = rows.find((row) => row.part === 'pack');
  if (!pack) return [];
  const part = (name: Line['part'], order: (a: Line, b: Line) => number): Line[] =>
    rows.filter((row) => row.part === name).sort(order);
  const moved = part('moved', byTime);
  const account: PackAccount = {
    code,
    jars: pack.jars,
    jarMillilitres: pack.millilitres,
    movements: moved.filter(({ id }) => !isMovedByAction(id)).map(movementFrom),
    takenOff: moved.filter(({ id }) => isMovedByAction(id)).map(takenOffFrom),
    counts: part('counted', byTime).map((row) => ({ jars: row.jars ?? 0, countedUtc: row.at_utc })),
    into: part('into', largestFirst).map((row) => ({ ...flowFrom(row, code, row.id), fromKind: kindFrom(row) })),
    outOf: part('out of', byTime).map((row) => flowFrom(row, row.id, code)),
  };
  return [[code, account]];
}

const byTime = (a: Line, b: Line): number => order(a.at_utc, b.at_utc) || order(a.id, b.id);
const largestFirst = (a: Line, b: Line): number => (b.millilitres ?? 0) - (a.millilitres ?? 0) || order(a.id, b.id);
const order = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/**
 * One shape for rows of four tables. `words` is the recipient, or the amount as typed; `at_text` of a source is its
 * kind.
 */
interface Line {
  readonly part: 'pack' | 'moved' | 'counted' | 'into' | 'out of';
  readonly lot: string;
  readonly id: string;
  readonly kind: string;
  readonly jars: number | null;
  readonly millilitres: number | null;
  readonly at_utc: string;
  readonly at_text: string;
  readonly words: string;
  readonly contact: string;
  readonly by_codes: number;
  /** For movements only; otherwise 0 or null. */
  readonly already_left: number;
  readonly laboratory: number;
  readonly from_returned: number;
  readonly back_on_shelf: number;
  readonly looked_utc: string | null;
  readonly stopped: number;
}
const jarLines = `
  SELECT 'pack' AS part, code AS lot, '' AS id, '' AS kind, jars, jar_millilitres AS millilitres, at_utc,
      '' AS at_text, '' AS words, '' AS contact, 0 AS by_codes, 0 AS already_left, 0 AS laboratory,
      0 AS from_returned, 0 AS back_on_shelf, CAST(NULL AS TEXT) AS looked_utc, 0 AS stopped
    FROM lot WHERE sugarhouse = ? AND code IN (LIST)
  UNION ALL SELECT 'moved', lot, id, kind, jars, NULL, sent_utc, sent_at, sent_to, contact, by_codes,
      already_left, laboratory, from_returned, back_on_shelf, looked_utc, stopped
    FROM movement WHERE sugarhouse = ? AND lot IN (LIST)
  UNION ALL SELECT 'counted', lot, id, '', jars, NULL, counted_utc, '', '', '', 0, 0, 0, 0, 0, NULL, 0
    FROM shelf_count WHERE sugarhouse = ? AND lot IN (LIST)
  UNION ALL SELECT 'out of', from_lot, into_lot, kind, NULL, millilitres, at_utc, '', typed, '', 0, 0, 0, 0, 0, NULL, 0
    FROM flow WHERE sugarhouse = ? AND from_lot IN (LIST)`;
const intoLines = `
  UNION ALL SELECT 'into', flow.into_lot, flow.from_lot, flow.kind, NULL, flow.millilitres, flow.at_utc,
      COALESCE(lot.kind, ''), flow.typed, '', 0, 0, 0, 0, 0, NULL, 0
    FROM flow LEFT JOIN lot ON lot.sugarhouse = flow.sugarhouse AND lot.code = flow.from_lot
    WHERE flow.sugarhouse = ? AND flow.into_lot IN (LIST)`;

const movementFrom = (row: Line): Movement =>
  movementOf({
    ...row,
    kind: row.kind as DispatchKind,
    jars: row.jars ?? 0,
    sent_at: row.at_text,
    sent_utc: row.at_utc,
    sent_to: row.words,
  });
const takenOffFrom = (row: Line): TakenOff => ({
  kind: row.kind as TakenOff['kind'],
  jars: row.jars ?? 0,
  atUtc: row.at_utc,
});
const flowFrom = (row: Line, into: string, from: string): Flow => ({
  into,
  from,
  kind: row.kind as Flow['kind'],
  millilitres: row.millilitres ?? 0,
  typed: row.words,
  atUtc: row.at_utc,
});
const kindFrom = (row: Line): LotKind | undefined => (row.at_text === '' ? undefined : (row.at_text as LotKind));
