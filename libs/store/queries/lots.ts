import type { RowOf } from '../projection/index-tables.js';
import { readVerdict } from '#libs/syrup/rules/stored-verdict.js';
import type { Verdict } from '#libs/syrup/rules/verdict.js';
import type { LotState } from '#libs/records/entry.js';
import type { LotKind, RecordByKind, RecordKind } from '#libs/records/record-types.js';
import { rowsInList } from '../connection/in-list.js';
import { countOfKind, rowByKey } from '../connection/rows-by-key.js';
import { rowsBy } from '../connection/row-groups.js';
import type { Sql } from '../connection/sql.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

export interface Lot {
  readonly code: string;
  readonly kind: LotKind;
  readonly year: number;
  readonly at: string;
  readonly atUtc: string;
  readonly state: LotState;
  readonly heldSince: string | undefined;
  readonly verdict: Verdict | undefined;
  /** Sap of a gathering, syrup of a boil, contents of a pack's jars; undefined while in progress. */
  readonly millilitres: number | undefined;
  readonly jars: number | undefined;
  readonly jarMillilitres: number | undefined;
  readonly container: string | undefined;
  readonly lastSeq: number;
}

/** A record in the index. A union over the kinds: `kind` decides the type of `body`. */
export type StoredRecord<K extends RecordKind = RecordKind> = {
  [P in K]: {
    readonly kind: P;
    readonly id: string;
    readonly ownId: string | undefined;
    readonly lot: string | undefined;
    readonly at: string;
    readonly atUtc: string;
    readonly year: number;
    /** Who did it, as recorded; where that is blank, who wrote the first entry. */
    readonly by: string;
    /** Who wrote its first entry, and when: corrections and additions have entries of their own. */
    readonly writtenBy: string;
    readonly writtenAt: string;
    readonly typed: Readonly<Record<string, string>>;
    readonly body: RecordByKind[P];
    readonly firstSeq: number;
    readonly lastSeq: number;
  };
}[K];

export interface LotColumns extends Omit<RowOf<'lot'>, 'sugarhouse'> {
  kind: LotKind;
  state: LotState;
}
export interface RecordColumns extends Omit<RowOf<'record'>, 'sugarhouse'> {
  kind: RecordKind;
}

/** A lot by its code, case-sensitive; undefined where there is none. */
export async function findLot({ sql, sugarhouse }: SugarhouseReader, code: string): Promise<Lot | undefined> {
  const row = await rowByKey<LotColumns>(sql, { table: 'lot', sugarhouse }, code);
  return row && lotFrom(row);
}

/** Lots of a kind, newest first; optionally of one year. */
export async function lotsOf(
  { sql, sugarhouse }: SugarhouseReader,
  kind: LotKind,
  year?: number,
  most = 100_000,
): Promise<Lot[]> {
  const rows =
    year === undefined
      ? await sql.rows<LotColumns>`SELECT * FROM lot WHERE sugarhouse = ${sugarhouse} AND kind = ${kind}
          ORDER BY at_utc DESC, code DESC LIMIT ${most}`
      : await sql.rows<LotColumns>`SELECT * FROM lot WHERE sugarhouse = ${sugarhouse} AND kind = ${kind} AND year = ${year}
          ORDER BY at_utc DESC, code DESC LIMIT ${most}`;
  return rows.map(lotFrom);
}

/** A record of a kind by its id, in its latest version; undefined where there is none. */
export async function findRecord<K extends RecordKind>(
  { sql, sugarhouse }: SugarhouseReader,
  kind: K,
  id: string,
): Promise<StoredRecord<K> | undefined> {
  const row = await rowByKey<RecordColumns>(sql, { table: 'record', sugarhouse, kind }, id);
  return row && recordFrom<K>(row);
}

/** A boil or pack by the maker's own id. */
export async function findByOwnId<K extends RecordKind>(
  { sql, sugarhouse }: SugarhouseReader,
  kind: K,
  ownId: string,
): Promise<StoredRecord<K> | undefined> {
  const by = { table: 'record', column: 'own_id', sugarhouse, kinds: [kind] } as const;
  const [row] = await rowsBy<RecordColumns>(sql, by, [ownId]);
  return row && recordFrom<K>(row);
}

