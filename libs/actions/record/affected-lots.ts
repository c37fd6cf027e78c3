import type { BoilBody } from '#libs/records/kinds/boil.js';
import type { DisposalBody } from '#libs/records/kinds/disposal.js';
import type { CheckBody } from '#libs/records/kinds/instrument-check.js';
import type { HouseBody } from '#libs/records/kinds/house.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import type { Portion } from '#libs/records/portion.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { balancesOf } from '#libs/store/queries/jar-balance.js';
import { findLot, lotsOf, recordsOf, type Lot } from '#libs/store/queries/lots.js';
import { readWith } from '#libs/store/queries/instrument-readings.js';
import { drawnFrom, flowsOutOf, lotsDownstream } from '#libs/store/queries/trace.js';
import { drawnMoreThanThere } from '#libs/syrup/rules/judge-boils.js';
import type { RuleName } from '#libs/syrup/rules/rules.js';
import { boilsAffectedByEquipment, boilsAffectedByPans, boilsAffectedByLogLine } from '../lots/affected-boils.js';
import type { RecordBeingWritten } from '../lots/record-being-written.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/**
 * Other lots that a record affects once it is in the index: other packs that drew from an overdrawn lot, packs of a
 * season whose thermometer was checked. They are judged in the same write, so that a lot's page is always up to date.
 */
export async function affectedLots(written: RecordBeingWritten): Promise<string[]> {
  switch (written.kind.kind) {
    case 'check':
      return packsChecked(written);
    case 'instrument':
      return packsReadByInstrument(written);
    case 'house':
      return packsOnHandUnderChangedRules(written);
    case 'pack':
      return [
        ...(await packsFromSameSource(
          written,
          drawsAsBefore(written) ? [] : sourcesOf<PackBody>(written, (body) => body.fromLots),
        )),
        ...(await packsPouredFromCorrected(written)),
      ];
    case 'boil':
      return [
        ...(await packsFromSameSource(written, [
          ...sourcesOf<BoilBody>(written, (body) => body.gatherings),
          ...correctedSelf(written),
        ])),
        ...(await boilsAffectedByPans(written)),
      ];
    case 'spent':
      return packsFromSameSource(
        written,
        lotsIn<DisposalBody>(written, (body) => [body.lot]),
      );
    case 'gathering':
    case 'receipt':
      return [...(await boiledFrom(written)), ...(await packsFromSameSource(written, correctedSelf(written)))];
    case 'line':
      return boilsAffectedByLogLine(written);
    case 'action':
      return pouredFrom(written);
    case 'lead-test':
      return [...(await boilsAffectedByEquipment(written)), ...(await pouredFrom(written))];
    case 'cleaning':
    case 'water-test':
      return boilsAffectedByEquipment(written);
    default:
      return [];
  }
}

/** The lot itself, whose volume may have shrunk; nothing has been drawn from a new one yet. */
const correctedSelf = ({ prepared, before }: RecordBeingWritten): string[] => (before ? [prepared.id] : []);

/** A finding that nothing clears (glass, lead) also holds the packs into which the lot was poured. */
async function pouredFrom({ sql, sugarhouse, prepared }: RecordBeingWritten): Promise<string[]> {
  if (prepared.lot === undefined) return [];
  const below = await lotsDownstream({ sql, sugarhouse }, prepared.lot);
  return below.filter(({ kind, code }) => kind === 'pack' && code !== prepared.lot).map(({ code }) => code);
}

/**
 * Mould, glass, an off flavour or another product that is recorded of a pack later also holds the packs into which its
 * syrup was poured. Nothing was poured from a new one yet.
 */
async function packsPouredFromCorrected({ sql, sugarhouse, prepared, before }: RecordBeingWritten): Promise<string[]> {
  if (!before) return [];
  const below = await lotsDownstream({ sql, sugarhouse }, prepared.id);
  return below.filter(({ kind, code }) => kind === 'pack' && code !== prepared.id).map(({ code }) => code);
}

/**
 * Packs with jars on hand, where the house's place or a setting of the fill readings changed: the rules by which each
 * may leave are then others. Packs without jars keep the verdict of their time.
 */
async function packsOnHandUnderChangedRules({
  sql,
  sugarhouse,
  prepared,
  before,
}: RecordBeingWritten): Promise<string[]> {
  const rulesOf = (body: unknown): string => {
    const { place, checkEvery, gapsHold, leastDensityConfirmed } = (body ?? {}) as Partial<HouseBody>;
    return JSON.stringify([place, checkEvery, gapsHold, leastDensityConfirmed]);
  };
  if (rulesOf(prepared.body) === rulesOf(before?.body)) return [];
  const packs = (await lotsOf({ sql, sugarhouse }, 'pack')).filter(({ verdict }) => verdict !== undefined);
  const codes = packs.map(({ code }) => code);
  const balances = await balancesOf({ sql, sugarhouse }, codes, utcOf(prepared.happenedAt));
  return codes.filter((code) => (balances.get(code)?.onHand ?? 0) > 0);
}

/** Corrected sap affects the boils that it went into, and their packs. */
async function boiledFrom({ sql, sugarhouse, prepared, before }: RecordBeingWritten): Promise<string[]> {
  if (!before) return [];
  const below = await lotsDownstream({ sql, sugarhouse }, prepared.id);
  return below.filter((each) => each.kind === 'boil' || each.kind === 'pack').map((each) => each.code);
}

