import type { BoilBody } from '#libs/records/kinds/boil.js';
import type { DispatchBody } from '#libs/records/kinds/dispatch.js';
import type { GatheringBody } from '#libs/records/kinds/gathering.js';
import type { ReceiptBody } from '#libs/records/kinds/receipt.js';
import type { Portion } from '#libs/records/portion.js';
import { flowsIntoEach, historyOfEach, lotsNamed, recordsAboutEach } from '#libs/store/connection/batch-queries.js';
import { type Lot, recordsOf } from '#libs/store/queries/lots.js';
import { movementsStopped } from '#libs/store/queries/trace.js';
import { lotsWithSomeLeft } from '#libs/store/queries/work-in-progress.js';
import type { LotDeviations } from './read-deviations.js';
import { findingOf } from './read-findings.js';
import { historyLines, lateEntries } from '../lots/read-history.js';
import { boilReadings, drawReadings, gatheringReadings, panReadings } from '../lots/read-readings.js';
import type {
  CountRecord,
  Dispatch,
  Draw,
  Gathering,
  Receipt,
  SeasonBoil,
  Disposal,
} from '#libs/reports/season/flow.js';
import type { LotInput } from '#libs/reports/season/lot.js';
import type { CarriedIn, Season } from '#libs/reports/season/season.js';
import { formatBoth } from '#libs/format/format-volume-pair.js';
import { ticked } from '#libs/format/ticked.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** The sap gathered in a year, for the season's documents. */
export const readGatherings = async (reader: SugarhouseReader, year: number): Promise<Gathering[]> =>
  gatheringsFrom(await recordsOf(reader, 'gathering', year));

/** The same out of records that were read already. */
export function gatheringsFrom(records: readonly { readonly id: string; readonly body: GatheringBody }[]): Gathering[] {
  return records.map(({ id, body }) => ({
    id,
    gatheredAt: body.gatheredAt,
    source: body.source,
    volumeTyped: body.volume.typed,
    millilitres: body.volume.millilitres,
    readings: gatheringReadings(body),
    condition: body.condition || null,
    handling: ticked(body.handling ?? []),
    thrownOutTyped: body.thrownOut?.typed ?? null,
    by: body.by || null,
  }));
}

/** The sap and syrup bought in a year. */
export const readReceipts = async (reader: SugarhouseReader, year: number): Promise<Receipt[]> =>
  receiptsFrom(await recordsOf(reader, 'receipt', year));

/** The same out of records that were read already. */
export function receiptsFrom(records: readonly { readonly id: string; readonly body: ReceiptBody }[]): Receipt[] {
  return records.map(({ id, body }) => ({
    id,
    supplier: body.supplier,
    contact: body.contact,
    theirLot: body.theirLot || null,
    volumeTyped: body.volume.typed,
    millilitres: body.volume.millilitres,
    densityTyped: body.density?.typed ?? null,
    receivedAt: body.receivedAt,
    by: body.by || null,
  }));
}

/** Boils begun in the year; one still going has drawn nothing yet. */
export const readBoils = async (
  reader: SugarhouseReader,
  year: number,
  deviations: ReadonlyMap<string, LotDeviations>,
  { withoutLog = false, known = new Map<string, SeasonBoil>() } = {},
): Promise<SeasonBoil[]> => {
  const records = await recordsOf(reader, 'boil', year);
  const unread = records.filter(({ id }) => !known.has(id));
  for (const boil of await boilsFrom(reader, unread, deviations, withoutLog)) known.set(boil.lot, boil);
  return records.flatMap(({ id }) => known.get(id) ?? []);
};

/** Boils for the season's documents out of their records, with their readings and histories. */
export async function boilsFrom(
  reader: SugarhouseReader,
  records: readonly { readonly id: string; readonly body: BoilBody }[],
  deviations: ReadonlyMap<string, LotDeviations> = new Map(),
  withoutLog = false,
): Promise<SeasonBoil[]> {
  const boils: SeasonBoil[] = [];
  const codes = records.map(({ id }) => id);
  const histories = await historyOfEach(reader, withoutLog ? [] : codes);
  const lots = await lotsNamed(reader, codes);
  const lines = await recordsAboutEach(reader, codes, 'line');
  for (const { id, body } of records) {
    const lot = lots.get(id);
    boils.push({
      lot: id,
      beganAt: body.beganAt,
      finishedAt: body.finishedAt ?? null,
      inputs: body.gatherings.map(inputOf),
      carriedFrom: body.carriedFrom.map(inputOf),
      sapVolumeTyped: body.sapVolume?.typed ?? null,
      sapMillilitres: body.sapVolume?.millilitres ?? null,
      sapSugarTyped: body.sapSugar?.typed ?? null,
      readings: boilReadings(body),
      filterMedium: body.filterMedium || null,
      defoamer: body.defoamer || null,
      defoamerAllergens: body.defoamerAllergens || null,
      restedFrom: body.restedFrom ?? null,
      restedUntil: body.restedUntil ?? null,
      syrupVolumeTyped: body.syrupVolume?.typed ?? 'not recorded yet',
      syrupMillilitres: body.syrupVolume?.millilitres ?? 0,
      by: body.by,
      note: body.note || null,
      history: historyLines(histories.get(id) ?? [], 'boil'),
      status: lot?.state ?? 'open',
      findings: (lot?.verdict?.findings ?? []).map(findingOf),
      deviations: deviations.get(id)?.deviations ?? [],
      verdictChanges: deviations.get(id)?.changes ?? [],
      lateEntries: lateEntries(histories.get(id) ?? []),
      panLog: (lines.get(id) ?? []).flatMap((line) => panReadings(line.body)),
    });
  }
  return boils;
}

