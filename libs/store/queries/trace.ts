import type { RowOf } from '../projection/index-tables.js';
import { rowsInList } from '../connection/in-list.js';
import { type GroupedRows, rowsBy } from '../connection/row-groups.js';
import { rowsByKey } from '../connection/rows-by-key.js';
import type { DispatchKind } from '#libs/records/kinds/dispatch.js';
import type { LotKind } from '#libs/records/record-types.js';
import { findLot, type Lot, type LotColumns, lotFrom } from './lots.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

export interface Flow {
  readonly into: string;
  readonly from: string;
  /** Sap into a boil, carried over in the pans, or syrup into a pack. */
  readonly kind: 'sap' | 'carried' | 'syrup';
  readonly millilitres: number;
  readonly typed: string;
  readonly atUtc: string;
}

/** The target of flows of what was used or thrown out: no lot, since no lot code has a slash. */
export const lotOfDisposal = (id: string): string => `spent/${id}`;

// SQLite joins the tables of a CROSS JOIN in the order written: first the few lots found, then each by its key.
// Otherwise it would scan all lots of the book in order of their codes to avoid sorting.

/** Every lot that went into `code`, itself first, then sorted by code: boils, sap, packs poured back. */
export async function lotsUpstream(reader: SugarhouseReader, code: string): Promise<Lot[]> {
  const { sql, sugarhouse } = reader;
  if (sql.grouped) return lotsReached(reader, sql.grouped, 'into_lot', code);
  const rows = await sql.rows<LotColumns>`
    WITH RECURSIVE above(code) AS (
      SELECT code FROM lot WHERE sugarhouse = ${sugarhouse} AND code = ${code}
      UNION
      SELECT flow.from_lot FROM flow JOIN above ON flow.into_lot = above.code WHERE flow.sugarhouse = ${sugarhouse})
    SELECT lot.* FROM above CROSS JOIN lot WHERE lot.code = above.code AND lot.sugarhouse = ${sugarhouse} ORDER BY lot.code`;
  return itselfFirst(rows, code);
}

/** The same in a write, which knows flows and lots; a lot that isn't there leads nowhere. */
async function lotsReached(
  { sql, sugarhouse }: SugarhouseReader,
  grouped: GroupedRows,
  from: 'into_lot' | 'from_lot',
  code: string,
): Promise<Lot[]> {
  const codes = (await grouped.walk({ sugarhouse, from }, [code])).sort(byCode);
  const found = await rowsByKey<LotColumns>(sql, { table: 'lot', sugarhouse }, codes);
  const rows = new Map(found.map((row) => [row.code, row]));
  return rows.has(code)
    ? itselfFirst(
        codes.flatMap((each) => rows.get(each) ?? []),
        code,
      )
    : [];
}

/** Every lot that `code` went into, itself first, then sorted by code. */
export async function lotsDownstream(reader: SugarhouseReader, code: string): Promise<Lot[]> {
  const { sql, sugarhouse } = reader;
  if (sql.grouped) return lotsReached(reader, sql.grouped, 'from_lot', code);
  const rows = await sql.rows<LotColumns>`
    WITH RECURSIVE below(code) AS (
      SELECT code FROM lot WHERE sugarhouse = ${sugarhouse} AND code = ${code}
      UNION
      SELECT flow.into_lot FROM flow JOIN below ON flow.from_lot = below.code WHERE flow.sugarhouse = ${sugarhouse})
    SELECT lot.* FROM below CROSS JOIN lot WHERE lot.code = below.code AND lot.sugarhouse = ${sugarhouse} ORDER BY lot.code`;
  return itselfFirst(rows, code);
}

/**
 * The boils and receipts that a lot's syrup comes from, the lot itself where it is one, through any packs poured back.
 */
export async function syrupSources(
  { sql, sugarhouse }: SugarhouseReader,
  code: string,
): Promise<{ code: string; kind: LotKind }[]> {
  // Most syrup comes straight from its boil, which a write knows already.
  const itself = await findLot({ sql, sugarhouse }, code);
  if (itself?.kind !== 'pack') return itself ? [{ code, kind: itself.kind }] : [];
  return sql.rows<{ code: string; kind: LotKind }>`
    WITH RECURSIVE above(code, kind) AS (
      SELECT code, kind FROM lot WHERE sugarhouse = ${sugarhouse} AND code = ${code}
      UNION
      SELECT lot.code, lot.kind FROM flow JOIN above ON flow.into_lot = above.code AND above.kind = 'pack'
        JOIN lot ON lot.sugarhouse = flow.sugarhouse AND lot.code = flow.from_lot WHERE flow.sugarhouse = ${sugarhouse})
    SELECT code, kind FROM above WHERE kind <> 'pack' ORDER BY code`;
}

