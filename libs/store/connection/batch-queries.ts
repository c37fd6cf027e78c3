import { rowsInList } from './in-list.js';
import { rowsBy } from './row-groups.js';
import { rowsByKey } from './rows-by-key.js';
import type { NumberedEntry } from '#libs/records/entry.js';
import type { RecordKind } from '#libs/records/record-types.js';
import {
  type StoredRecord,
  type Lot,
  type LotColumns,
  lotFrom,
  type RecordColumns,
  recordFrom,
} from '../queries/lots.js';
import { type Flow, type FlowColumns, flowFrom } from '../queries/trace.js';
import type { SugarhouseReader } from './sugarhouse-reader.js';
import { numberedEntry } from '../log/entry-json.js';

// Queries for lists of lots: one statement for all of them instead of one for each.

/** The existing ones of these lots, by code. */
export async function lotsNamed(
  { sql, sugarhouse }: SugarhouseReader,
  codes: readonly string[],
): Promise<Map<string, Lot>> {
  const rows = await rowsByKey<LotColumns>(sql, { table: 'lot', sugarhouse }, codes);
  return new Map(rows.map((row) => [row.code, lotFrom(row)]));
}

/** The existing records among these kinds and ids, as a look-up function. */
export async function recordsNamed(
  { sql, sugarhouse }: SugarhouseReader,
  kinds: readonly RecordKind[],
  ids: readonly string[],
): Promise<<K extends RecordKind>(kind: K, id: string) => StoredRecord<K> | undefined> {
  const text = `SELECT * FROM record WHERE sugarhouse = ? AND kind IN (${kinds.map(() => '?').join(', ')}) AND id IN (LIST)`;
  return lookUp(await rowsInList<RecordColumns>(sql, text, [sugarhouse, ...kinds], ids));
}

/** Whose initials each of these records of a kind has, by id: their texts and values are not read. */
export async function initialsOfEach(
  { sql, sugarhouse }: SugarhouseReader,
  kind: RecordKind,
  ids: readonly string[],
): Promise<Map<string, string>> {
  const text = 'SELECT id, "by" FROM record WHERE sugarhouse = ? AND kind = ? AND id IN (LIST)';
  const rows = await rowsInList<Pick<RecordColumns, 'id' | 'by'>>(sql, text, [sugarhouse, kind], ids);
  return new Map(rows.map(({ id, by }) => [id, by]));
}

/** `recordsNamed`, and the records of another kind about the same lots, oldest first, in one statement. */
export async function recordsNamedAndAbout<K extends RecordKind>(
  { sql, sugarhouse }: SugarhouseReader,
  kinds: readonly RecordKind[],
  ids: readonly string[],
  about: K,
): Promise<{ record: ReturnType<typeof lookUp>; about: Map<string, StoredRecord<K>[]> }> {
  const text = `SELECT * FROM record WHERE sugarhouse = ? AND kind IN (${kinds.map(() => '?').join(', ')}) AND id IN (LIST)
    UNION ALL SELECT * FROM record WHERE sugarhouse = ? AND kind = ? AND lot IN (LIST)`;
  const rows = await rowsInList<RecordColumns>(sql, text, [sugarhouse, ...kinds, sugarhouse, about], ids);
  const others = rows.filter((row) => row.kind === about);
  others.sort((a, b) => order(a.at_utc, b.at_utc) || order(a.id, b.id));
  return { record: lookUp(rows), about: groupRows(ids, others, (row) => row.lot, recordFrom<K>) };
}

function lookUp(
  rows: readonly RecordColumns[],
): <K extends RecordKind>(kind: K, id: string) => StoredRecord<K> | undefined {
  const found = new Map(rows.map((row) => [`${row.kind} ${row.id}`, row]));
  // Many packs need the same boil: its body is parsed once.
  const parsed = new Map<string, StoredRecord>();
  return <K extends RecordKind>(kind: K, id: string) => {
    const key = `${kind} ${id}`;
    const row = found.get(key);
    if (!row) return undefined;
    const known = parsed.get(key) ?? recordFrom(row);
    parsed.set(key, known);
    return known as StoredRecord<K>;
  };
}

/** Records of a kind about each of these lots, oldest first. */
export async function recordsAboutEach<K extends RecordKind>(
  { sql, sugarhouse }: SugarhouseReader,
  lots: readonly string[],
  kind: K,
): Promise<Map<string, StoredRecord<K>[]>> {
  const text = 'SELECT * FROM record WHERE sugarhouse = ? AND kind = ? AND lot IN (LIST)';
  const rows = sql.grouped
    ? await rowsBy<RecordColumns>(sql, { table: 'record', column: 'lot', sugarhouse, kinds: [kind] }, lots)
    : await rowsInList<RecordColumns>(sql, text, [sugarhouse, kind], lots);
  rows.sort((a, b) => order(a.at_utc, b.at_utc) || order(a.id, b.id));
  return groupRows(lots, rows, (row) => row.lot, recordFrom<K>);
}

