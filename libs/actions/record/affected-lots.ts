import type { ActionBody } from '#libs/records/kinds/corrective-action.js';
import type { BoilBody } from '#libs/records/kinds/boil.js';
import type { DispatchBody } from '#libs/records/kinds/dispatch.js';
import type { DisposalBody } from '#libs/records/kinds/disposal.js';
import type { HouseBody } from '#libs/records/kinds/house.js';
import type { LabelRunBody } from '#libs/records/kinds/label-run.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import type { Portion } from '#libs/records/portion.js';
import { balancesOf } from '#libs/store/queries/jar-balance.js';
import { findLot, lotsOf, type Lot } from '#libs/store/queries/lots.js';
import { drawnFrom, flowsOutOf, lotsDownstream } from '#libs/store/queries/trace.js';
import { drawnMoreThanThere } from '#libs/syrup/rules/judge-boils.js';
import {
  boilsAffectedByEquipment,
  boilsAffectedByLeadRisk,
  boilsAffectedByPans,
  boilsAffectedByLogLine,
} from '../judging/affected-boils.js';
import type { RecordBeingWritten } from '../judging/record-being-written.js';
import { packsOfSameBoils } from '../facts/spoilage-facts.js';
import { hasFinding, packsAffectedByCheck, packsAffectedByInstrument } from './packs-read-with.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/**
 * Other lots that a record affects once it is in the index: other packs that drew from an overdrawn lot, packs of a
 * season whose thermometer was checked. They are judged in the same write, so that a lot's page is always up to date.
 */
export async function affectedLots(change: RecordBeingWritten): Promise<string[]> {
  switch (change.kind.kind) {
    case 'check':
      return packsAffectedByCheck(change);
    case 'instrument':
      return packsAffectedByInstrument(change);
    case 'house':
      return packsOnHandUnderChangedRules(change);
    case 'pack':
      return lotsAffectedByPack(change);
    case 'boil':
      return lotsAffectedByBoil(change);
    case 'spent':
      return packsAffectedByOverdraw(
        change,
        fromBothVersions<DisposalBody>(change, (body) => [body.lot]),
      );
    case 'gathering':
    case 'receipt':
      return [...(await boilsAndPacksFrom(change)), ...(await packsAffectedByOverdraw(change, correctedLot(change)))];
    case 'line':
      return boilsAffectedByLogLine(change);
    case 'labels':
      // New labels may lack an allergen recorded since, or replace the wrong ones that hold their pack.
      return fromBothVersions<LabelRunBody & { readonly lot: string }>(change, ({ lot }) => [lot]);
    case 'action':
      return lotsAffectedByAction(change);
    case 'dispatch':
      return packsAffectedByDispatch(change);
    case 'lead-test':
      return [
        ...(await boilsAffectedByEquipment(change)),
        ...(await boilsAffectedByLeadRisk(change)),
        ...(await packsPouredFrom(change)),
      ];
    case 'equipment':
      return boilsAffectedByLeadRisk(change);
    case 'cleaning':
    case 'water-test':
      return boilsAffectedByEquipment(change);
    default:
      return [];
  }
}

async function lotsAffectedByPack(change: RecordBeingWritten): Promise<string[]> {
  const sources = drawsSameAmounts(change) ? [] : sourcesOf<PackBody>(change, (body) => body.fromLots);
  return [...(await packsAffectedByOverdraw(change, sources)), ...(await packsPouredFromCorrectedPack(change))];
}

async function lotsAffectedByBoil(change: RecordBeingWritten): Promise<string[]> {
  const sources = [...sourcesOf<BoilBody>(change, (body) => body.gatherings), ...correctedLot(change)];
  return [...(await packsAffectedByOverdraw(change, sources)), ...(await boilsAffectedByPans(change))];
}

/** Packs poured from the lot; and the other packs of its boils, where the action answers which allergens a defoamer has. */
async function lotsAffectedByAction(change: RecordBeingWritten): Promise<string[]> {
  const answers = fromBothVersions<ActionBody>(change, (body) => [body.defoamerAllergens]);
  const isAnswered = answers.some((answer) => answer !== '');
  return [
    ...(await packsPouredFrom(change)),
    ...(isAnswered ? await packsOfSameBoils(change, change.prepared.lot ?? '') : []),
  ];
}

/** Packs poured from the lot, where jars were destroyed or broken: jars with splinters may be among them. */
async function packsAffectedByDispatch(change: RecordBeingWritten): Promise<string[]> {
  const kinds = fromBothVersions<DispatchBody>(change, ({ kind }) => [kind]);
  return kinds.some((kind) => kind === 'destroyed' || kind === 'broken') ? packsPouredFrom(change) : [];
}

/** The lot itself, whose volume may have shrunk; nothing has been drawn from a new one yet. */
const correctedLot = ({ prepared, before }: RecordBeingWritten): string[] => (before ? [prepared.id] : []);