/** The flows into a lot, largest first. */
export async function flowsInto({ sql, sugarhouse }: SugarhouseReader, code: string): Promise<Flow[]> {
  const rows = await rowsBy<FlowColumns>(sql, { table: 'flow', column: 'into_lot', sugarhouse }, [code]);
  return rows.sort((a, b) => b.millilitres - a.millilitres || byCode(a.from_lot, b.from_lot)).map(flowFrom);
}

/** The flows out of a lot into others, oldest first. */
export async function flowsOutOf({ sql, sugarhouse }: SugarhouseReader, code: string): Promise<Flow[]> {
  const rows = await rowsBy<FlowColumns>(sql, { table: 'flow', column: 'from_lot', sugarhouse }, [code]);
  return rows
    .filter(({ kind }) => ['sap', 'carried', 'syrup'].includes(kind))
    .sort((a, b) => byCode(a.at_utc, b.at_utc) || byCode(a.into_lot, b.into_lot))
    .map(flowFrom);
}

export interface Movement {
  readonly id: string;
  readonly lot: string;
  readonly kind: DispatchKind;
  readonly jars: number;
  readonly byCodes: boolean;
  readonly sentAt: string;
  readonly sentUtc: string;
  readonly to: string;
  readonly contact: string;
  /** Recorded after the jars had left, though the lot might not be sent out. */
  readonly alreadyLeft: boolean;
  readonly laboratory: boolean;
  /** For jars that leave: how many had been returned before and set apart. */
  readonly fromReturned: number;
  /** For returned jars: how many were found sealed, and so are on the shelf again. */
  readonly backOnShelf: number;
  readonly lookedUtc: string | undefined;
  /** A plan whose lot was held or recalled before its time: its jars count as on hand until more is recorded. */
  readonly stopped: boolean;
}

/** Whether the jars have moved by `nowUtc`. Later plans have not, nor plans that a hold or recall stopped. */
export const hasMoved = ({ sentUtc, stopped }: Pick<Movement, 'sentUtc' | 'stopped'>, nowUtc: string): boolean =>
  !stopped && sentUtc <= nowUtc;

/** The movement id of jars that a corrective action took off the shelf. */
export const movedByAction = (action: string): string => `action:${action}`;
/** Whether a movement's id shows that a corrective action took the jars. */
export const isMovedByAction = (id: string): boolean => id.startsWith(movedByAction(''));

/** The dispatches of these packs, oldest first. */
export const movementsOf = async (reader: SugarhouseReader, packs: readonly string[]): Promise<Movement[]> =>
  (await movementRows(reader, packs)).filter(({ id }) => !isMovedByAction(id)).map(movementOf);

/** All that moved jars of the packs, what corrective actions took too, oldest first. */
export async function movementRows(
  { sql, sugarhouse }: SugarhouseReader,
  packs: readonly string[],
): Promise<MovementColumns[]> {
  const rows = await rowsBy<MovementColumns>(sql, { table: 'movement', column: 'lot', sugarhouse }, packs);
  return rows.sort((a, b) => byCode(a.sent_utc, b.sent_utc) || byCode(a.id, b.id));
}

/** Compares movements by when they were sent, then by id. */
export const oldestFirst = (a: Movement, b: Movement): number =>
  a.sentUtc < b.sentUtc ? -1 : a.sentUtc > b.sentUtc ? 1 : a.id < b.id ? -1 : 1;

/** Jars recorded as already left, oldest first. */
export async function movementsAlreadyLeft({ sql, sugarhouse }: SugarhouseReader): Promise<Movement[]> {
  const rows = await rowsBy<MovementColumns>(sql, { table: 'movement', column: 'already_left', sugarhouse }, [1]);
  return rows.map(movementOf).sort(oldestFirst);
}

/** Returned jars whose condition is not recorded yet, oldest first. */
export async function returnsNotInspected({ sql, sugarhouse }: SugarhouseReader): Promise<Movement[]> {
  const rows = await sql.rows<MovementColumns>`SELECT * FROM movement
    WHERE sugarhouse = ${sugarhouse} AND kind = 'returned' AND looked_utc IS NULL ORDER BY sent_utc, id`;
  return rows.map(movementOf);
}

/** Plans that a hold or a recall stopped, oldest first, including overdue ones. */
export async function movementsStopped({ sql, sugarhouse }: SugarhouseReader): Promise<Movement[]> {
  const rows = await sql.rows<MovementColumns>`SELECT * FROM movement
    WHERE sugarhouse = ${sugarhouse} AND stopped = 1 AND jars > 0 ORDER BY sent_utc, id`;
  return rows.map(movementOf);
}