/** Records of a kind about a lot, oldest first. */
export async function recordsAbout<K extends RecordKind>(
  { sql, sugarhouse }: SugarhouseReader,
  lot: string,
  kind: K,
): Promise<StoredRecord<K>[]> {
  const rows = await sql.rows<RecordColumns>`SELECT * FROM record
    WHERE sugarhouse = ${sugarhouse} AND lot = ${lot} AND kind = ${kind} ORDER BY at_utc, id`;
  return rows.map((row) => recordFrom<K>(row));
}

/** Records of a kind, oldest first; optionally of one year. */
export async function recordsOf<K extends RecordKind>(
  { sql, sugarhouse }: SugarhouseReader,
  kind: K,
  year?: number,
): Promise<StoredRecord<K>[]> {
  if (year === undefined && sql.grouped) {
    // A write is asked for these again for each lot, and adds what it records itself.
    const known = await rowsBy<RecordColumns>(sql, { table: 'record', column: 'kind', sugarhouse }, [kind]);
    return known.sort(oldestFirst).map((row) => recordFrom<K>(row));
  }
  const rows =
    year === undefined
      ? await sql.rows<RecordColumns>`SELECT * FROM record WHERE sugarhouse = ${sugarhouse} AND kind = ${kind}
          ORDER BY at_utc, id`
      : await sql.rows<RecordColumns>`SELECT * FROM record WHERE sugarhouse = ${sugarhouse} AND kind = ${kind}
          AND year = ${year} ORDER BY at_utc, id`;
  return rows.map((row) => recordFrom<K>(row));
}

const oldestFirst = (a: RecordColumns, b: RecordColumns): number =>
  a.at_utc < b.at_utc ? -1 : a.at_utc > b.at_utc ? 1 : a.id < b.id ? -1 : 1;

/** Records of several kinds, each oldest first, in one statement. */
export async function recordsOfEach<K extends RecordKind>(
  { sql, sugarhouse }: SugarhouseReader,
  kinds: readonly K[],
): Promise<{ readonly [P in K]: StoredRecord<P>[] }> {
  const text = 'SELECT * FROM record WHERE sugarhouse = ? AND kind IN (LIST) ORDER BY at_utc, id';
  const rows = sql.grouped
    ? (await rowsBy<RecordColumns>(sql, { table: 'record', column: 'kind', sugarhouse }, kinds)).sort(oldestFirst)
    : await rowsInList<RecordColumns>(sql, text, [sugarhouse], kinds);
  const of = (kind: K) => rows.filter((row) => row.kind === kind).map((row) => recordFrom(row));
  return Object.fromEntries(kinds.map((kind) => [kind, of(kind)])) as { readonly [P in K]: StoredRecord<P>[] };
}

/** The number of the first entry about any boil or pack of a year; past the end of the log where there is none. */
export async function firstEntryOf({ sql, sugarhouse }: SugarhouseReader, year: number): Promise<number> {
  const row = await sql.row<{ n: number | string | null }>`SELECT MIN(first_seq) AS n FROM record
    WHERE sugarhouse = ${sugarhouse} AND kind IN ('boil', 'pack') AND year = ${year}`;
  return Number(row?.n ?? Number.MAX_SAFE_INTEGER);
}

/** How many records of a kind the sugarhouse has. */
export const countRecords = ({ sql, sugarhouse }: SugarhouseReader, kind: RecordKind): Promise<number> =>
  countOfKind(sql, { table: 'record', sugarhouse, kind });

/** Years in which anything was boiled or packed, newest first. */
export async function yearsRecorded({ sql, sugarhouse }: SugarhouseReader): Promise<number[]> {
  const rows = await sql.rows<{ year: number }>`SELECT DISTINCT year FROM lot
    WHERE sugarhouse = ${sugarhouse} AND kind IN ('boil', 'pack') ORDER BY year DESC`;
  return rows.map((row) => row.year);
}

export interface Jar {
  readonly code: string;
  readonly sugarhouse: string;
  readonly pack: string;
  readonly n: number;
}

/** A jar by its code alone: codes are unique in the whole book. */
export async function findJar(sql: Sql, code: string): Promise<Jar | undefined> {
  return sql.row<Jar & Record<string, never>>`SELECT code, sugarhouse, pack, n FROM jar WHERE code = ${code}`;
}

/** Which of these codes other jars of the book have. */
export async function codesTaken(sql: Sql, codes: readonly string[]): Promise<Set<string>> {
  // As one value on either engine: SQLite would prepare a statement anew for every number of jars.
  const rows =
    sql.engine === 'postgres'
      ? await rowsInList<{ code: string }>(sql, 'SELECT code FROM jar WHERE code IN (LIST)', [], codes)
      : await sql.rows<{
          code: string;
        }>`SELECT code FROM jar WHERE code IN (SELECT value FROM json_each(${JSON.stringify(codes)}))`;
  return new Set(rows.map((row) => row.code));
}