/** A finding that nothing clears (glass, lead) also holds the packs into which the lot was poured. */
async function packsPouredFrom({ sql, sugarhouse, prepared }: RecordBeingWritten): Promise<string[]> {
  if (prepared.lot === undefined) return [];
  const downstream = await lotsDownstream({ sql, sugarhouse }, prepared.lot);
  return downstream.filter(({ kind, code }) => kind === 'pack' && code !== prepared.lot).map(({ code }) => code);
}

/**
 * Mould, glass, an off flavour or another product that is recorded of a pack later also holds the packs into which its
 * syrup was poured. Nothing was poured from a new one yet.
 */
async function packsPouredFromCorrectedPack({
  sql,
  sugarhouse,
  prepared,
  before,
}: RecordBeingWritten): Promise<string[]> {
  if (!before) return [];
  const downstream = await lotsDownstream({ sql, sugarhouse }, prepared.id);
  return downstream.filter(({ kind, code }) => kind === 'pack' && code !== prepared.id).map(({ code }) => code);
}

/**
 * Packs with jars on hand, where the house's place, its hydrometers or a setting of the fill readings changed: the rules by which each
 * may leave are then others. Packs without jars keep the verdict of their time.
 */
async function packsOnHandUnderChangedRules({
  sql,
  sugarhouse,
  prepared,
  before,
  nowUtc,
}: RecordBeingWritten): Promise<string[]> {
  const rulesOf = (body: unknown): string => {
    const { place, checkEvery, gapsHold, leastDensityConfirmed, hydrometerMadeFor } = (body ??
      {}) as Partial<HouseBody>;
    return JSON.stringify([place, checkEvery, gapsHold, leastDensityConfirmed, hydrometerMadeFor]);
  };
  if (rulesOf(prepared.body) === rulesOf(before?.body)) return [];
  const packs = (await lotsOf({ sql, sugarhouse }, 'pack')).filter(({ verdict }) => verdict !== undefined);
  const codes = packs.map(({ code }) => code);
  const balances = await balancesOf({ sql, sugarhouse }, codes, nowUtc);
  return codes.filter((code) => (balances.get(code)?.onHand ?? 0) > 0);
}

/** Corrected sap affects the boils that it went into, and their packs. */
async function boilsAndPacksFrom({ sql, sugarhouse, prepared, before }: RecordBeingWritten): Promise<string[]> {
  if (!before) return [];
  const downstream = await lotsDownstream({ sql, sugarhouse }, prepared.id);
  return downstream.filter((each) => each.kind === 'boil' || each.kind === 'pack').map((each) => each.code);
}

/** From the record's new and former version: moving something from one lot to another affects both. */
const fromBothVersions = <Body>(
  { prepared, before }: RecordBeingWritten,
  of: (body: Body) => readonly string[],
): string[] => [...new Set([...of(prepared.body as Body), ...(before ? of(before.body as Body) : [])])];
const sourcesOf = <Body>(change: RecordBeingWritten, of: (body: Body) => readonly Portion[]): string[] =>
  fromBothVersions<Body>(change, (body) => of(body).map((portion) => portion.lot));

/**
 * Whether a pack draws from the same lots and as much as before, so that no overdraw can be new. A fill reading adds no
 * draw and must not wait for every pack of an overdrawn boil to be judged.
 */
function drawsSameAmounts({ prepared, before, voided = false }: RecordBeingWritten): boolean {
  const drawn = (body: unknown): string =>
    JSON.stringify((body as PackBody).fromLots.map(({ lot, millilitres }) => [lot, millilitres]));
  return !voided && before !== undefined && drawn(prepared.body) === drawn(before.body);
}

/** Lots whose verdict mentions an overdraw, where one exists or existed before this record. */
async function packsAffectedByOverdraw(change: RecordBeingWritten, sources: readonly string[]): Promise<string[]> {
  const { sql, sugarhouse } = change;
  const affected: string[] = [];
  for (const source of sources) {
    const lot = await findLot({ sql, sugarhouse }, source);
    if (lot?.millilitres === undefined) continue;
    const drawnMl = await drawnFrom({ sql, sugarhouse }, source);
    const over = drawnMoreThanThere({ lot: source, thereMl: lot.millilitres, drawnMl, litres: true }).length > 0;
    // An addition can only draw more: no overdraw now means none before.
    if (!over && !change.before) continue;
    const downstream = await lotsMentioning({ sql, sugarhouse }, lot);
    affected.push(
      ...downstream.filter((each) => over || hasFinding(each, 'drawn-more-than-there')).map((each) => each.code),
    );
  }
  return affected;
}

/** A pack's verdict mentions every boil upstream; a pack, receipt or gathering only where drawn from directly. */
async function lotsMentioning(reader: SugarhouseReader, lot: Lot): Promise<Lot[]> {
  const downstream = (await lotsDownstream(reader, lot.code)).filter((each) => each.code !== lot.code);
  if (lot.kind === 'boil') return downstream.filter((each) => each.kind === 'pack');
  const direct = new Set((await flowsOutOf(reader, lot.code)).map((flow) => flow.into));
  return downstream.filter((each) => direct.has(each.code));
}
