import { count, type Field, splitList } from '#libs/actions/record/fields.js';
import type { Kind } from '#libs/actions/record/kind.js';
import { lookUpLot } from '#libs/actions/record/references.js';
import { lotsNamed } from '#libs/store/connection/batch-queries.js';
import { findByOwnId, findLot, findRecord, type StoredRecord, type Lot } from '#libs/store/queries/lots.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** A record in a response of /api: the fields as they were typed, under the names used in requests. */
export interface RecordView {
  readonly id: string;
  readonly ownId?: string;
  /** The last entry about it: send it as If-Match, so that a write after somebody else's is refused. */
  readonly entry: number;
  readonly [field: string]: unknown;
}

/** A record by its lot code, its own id, or the maker's id of a boil or a pack. */
export async function findStored(reader: SugarhouseReader, kind: Kind, id: string): Promise<StoredRecord | undefined> {
  const exact = await findRecord(reader, kind.kind, id);
  if (exact || !kind.idFields.includes('lot')) return exact;
  const lot = await lookUpLot(reader, id);
  if (lot?.kind === kind.kind) return findRecord(reader, kind.kind, lot.code);
  return findByOwnId(reader, kind.kind, id);
}

/** A stored record as the API returns it; for a lot, its status and verdict are read too. */
export async function recordView(reader: SugarhouseReader, kind: Kind, saved: StoredRecord): Promise<RecordView> {
  return buildView(kind, saved, isLotKind(kind) ? await findLot(reader, saved.id) : undefined);
}

/** Many records of a kind, their lots read together. */
export async function recordViews(
  reader: SugarhouseReader,
  kind: Kind,
  saved: readonly StoredRecord[],
): Promise<RecordView[]> {
  const codes = isLotKind(kind) ? saved.map((each) => each.id) : [];
  const lots = await lotsNamed(reader, codes);
  return saved.map((each) => buildView(kind, each, lots.get(each.id)));
}

function buildView(kind: Kind, saved: StoredRecord, lot: Lot | undefined): RecordView {
  const typed = Object.entries(saved.typed).map(([name, text]) => [name, asRequested(kind.fields[name], text)]);
  return {
    ...(Object.fromEntries(typed) as Record<string, unknown>),
    id: saved.id,
    ...(saved.ownId === undefined ? {} : { ownId: saved.ownId }),
    by: saved.by,
    at: saved.at,
    entry: lot?.lastSeq ?? saved.lastSeq,
    ...(lot ? lotView(lot) : {}),
  };
}

const isLotKind = (kind: Kind): boolean => ['gathering', 'receipt', 'boil', 'pack'].includes(kind.kind);

/** The last verdict on a lot. */
export const lotView = (lot: Lot) => ({
  lot: lot.code,
  status: lot.state,
  ...(lot.verdict
    ? { findings: lot.verdict.findings, brix: lot.verdict.brix, colour: lot.verdict.colour, rules: lot.verdict.rules }
    : {}),
});

function asRequested(field: Field<unknown> | undefined, text: string): unknown {
  if (field?.read === (count as unknown)) return Number(text);
  if (!field?.list) return text;
  const list = splitList(text);
  return list.length === 1 && /^\d{1,7}$/.test(list[0] ?? '') ? Number(list[0]) : list;
}