/** The draw-offs of a year. */
export async function readDraws(reader: SugarhouseReader, year: number): Promise<Draw[]> {
  return (await recordsOf(reader, 'draw', year)).map(({ id, body }) => ({
    id,
    boil: body.boil,
    drawnAt: body.drawnAt,
    volumeTyped: body.volume.typed,
    millilitres: body.volume.millilitres,
    readings: drawReadings(body),
    filterMedium: body.filterMedium || null,
    vessel: body.vessel || null,
    by: body.by || null,
  }));
}

/** Dispatches of the season's packs, whenever they went, and those of the year from older packs. */
export async function readDispatches(
  reader: SugarhouseReader,
  year: number,
  packs: readonly Lot[],
  asOf: string,
): Promise<Dispatch[]> {
  const byId = new Map<string, Dispatch>();
  const stopped = await stoppedPlans(reader);
  const take = (saved: Parameters<typeof dispatchOf>[0]): void =>
    void byId.set(saved.id, dispatchOf(saved, asOf, stopped));
  for (const row of await recordsOf(reader, 'dispatch', year)) take(row);
  const codes = packs.map((pack) => pack.code);
  const about = await recordsAboutEach(reader, codes, 'dispatch');
  for (const rows of about.values()) for (const row of rows) take(row);
  return [...byId.values()].sort((a, b) => Date.parse(a.sentAt) - Date.parse(b.sentAt) || (a.id < b.id ? -1 : 1));
}

/** The plans that a hold or a recall stopped, by their ids: plans still, though their time may have passed. */
export const stoppedPlans = async (reader: SugarhouseReader): Promise<ReadonlySet<string>> =>
  new Set((await movementsStopped(reader)).map(({ id }) => id));

/** A dispatch for the season's documents; one later than `asOf` is planned. */
export const dispatchOf = (
  { id, body, typed }: { id: string; body: DispatchBody; typed: Readonly<Record<string, string>> },
  asOf: string,
  stopped: ReadonlySet<string>,
): Dispatch => ({
  id,
  lot: body.lot,
  jars: body.jars,
  jarCodes: body.codes,
  sentAt: body.sentAt,
  to: body.to,
  kind: body.kind,
  how: typed['kind'] ? body.kind : null,
  contact: body.contact || null,
  telephone: body.telephone ?? null,
  by: body.by || null,
  ...(body.alreadyLeft === 'yes' ? { alreadyLeft: true } : {}),
  ...(body.laboratory === 'yes' ? { laboratory: true } : {}),
  planned: stopped.has(id) || Date.parse(body.sentAt) > Date.parse(asOf),
});

/** The counts of jars of a year. */
export async function readCounts(reader: SugarhouseReader, year: number): Promise<CountRecord[]> {
  return (await recordsOf(reader, 'count', year)).map(({ id, body }) => ({
    id,
    lot: body.lot,
    jars: body.jars,
    countedAt: body.countedAt,
    by: body.by || null,
  }));
}

/** Sap and syrup of a year that went into no other lot. */
export async function readDisposals(reader: SugarhouseReader, year: number): Promise<Disposal[]> {
  return (await recordsOf(reader, 'spent', year)).map(({ id, body }) => ({
    id,
    lot: body.lot,
    how: body.how.replace('-', ' '),
    volumeTyped: body.typed || `all of it, ${formatBoth(body.millilitres)}`,
    millilitres: body.millilitres,
    at: body.at,
    why: body.why || null,
    by: body.by || null,
  }));
}

/** Boils with syrup that is not packed yet, at most a thousand. */
export async function readSyrupLeft(reader: SugarhouseReader, year: number): Promise<Season['syrupLeft']> {
  const boils = await lotsWithSomeLeft(reader, 'boil', year, 1000);
  return boils
    .filter((boil) => boil.year === year && boil.leftMillilitres !== undefined)
    .map((boil) => ({ lot: boil.code, millilitres: boil.leftMillilitres ?? 0 }))
    .sort((one, other) => (one.lot < other.lot ? -1 : 1));
}

/** Syrup of earlier years that went into this year's lots: it is in the jars, but not in the year's boils. */
export async function readCarriedIn(
  reader: SugarhouseReader,
  year: number,
  lots: readonly string[],
): Promise<CarriedIn[]> {
  const carried: CarriedIn[] = [];
  const flows = await flowsIntoEach(reader, lots);
  const sources = new Set([...flows.values()].flat().map((flow) => flow.from));
  const found = await lotsNamed(reader, [...sources]);
  for (const [into, those] of flows)
    for (const flow of those) {
      const from = found.get(flow.from);
      if (from && from.year < year && from.kind !== 'gathering')
        carried.push({
          code: from.code,
          into,
          volumeTyped: flow.typed || formatBoth(flow.millilitres),
          millilitres: flow.millilitres,
        });
    }
  return carried;
}

/** A lot that went in, with its amount as typed, or all of it with what that was. */
export const inputOf = (portion: Portion): LotInput => ({
  code: portion.lot,
  volumeTyped: portion.typed || `all of it, ${formatBoth(portion.millilitres)}`,
  millilitres: portion.millilitres,
});
