import type { Entry, EntryType } from '#libs/records/entry.js';
import type { RecordKind } from '#libs/records/record-types.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';
import { rowsInList } from '../connection/in-list.js';
import { findEntry, walkLog } from './log.js';
import { parseEntry } from './entry-json.js';

/** Kinds whose records concern only the lots they name and those upstream and downstream. */
const ofTheirLotsOnly: ReadonlySet<RecordKind> = new Set<RecordKind>([
  'gathering',
  'receipt',
  'boil',
  'draw',
  'line',
  'pack',
  'dispatch',
  'count',
  'labels',
  'action',
]);
/** Entries about a lot's state, which also concern the lots downstream. */
const ofState: ReadonlySet<EntryType> = new Set<EntryType>(['hold', 'release', 'recall']);

/**
 * The kind of record that an entry wrote or voided, where it concerns no other lots; undefined where it may concern
 * any.
 */
function kindOfItsLotsOnly({ record, voids, entryType }: Entry): RecordKind | 'state' | undefined {
  const kind = (record ?? voids)?.kind;
  if (kind === undefined) return ofState.has(entryType) ? 'state' : undefined;
  return ofTheirLotsOnly.has(kind) ? kind : undefined;
}

/** More entries than this are not read one by one. */
const mostEntries = 200;

export interface ChangedSince {
  /** The lots of the entries, with all upstream and downstream of them. */
  readonly lots: ReadonlySet<string>;
  /** The kinds of records that they wrote. */
  readonly kinds: ReadonlySet<RecordKind>;
  /** Years in which the recorded events happened. */
  readonly years: ReadonlySet<number>;
}

/**
 * Which lots the entries after `after` may have affected, including by the former version of what was corrected or
 * voided. Undefined where any lot may be affected: a check of an instrument, an answer, the sugarhouse's own record.
 */
export async function lotsChangedSince(reader: SugarhouseReader, after: number): Promise<ChangedSince | undefined> {
  const lots = new Set<string>();
  const kinds = new Set<RecordKind>();
  const years = new Set<number>();
  let seen = 0;
  for await (const { json } of walkLog(reader.sql, after)) {
    const entry = parseEntry(json);
    if (++seen > mostEntries) return undefined;
    if (entry.sugarhouse !== reader.sugarhouse) continue;
    const kind = kindOfItsLotsOnly(entry);
    if (kind === undefined) return undefined;
    if (kind !== 'state') kinds.add(kind);
    for (const each of await withBefore(reader, entry)) {
      for (const lot of lotsIn(each)) lots.add(lot);
      for (const at of [each.happenedAt, each.typedAt]) years.add(Number(at.slice(0, 4)));
    }
  }
  for (const [to, from] of [
    ['into_lot', 'from_lot'],
    ['from_lot', 'into_lot'],
  ] as const)
    for (const lot of await reached(reader, [...lots], to, from)) lots.add(lot);
  return { lots, kinds, years };
}

/**
 * The lots whose own index rows the entries after `after` may have changed: movements, counts, draws, verdicts;
 * including by the former version of what was corrected or voided. Undefined where there are too many entries.
 */
export async function lotsTouchedSince(
  reader: SugarhouseReader,
  after: number,
): Promise<ReadonlySet<string> | undefined> {
  const lots = new Set<string>();
  let seen = 0;
  for await (const { json } of walkLog(reader.sql, after)) {
    const entry = parseEntry(json);
    if (++seen > mostEntries) return undefined;
    if (entry.sugarhouse !== reader.sugarhouse) continue;
    for (const each of await withBefore(reader, entry)) for (const lot of lotsIn(each)) lots.add(lot);
  }
  return lots;
}

/** The entry, and the one that it corrects or voids. */
async function withBefore({ sql }: SugarhouseReader, entry: Entry): Promise<readonly Entry[]> {
  const before = entry.corrects === undefined ? undefined : await findEntry(sql, entry.corrects);
  return before ? [entry, before] : [entry];
}

/** Every lot named anywhere in an entry. */
function lotsIn({ about, judged = [], record, voids }: Entry): string[] {
  const body = (record?.body ?? {}) as Readonly<Record<string, unknown>>;
  const portions = ['fromLots', 'gatherings', 'carriedFrom'].flatMap((name) => body[name] ?? []) as { lot: string }[];
  return [
    ...about,
    ...judged.map(({ lot }) => lot),
    ...portions.map(({ lot }) => lot),
    ...[record?.id, record?.lot, voids?.id, body['lot'], body['boil']].filter((lot) => typeof lot === 'string'),
  ];
}

const reached = async (
  { sql, sugarhouse }: SugarhouseReader,
  lots: readonly string[],
  to: string,
  from: string,
): Promise<string[]> =>
  (
    await rowsInList<{ code: string }>(
      sql,
      `WITH RECURSIVE near(code) AS (
         SELECT code FROM lot WHERE sugarhouse = ? AND code IN (LIST)
         UNION
         SELECT flow.${to} FROM flow JOIN near ON flow.${from} = near.code WHERE flow.sugarhouse = ?)
       SELECT code FROM near`,
      [sugarhouse, sugarhouse],
      lots,
    )
  ).map(({ code }) => code);