/** Jars of a pack in the order of their numbers, a thousand at a time. */
export async function* jarsOfPack(
  { sql, sugarhouse }: SugarhouseReader,
  pack: string,
  from = 1,
  to = Number.MAX_SAFE_INTEGER,
): AsyncGenerator<{ n: number; code: string }> {
  for (let next = from; next <= to;) {
    const some = await sql.rows<{ n: number; code: string }>`SELECT n, code FROM jar WHERE sugarhouse = ${sugarhouse}
      AND pack = ${pack} AND n >= ${next} ORDER BY n LIMIT 1000`;
    for (const jar of some) if (jar.n <= to) yield jar;
    const last = some.at(-1);
    if (!last || some.length < 1000) return;
    next = last.n + 1;
  }
}

/** The highest jar number of a pack; 0 where no codes are assigned yet. */
export async function highestJar({ sql, sugarhouse }: SugarhouseReader, pack: string): Promise<number> {
  const row = await sql.row<{
    n: number | null;
  }>`SELECT MAX(n) AS n FROM jar WHERE sugarhouse = ${sugarhouse} AND pack = ${pack}`;
  return Number(row?.n ?? 0);
}

/** A lot from its row; its verdict is parsed on first use. */
export function lotFrom(row: LotColumns): Lot {
  const known = lotsMade.get(row);
  if (known) return known;
  let verdict: Verdict | undefined | null = null;
  const lot: Lot = {
    code: row.code,
    kind: row.kind,
    year: row.year,
    at: row.at_text,
    atUtc: row.at_utc,
    state: row.state,
    heldSince: row.held_since ?? undefined,
    // Parsed on first use: a trace reads hundreds of lots and needs no verdict.
    get verdict() {
      if (verdict === null) verdict = row.verdict === null ? undefined : readVerdict(row.verdict);
      return verdict;
    },
    millilitres: row.millilitres ?? undefined,
    jars: row.jars ?? undefined,
    jarMillilitres: row.jar_millilitres ?? undefined,
    container: row.container ?? undefined,
    lastSeq: row.last_seq,
  };
  if (Object.isFrozen(row)) lotsMade.set(row, lot);
  return lot;
}

/** Rows cached by a write transaction are frozen, so each is parsed only once. */
const lotsMade = new WeakMap<LotColumns, Lot>();
const recordsMade = new WeakMap<RecordColumns, StoredRecord>();

/** The only place where a row's JSON gets the type of its kind. */
export function recordFrom<K extends RecordKind>(row: RecordColumns): StoredRecord<K> {
  const known = recordsMade.get(row);
  if (known) return known as StoredRecord<K>;
  let typed: Record<string, string> | undefined;
  let body: unknown;
  const record = {
    kind: row.kind,
    id: row.id,
    ownId: row.own_id ?? undefined,
    lot: row.lot ?? undefined,
    at: row.at_text,
    atUtc: row.at_utc,
    year: row.year,
    by: row.by,
    writtenBy: row.written_by,
    writtenAt: row.written_at,
    // Parsed on first use: most callers need only one of the two.
    get typed() {
      return (typed ??= JSON.parse(row.typed) as Record<string, string>);
    },
    get body() {
      return (body ??= JSON.parse(row.body) as unknown);
    },
    firstSeq: row.first_seq,
    lastSeq: row.last_seq,
  } as StoredRecord<K>;
  if (Object.isFrozen(row)) recordsMade.set(row, record as StoredRecord);
  return record;
}

/** How many jars of the sugarhouse have a code. */
export async function countJars({ sql, sugarhouse }: SugarhouseReader): Promise<number> {
  const row = await sql.row<{
    n: number | string;
  }>`SELECT SUM(jars) AS n FROM lot WHERE sugarhouse = ${sugarhouse} AND kind = 'pack'`;
  return Number(row?.n ?? 0);
}

/** The jar at a position, from 0, in the order of the codes, which is random: used to draw a random jar. */
export async function jarAt({ sql, sugarhouse }: SugarhouseReader, place: number): Promise<Jar | undefined> {
  return sql.row<Jar & Record<string, never>>`SELECT code, sugarhouse, pack, n FROM jar WHERE sugarhouse = ${sugarhouse}
    ORDER BY code LIMIT 1 OFFSET ${place}`;
}