/** The jars that dispatches of these packs name, by dispatch. */
export async function codesByMovement(
  { sql, sugarhouse }: SugarhouseReader,
  packs: readonly string[],
): Promise<Map<string, string[]>> {
  const rows = await rowsInList<{ movement: string; jar: string }>(
    sql,
    `SELECT movement_jar.movement, movement_jar.jar FROM movement
       JOIN movement_jar ON movement_jar.sugarhouse = movement.sugarhouse AND movement_jar.movement = movement.id
     WHERE movement.sugarhouse = ? AND movement.by_codes = 1 AND movement.lot IN (LIST) ORDER BY movement_jar.jar`,
    [sugarhouse],
    packs,
  );
  const byMovement = new Map<string, string[]>();
  for (const { movement, jar } of rows) {
    const codes = byMovement.get(movement);
    if (codes) codes.push(jar);
    else byMovement.set(movement, [jar]);
  }
  return byMovement;
}

/**
 * Every jar of these packs, pack by pack in the order given, a few packs at a time: memory use stays constant for a
 * million jars.
 */
export async function* jarsOfPacks(reader: SugarhouseReader, packs: readonly string[]): AsyncGenerator<PackedJar> {
  for (let first = 0; first < packs.length; first += packsAtOnce)
    yield* await jarsOfSome(reader, packs.slice(first, first + packsAtOnce));
}

export interface PackedJar {
  readonly code: string;
  readonly pack: string;
  readonly n: number;
}

/** How many packs' jars are read together where all of them are read. */
export const packsAtOnce = 50;

/** The jars of a few packs, by pack and number. */
export const jarsOfSome = ({ sql, sugarhouse }: SugarhouseReader, packs: readonly string[]): Promise<PackedJar[]> =>
  rowsInList<PackedJar>(
    sql,
    'SELECT code, pack, n FROM jar WHERE sugarhouse = ? AND pack IN (LIST) ORDER BY pack, n',
    [sugarhouse],
    packs,
  );

/** The dispatches that name this jar, oldest first. */
export async function movementsOfJar({ sql, sugarhouse }: SugarhouseReader, jar: string): Promise<Movement[]> {
  const rows = await sql.rows<MovementColumns>`SELECT movement.* FROM movement_jar
    JOIN movement ON movement.sugarhouse = movement_jar.sugarhouse AND movement.id = movement_jar.movement
    WHERE movement_jar.sugarhouse = ${sugarhouse} AND movement_jar.jar = ${jar} ORDER BY sent_utc, movement.id`;
  return rows.map(movementOf);
}

/**
 * How much of a lot has gone into others or was used up, in millilitres, without `except`. What stays in the pans for
 * the next boil was never drawn.
 */
export async function drawnFrom({ sql, sugarhouse }: SugarhouseReader, code: string, except = ''): Promise<number> {
  const rows = await rowsBy<FlowColumns>(sql, { table: 'flow', column: 'from_lot', sugarhouse }, [code]);
  return exactSum(
    rows.filter((row) => row.into_lot !== except && row.kind !== 'carried').map((row) => row.millilitres),
  );
}

/**
 * A sum that doesn't depend on the order of its parts, but for its last bit: what is lost in each addition is summed
 * too (Kahan and Babuška's way, as in SQLite's SUM; from memory).
 */
function exactSum(parts: readonly number[]): number {
  let [sum, lost] = [0, 0];
  for (const part of parts) {
    const next = sum + part;
    lost += Math.abs(sum) >= Math.abs(part) ? sum - next + part : part - next + sum;
    sum = next;
  }
  return sum + lost;
}

/** The lots of these kinds. */
export const ofKind = (lots: readonly Lot[], ...kinds: LotKind[]): Lot[] =>
  lots.filter((lot) => kinds.includes(lot.kind));

export interface FlowColumns extends Omit<RowOf<'flow'>, 'sugarhouse'> {
  kind: Flow['kind'];
}
export interface MovementColumns extends Omit<RowOf<'movement'>, 'sugarhouse'> {
  kind: DispatchKind;
}

/** A flow from lot to lot, from its row. */
export const flowFrom = (row: FlowColumns): Flow => ({
  into: row.into_lot,
  from: row.from_lot,
  kind: row.kind,
  millilitres: row.millilitres,
  typed: row.typed,
  atUtc: row.at_utc,
});
/** A movement of jars, from its row. */
export const movementOf = (row: MovementColumns): Movement => ({
  id: row.id,
  lot: row.lot,
  kind: row.kind,
  jars: row.jars,
  byCodes: row.by_codes === 1,
  sentAt: row.sent_at,
  sentUtc: row.sent_utc,
  to: row.sent_to,
  contact: row.contact,
  alreadyLeft: row.already_left === 1,
  laboratory: row.laboratory === 1,
  fromReturned: row.from_returned,
  backOnShelf: row.back_on_shelf,
  lookedUtc: row.looked_utc ?? undefined,
  stopped: row.stopped === 1,
});

const byCode = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

function itselfFirst(rows: LotColumns[], code: string): Lot[] {
  const lots = rows.map(lotFrom);
  return [...lots.filter((lot) => lot.code === code), ...lots.filter((lot) => lot.code !== code)];
}