/** From the record's new and former version: moving something from one lot to another affects both. */
const lotsIn = <Body>({ prepared, before }: RecordBeingWritten, of: (body: Body) => readonly string[]): string[] => [
  ...new Set([...of(prepared.body as Body), ...(before ? of(before.body as Body) : [])]),
];
const sourcesOf = <Body>(written: RecordBeingWritten, of: (body: Body) => readonly Portion[]): string[] =>
  lotsIn<Body>(written, (body) => of(body).map((portion) => portion.lot));

/**
 * Whether a pack draws from the same lots and as much as before, so that no overdraw can be new. A fill reading adds no
 * draw and must not wait for every pack of an overdrawn boil to be judged.
 */
function drawsAsBefore({ prepared, before, voided = false }: RecordBeingWritten): boolean {
  const drawn = (body: unknown): string =>
    JSON.stringify((body as PackBody).fromLots.map(({ lot, millilitres }) => [lot, millilitres]));
  return !voided && before !== undefined && drawn(prepared.body) === drawn(before.body);
}

/** Lots whose verdict mentions an overdraw, where one exists or existed before this record. */
async function packsFromSameSource(written: RecordBeingWritten, sources: readonly string[]): Promise<string[]> {
  const { sql, sugarhouse } = written;
  const touched: string[] = [];
  for (const source of sources) {
    const lot = await findLot({ sql, sugarhouse }, source);
    if (lot?.millilitres === undefined) continue;
    const drawnMl = await drawnFrom({ sql, sugarhouse }, source);
    const over = drawnMoreThanThere({ lot: source, thereMl: lot.millilitres, drawnMl, litres: true }).length > 0;
    // An addition can only draw more: no overdraw now means none before.
    if (!over && !written.before) continue;
    const below = await lotsMentioning({ sql, sugarhouse }, lot);
    touched.push(...below.filter((each) => over || hasFinding(each, 'drawn-more-than-there')).map((each) => each.code));
  }
  return touched;
}

/** A pack's verdict mentions every boil upstream; a pack, receipt or gathering only where drawn from directly. */
async function lotsMentioning(reader: SugarhouseReader, lot: Lot): Promise<Lot[]> {
  const below = (await lotsDownstream(reader, lot.code)).filter((each) => each.code !== lot.code);
  if (lot.kind === 'boil') return below.filter((each) => each.kind === 'pack');
  const direct = new Set((await flowsOutOf(reader, lot.code)).map((flow) => flow.into));
  return below.filter((each) => direct.has(each.code));
}

/**
 * The packs that a check may affect: those with readings by its instrument, and those of the year with a reading that
 * names no thermometer or an unchecked one.
 */
const packsChecked = (written: RecordBeingWritten): Promise<string[]> =>
  packsReadBy(
    written,
    lotsIn<CheckBody>(written, (body) => [body.instrument]),
    lotsIn<CheckBody>(written, (body) => [body.at.slice(0, 4)]),
  );

/** An instrument that is corrected from a hydrometer to a thermometer, or the other way, moves its checks with it. */
async function packsReadByInstrument(written: RecordBeingWritten): Promise<string[]> {
  const { sql, sugarhouse, prepared, before } = written;
  if (!before) return [];
  const checks = (await recordsOf({ sql, sugarhouse }, 'check')).filter(({ body }) => body.instrument === prepared.id);
  return packsReadBy(written, [prepared.id], [...new Set(checks.map(({ body }) => body.at.slice(0, 4)))]);
}

async function packsReadBy(
  { sql, sugarhouse }: RecordBeingWritten,
  named: readonly string[],
  years: readonly string[],
): Promise<string[]> {
  const touched: string[] = [];
  for (const year of years) {
    const unnamed = await packsReadByUnnamed({ sql, sugarhouse }, Number(year));
    for (const pack of await lotsOf({ sql, sugarhouse }, 'pack', Number(year)))
      if (pack.verdict && (unnamed.has(pack.code) || hasFinding(pack, 'thermometer-not-checked')))
        touched.push(pack.code);
  }
  for (const instrument of named)
    for (const { lot } of await readWith({ sql, sugarhouse }, instrument))
      if ((await findLot({ sql, sugarhouse }, lot))?.kind === 'pack') touched.push(lot);
  return touched;
}

async function packsReadByUnnamed(reader: SugarhouseReader, year: number): Promise<Set<string>> {
  const packs = await recordsOf(reader, 'pack', year);
  const actions = await recordsOf(reader, 'action', year);
  const isUnnamed = ({ fillTemps }: Pick<PackBody, 'fillTemps'>): boolean =>
    fillTemps.some((fill) => fill.thermometer === undefined);
  return new Set([
    ...packs.filter(({ body }) => isUnnamed(body)).map(({ id }) => id),
    ...actions.filter(({ body }) => isUnnamed(body)).map(({ body }) => body.lot),
  ]);
}

const hasFinding = (lot: Lot, rule: RuleName): boolean =>
  lot.verdict?.findings.some((finding) => finding.rule === rule) ?? false;