/** Records of these kinds about a lot, oldest first, by kind. */
export async function recordsOfKindsAbout(
  { sql, sugarhouse }: SugarhouseReader,
  lot: string,
  kinds: readonly RecordKind[],
): Promise<<K extends RecordKind>(kind: K) => StoredRecord<K>[]> {
  const rows = await rowsBy<RecordColumns>(sql, { table: 'record', column: 'lot', sugarhouse, kinds }, [lot]);
  rows.sort((a, b) => order(a.at_utc, b.at_utc) || order(a.id, b.id));
  return <K extends RecordKind>(kind: K) => rows.filter((row) => row.kind === kind).map((row) => recordFrom<K>(row));
}

/** The flows into each of these lots, largest first. */
export async function flowsIntoEach(
  { sql, sugarhouse }: SugarhouseReader,
  lots: readonly string[],
): Promise<Map<string, Flow[]>> {
  const rows = await rowsBy<FlowColumns>(sql, { table: 'flow', column: 'into_lot', sugarhouse }, lots);
  rows.sort((a, b) => b.millilitres - a.millilitres || order(a.from_lot, b.from_lot));
  return groupRows(lots, rows, (row) => row.into_lot, flowFrom);
}

/** The flows out of each of these lots, oldest first. */
export async function flowsOutOfEach(
  { sql, sugarhouse }: SugarhouseReader,
  lots: readonly string[],
): Promise<Map<string, Flow[]>> {
  const rows = await rowsBy<FlowColumns>(sql, { table: 'flow', column: 'from_lot', sugarhouse }, lots);
  rows.sort((a, b) => order(a.at_utc, b.at_utc) || order(a.into_lot, b.into_lot));
  return groupRows(lots, rows, (row) => row.from_lot, flowFrom);
}

/** The history entries of each of these lots, oldest first. */
export async function historyOfEach(
  { sql, sugarhouse }: SugarhouseReader,
  lots: readonly string[],
): Promise<Map<string, NumberedEntry[]>> {
  const text = `SELECT lot_entry.lot, entry.seq, entry.json FROM lot_entry JOIN entry ON entry.seq = lot_entry.seq
    WHERE lot_entry.sugarhouse = ? AND lot_entry.lot IN (LIST)`;
  const rows = await rowsInList<{ lot: string; seq: number; json: string }>(sql, text, [sugarhouse], lots);
  rows.sort((a, b) => a.seq - b.seq);
  return groupRows(lots, rows, (row) => row.lot, numberedEntry);
}

/** Every lot upstream of each of these, sorted by code, without itself. */
export async function lotsUpstreamOfEach(
  reader: SugarhouseReader,
  codes: readonly string[],
): Promise<Map<string, Lot[]>> {
  const { sql, sugarhouse } = reader;
  const text = `WITH RECURSIVE above(code) AS (
      SELECT code FROM lot WHERE sugarhouse = ? AND code IN (LIST)
      UNION
      SELECT flow.from_lot FROM flow JOIN above ON flow.into_lot = above.code WHERE flow.sugarhouse = ?)
    SELECT lot.* FROM above CROSS JOIN lot WHERE lot.code = above.code AND lot.sugarhouse = ?`;
  const rows = await rowsInList<LotColumns>(sql, text, [sugarhouse, sugarhouse, sugarhouse], codes);
  const lots = new Map(rows.map((row) => [row.code, lotFrom(row)]));
  const into = await flowsIntoEach(reader, [...lots.keys()]);
  return new Map(
    codes.map((code) => {
      const above = new Set([code]);
      for (const each of above) for (const { from } of into.get(each) ?? []) above.add(from);
      above.delete(code);
      return [code, [...above].sort(order).flatMap((each) => lots.get(each) ?? [])];
    }),
  );
}

/** Groups rows by lot; a lot without rows gets an empty list. */
function groupRows<Row, T>(
  lots: readonly string[],
  rows: readonly Row[],
  lotOf: (row: Row) => string | null,
  from: (row: Row) => T,
): Map<string, T[]> {
  const by = new Map<string, T[]>(lots.map((lot) => [lot, []]));
  for (const row of rows) by.get(lotOf(row) ?? '')?.push(from(row));
  return by;
}

const order = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
