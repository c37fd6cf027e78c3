import type { BoilBody } from '#libs/records/kinds/boil.js';
import type { DispatchBody } from '#libs/records/kinds/dispatch.js';
import type { GatheringBody } from '#libs/records/kinds/gathering.js';
import type { ReceiptBody } from '#libs/records/kinds/receipt.js';
import type { Portion } from '#libs/records/portion.js';
import {
  flowsIntoEach,
  historyOfEach,
  lotsNamed,
  recordsAboutEach,
  recordsNamed,
} from '#libs/store/connection/batch-queries.js';
import { recordsOf } from '#libs/store/queries/lots.js';
import { dispatchesOfOtherPacks, leftOfYear } from '#libs/store/queries/of-year.js';
import { movementsStopped } from '#libs/store/queries/trace.js';
import type { LotDeviations } from './read-deviations.js';
import type { SeasonCache } from './season-parts.js';
import { findingOf } from './read-findings.js';
import { historyLines, lateEntries } from '../lots/read-history.js';
import { boilReadings, drawReadings, gatheringReadings, panReadings } from '../facts/read-readings.js';
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

/** The same from records that were already read. */
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

/** The same from records that were already read. */
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

/** The boils begun in a year, in the order given; one in progress has no draws yet. */
export const readBoils = async (
  reader: SugarhouseReader,
  boils: readonly string[],
  deviations: ReadonlyMap<string, LotDeviations>,
  { withoutLog = false, known = new Map<string, SeasonBoil>() } = {},
): Promise<SeasonBoil[]> => {
  const unread = boils.filter((code) => !known.has(code));
  const record = await recordsNamed(reader, ['boil'], unread);
  const records = unread.flatMap((code) => record('boil', code) ?? []);
  for (const boil of await boilsFrom(reader, records, deviations, withoutLog)) known.set(boil.lot, boil);
  return boils.flatMap((code) => known.get(code) ?? []);
};

/** Boils for the season's documents from their records, with readings and histories. */
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

/** Dispatches of the season's packs, whenever sent, and those of the year from other packs. */
export async function readDispatches(
  reader: SugarhouseReader,
  year: number,
  packs: readonly string[],
  { asOf, known }: { readonly asOf: string; readonly known: SeasonCache['dispatches'] },
): Promise<Dispatch[]> {
  const byId = new Map<string, Dispatch>();
  const stopped = await stoppedPlans(reader);
  const take = (saved: Parameters<typeof dispatchOf>[0]): void =>
    void byId.set(saved.id, dispatchOf(saved, asOf, stopped));
  for (const row of await dispatchesOfOtherPacks(reader, year)) take(row);
  const unread = packs.filter((code) => !known.has(code));
  for (const [code, rows] of await recordsAboutEach(reader, unread, 'dispatch')) known.set(code, rows);
  for (const code of packs) for (const row of known.get(code) ?? []) take(row);
  return [...byId.values()].sort((a, b) => Date.parse(a.sentAt) - Date.parse(b.sentAt) || (a.id < b.id ? -1 : 1));
}

/** The ids of plans that a hold or recall stopped: still plans, even when their time has passed. */
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
    volumeTyped: amountTaken(body),
    millilitres: body.millilitres,
    at: body.at,
    why: body.why || null,
    by: body.by || null,
  }));
}

/** Boils with syrup that is not packed yet, at most a thousand. */
export async function readSyrupLeft(reader: SugarhouseReader, year: number): Promise<Season['syrupLeft']> {
  const boils = await leftOfYear(reader, 'boil', year);
  return [...boils]
    .map(([lot, millilitres]) => ({ lot, millilitres }))
    .sort((one, other) => (one.lot < other.lot ? -1 : 1));
}

/** Syrup of earlier years that went into this year's lots: it is in the jars, but not in the year's boils. */
export async function readCarriedIn(
  reader: SugarhouseReader,
  year: number,
  lots: readonly string[],
  known: SeasonCache['carriedIn'] = new Map(),
): Promise<CarriedIn[]> {
  const flows = await flowsIntoEach(
    reader,
    lots.filter((code) => !known.has(code)),
  );
  const sources = new Set([...flows.values()].flat().map((flow) => flow.from));
  const found = await lotsNamed(reader, [...sources]);
  for (const [into, those] of flows)
    known.set(
      into,
      those.flatMap((flow) => {
        const from = found.get(flow.from);
        if (!from || from.year >= year || from.kind === 'gathering') return [];
        const { millilitres } = flow;
        return [{ code: from.code, into, volumeTyped: flow.typed || formatBoth(millilitres), millilitres }];
      }),
    );
  return lots.flatMap((code) => known.get(code) ?? []);
}

/** A lot that went in, with its amount as typed, or all of it and how much that was. */
export const inputOf = (portion: Portion): LotInput => ({
  code: portion.lot,
  volumeTyped: amountTaken(portion),
  millilitres: portion.millilitres,
});

const amountTaken = ({ typed, millilitres }: Pick<Portion, 'typed' | 'millilitres'>): string =>
  typed || (millilitres > 0 ? `all of it, ${formatBoth(millilitres)}` : 'all of it, amount not recorded');
