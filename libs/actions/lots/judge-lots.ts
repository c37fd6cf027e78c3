import type { PackBody } from '#libs/records/kinds/pack.js';
import type { Judged } from '#libs/records/entry.js';
import { canonicalJson } from '#libs/store/log/canonical.js';
import { lotsNamed } from '#libs/store/connection/batch-queries.js';
import { heldByHand } from '#libs/store/log/lot-entries.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { findLot, findRecord, type Lot } from '#libs/store/queries/lots.js';
import { drawnFrom, flowsInto, lotsUpstream, ofKind } from '#libs/store/queries/trace.js';
import { afterDestroying } from '#libs/syrup/jars/jars-on-sale.js';
import { heldUpstream } from '#libs/syrup/rules/entry-findings.js';
import { drawnMoreThanThere } from '#libs/syrup/rules/judge-boils.js';
import type { BoilFacts } from '#libs/syrup/rules/judge-boils.js';
import { hydrometerTemperature } from '#libs/syrup/instruments/hydrometer-temperature.js';
import { subtractSpans } from '#libs/syrup/jars/jar-spans.js';
import { judgePack } from '#libs/syrup/rules/judge-pack.js';
import { type RuleName, ruleTitle } from '#libs/syrup/rules/rules.js';
import type { Finding, Verdict } from '#libs/syrup/rules/verdict.js';
import { loadAllergensByActions } from './allergens-by-actions.js';
import { loadAllergensSince } from './allergens-since.js';
import { boughtSyrupFacts, loadDefoamerFacts } from './defoamer-facts.js';
import { loadSuspectDensities } from './suspect-density.js';
import { loadFillFacts } from './fill-facts.js';
import { heldSyrupFindings } from './held-syrup-findings.js';
import { loadLabelFindings } from './label-findings.js';
import { boilRulesVersion } from './judge-boil-lot.js';
import { glassFacts, glassUpstreamFindings } from './glass-upstream.js';
import { failedSeals } from './failed-seals.js';
import { packAfterActions } from './pack-after-actions.js';
import { type PanResidue, loadPanResidueLookup } from './pan-residue.js';
import { upstreamEquipmentFindings } from './equipment-facts.js';
import { lotsInOrder } from './read-lots-ahead.js';
import { recordsForJudging } from './records-for-judging.js';
import { memberHolds } from './member-holds.js';
import { loadPouredProducts } from './poured-products.js';
import { thinReturnFindings } from './returned-density.js';
import { countSentOut, loadDispatchFindings } from './dispatch-findings.js';
import { boilTimes } from './boil-times.js';
import { thinPacksPoured } from './thin-poured.js';
import { loadSpoilageFacts } from './spoilage-facts.js';
import type { JudgingContext } from './judging-context.js';
import { judgeBoilLotState, withState } from './lot-state.js';

/** Lots judged together: a pack is judged by what this write makes of the lots that it came from, not by the index. */
interface Batch {
  readonly packs: ReadonlyMap<string, Lot>;
  readonly judged: Map<string, Judged>;
}

/**
 * Judges the lots as they are now in the index, in the order requested; boils are judged first and packs before those
 * poured from them, for a held lot holds what was made of it. Boils upstream that older rules judged follow. Lots
 * without a verdict (sap) are skipped.
 */
export async function judgeLots(judging: JudgingContext, codes: readonly string[]): Promise<Judged[]> {
  const judged = new Map<string, Judged>();
  const packs = new Map<string, Lot>();
  const requested = new Set(codes);
  for await (const code of lotsInOrder(judging, [...requested])) {
    const lot = await findLot(judging, code);
    if (lot?.kind === 'pack') packs.set(code, lot);
    else if (lot?.kind === 'boil') judged.set(code, await judgeBoilLotState(judging, lot));
  }
  for await (const code of lotsInOrder(judging, [...packs.keys()]))
    await judgePackOnce(judging, packs.get(code)!, { packs, judged });
  return [
    ...[...requested].flatMap((code) => judged.get(code) ?? []),
    ...[...judged.values()].filter(({ lot }) => !requested.has(lot)),
  ];
}

/**
 * Judges the lots of a record, and with them others that it may affect; of these, unchanged ones are left out, so that
 * the entry stays short.
 */
export async function judgeWithAffected(
  judging: JudgingContext,
  own: readonly string[],
  affected: readonly string[],
): Promise<Judged[]> {
  const ofRecord = new Set(own);
  const all = await judgeLots(judging, [...own, ...affected]);
  const before = await lotsNamed(
    judging,
    all.flatMap(({ lot }) => (ofRecord.has(lot) ? [] : lot)),
  );
  return all.filter((judged) => ofRecord.has(judged.lot) || isChanged(before.get(judged.lot), judged));
}

function isChanged(lot: Lot | undefined, judged: Judged): boolean {
  const before = canonicalJson({ state: lot?.state, heldSince: lot?.heldSince, verdict: lot?.verdict });
  const after = canonicalJson({ state: judged.state, heldSince: judged.heldSince, verdict: judged.verdict });
  return before !== after;
}

async function judgePackOnce(judging: JudgingContext, lot: Lot, batch: Batch): Promise<void> {
  if (!batch.judged.has(lot.code)) batch.judged.set(lot.code, await judgePackLot(judging, lot, batch));
}

/** The lots above a pack, with the status that this write gives them. */
async function loadUpstream(judging: JudgingContext, code: string, batch: Batch): Promise<Lot[]> {
  const { sql, sugarhouse } = judging;
  const upstream = (await lotsUpstream({ sql, sugarhouse }, code)).filter((each) => each.code !== code);
  for (const { code: above } of ofKind(upstream, 'pack')) {
    const pack = batch.packs.get(above);
    if (pack) await judgePackOnce(judging, pack, batch);
  }
  return upstream.map((lot) => {
    const judged = batch.judged.get(lot.code);
    return judged ? { ...lot, state: judged.state, verdict: judged.verdict ?? lot.verdict } : lot;
  });
}

async function judgePackLot(judging: JudgingContext, lot: Lot, batch: Batch): Promise<Judged> {
  const { sql, sugarhouse, houseContext } = judging;
  const record = await findRecord({ sql, sugarhouse }, 'pack', lot.code);
  if (!record) throw new Error(`Pack ${lot.code} is in the index without its record`);
  const written = (await recordsForJudging({ sql, sugarhouse }, lot.code))('action').map((each) => each.body);
  const pack = packAfterActions(record.body, written);
  const upstream = await loadUpstream(judging, lot.code, batch);
  const fill = await loadFillFacts(judging, lot, pack);
  const suspect = await loadSuspectDensities({ sql, sugarhouse }, fill.thermometers);
  const hydrometersMadeFor = hydrometerTemperature(houseContext.house?.hydrometerMadeFor);
  const density = pack.densityReading && {
    reading: pack.densityReading,
    sampleAt: pack.densityAt,
    by: pack.densityBy,
    calibratedAt: pack.densityCalibratedAt,
    hydrometersMadeFor,
  };
  const verdict = judgePack({
    place: houseContext.place,
    container: pack.container,
    ...fill,
    hotPackTemp: pack.hotPackTemp,
    packedMs: Date.parse(record.body.packedAt),
    parts: pack.parts.map((part) =>
      part.density
        ? { ...part, density: { ...part.density, hydrometersMadeFor, ...suspect(part.density, part.density) } }
        : part,
    ),
    ...(await glassFacts(judging, pack, lot)),
    density: density && { ...density, ...suspect(density, pack.densityReadWith) },
    densityBeforeLastBoilUp: pack.densityIsStale,
    sealsFailed: pack.sealsFailed ?? null,
    sealsOutcome: pack.sealsOutcome,
    sentOut: pack.sealsFailed ? await countSentOut(judging, lot.code) : 0,
    sealsAfterMs: pack.sealsAt === undefined ? undefined : Date.parse(pack.sealsAt) - Date.parse(pack.wholeFilledAt),
    containerPrep: pack.containerPrep || (pack.benchReady?.includes('jars-hot') ? 'jars hot' : ''),
    transmittance: pack.transmittance,
    colourClass: pack.colourClass,
    clarity: pack.clarity,
    offFlavour: pack.offFlavour,
    drawnMl: (await flowsInto({ sql, sugarhouse }, lot.code)).reduce((sum, flow) => sum + flow.millilitres, 0),
    boils: await loadBoilFacts(judging, lot.code, ofKind(upstream, 'boil'), pack.defoamerAllergens),
    bought: await boughtSyrupFacts(judging, pack, upstream),
    product: pack.product,
    note: pack.note,
    thinPoured: await thinPacksPoured(judging, pack, upstream),
    pouredFrom: await loadPouredProducts(judging, ofKind(upstream, 'pack')),
    spoilage: await loadSpoilageFacts(judging, lot, upstream, utcOf(houseContext.parseOptions.now)),
  });
  const holds = [
    ...(await upstreamHolds(judging, upstream, batch.judged)),
    ...(await memberHolds(judging, upstream)),
    ...(await upstreamEquipmentFindings(judging, lot, ofKind(upstream, 'boil'), houseContext.place)),
    ...(await glassUpstreamFindings(judging, lot, upstream)),
    ...heldSyrupFindings(pack, upstream),
    ...(await thinReturnFindings(judging, lot.code)),
  ];
  const allergensSince = await loadAllergensSince(judging, lot, upstream, verdict.allergens);
  const judged: Verdict = verdict.allergens.length === 0 ? verdict : { ...verdict, allergensSince };
  const labels = await loadLabelFindings(judging, { lot, pack, verdict: judged, gone: verdict.gone ?? [] });
  const held = [...labels.sent, ...afterDestroying([...holds, ...labels.onHand], fill)];
  const stops = [...held, ...verdict.findings].filter(({ stop }) => stop);
  const found = [
    ...held,
    ...verdict.findings,
    ...(await overdrawnSources(judging, pack)),
    ...(await loadDispatchFindings(judging, lot, pack.jars, stops)),
  ];
  const unsealed = subtractSpans(failedSeals(record.body, written).named, verdict.gone ?? []);
  return withState(judging, lot, { ...judged, ...(unsealed.length > 0 ? { unsealed } : {}), findings: found });
}

/**
 * Holds and recalls upstream, with boils as judged in the same write; one that older rules judged is judged with them.
 * Packing again clears a pack held by its own rules and poured back, except for what stays in the syrup; nothing later
 * clears what a boil's record shows.
 */
async function upstreamHolds(
  judging: JudgingContext,
  upstream: readonly Lot[],
  judged: Map<string, Judged>,
): Promise<Finding[]> {
  const { sql, sugarhouse } = judging;
  const findings: Finding[] = [];
  for (const lot of upstream) {
    if (
      lot.kind === 'boil' &&
      !judged.has(lot.code) &&
      lot.verdict?.rules !== boilRulesVersion(judging.houseContext.place)
    )
      judged.set(lot.code, await judgeBoilLotState(judging, lot));
    const { state, verdict } = judged.get(lot.code) ?? lot;
    if (state === 'recalled') findings.push(heldUpstream({ upstream: lot.code, status: 'recalled' }));
    if (state !== 'held') continue;
    const why = lot.kind === 'boil' ? boilHoldText(verdict) : persistentCause(verdict);
    const byHand = await heldByHand({ sql, sugarhouse }, lot.code);
    if (byHand || why !== undefined) findings.push(heldUpstream({ upstream: lot.code, status: 'held', why }));
  }
  return findings;
}

/**
 * What packing again doesn't clear: lead stays in the syrup. Splinters, mould and illness are judged for each pack
 * separately.
 */
function persistentCause(verdict: Verdict | undefined): string | undefined {
  const inSyrup: RuleName = 'lead-over-limit';
  return verdict?.findings.some(({ stop, rule }) => stop && rule === inSyrup) ? `“${ruleTitle(inSyrup)}”` : undefined;
}

/** Why a boil holds its packs. Equipment and lead are judged for each pack separately (`upstreamEquipmentFindings`). */
function boilHoldText(verdict: Verdict | undefined): string | undefined {
  const rules: readonly RuleName[] = ['sap-question', 'more-sugar-than-came-in'];
  const rule = rules.find((each) => verdict?.findings.some((finding) => finding.stop && finding.rule === each));
  if (rule) return `“${ruleTitle(rule)}”`;
  return verdict?.awaitsRelease === undefined ? undefined : 'it waits to be released';
}

/** One after the other: a write has one connection, which runs one statement at a time. */
async function loadBoilFacts(
  judging: JudgingContext,
  pack: string,
  boils: readonly Lot[],
  allergensAnsweredLater: string,
): Promise<BoilFacts[]> {
  const panResidueOf = await loadPanResidueLookup(judging, boils);
  const byActions = await loadAllergensByActions(judging, pack, boils);
  const facts: BoilFacts[] = [];
  for (const boil of boils)
    facts.push({
      ...(await loadFactsOfBoil(judging, boil, allergensAnsweredLater, panResidueOf)),
      allergensByActions: byActions.get(boil.code),
    });
  return facts;
}

async function loadFactsOfBoil(
  { sql, sugarhouse }: JudgingContext,
  boil: Lot,
  allergensAnsweredLater: string,
  panResidueOf: (boil: Lot) => PanResidue,
): Promise<BoilFacts> {
  const body = (await findRecord({ sql, sugarhouse }, 'boil', boil.code))?.body;
  const drawOffs = (await recordsForJudging({ sql, sugarhouse }, boil.code))('draw');
  const filters = [
    ...(body?.filterTemp || body?.filterMedium ? [{ temperature: body.filterTemp, medium: body.filterMedium }] : []),
    ...drawOffs.map((each) => ({ temperature: each.body.filterTemp, medium: each.body.filterMedium })),
  ];
  return {
    lot: boil.code,
    defoamer: body?.defoamer ?? '',
    defoamerAllergens: body?.defoamerAllergens ?? '',
    allergensLater: allergensAnsweredLater,
    ...(await loadDefoamerFacts({ sql, sugarhouse }, boil, body, panResidueOf)),
    filters,
    ...(body
      ? boilTimes(
          boil.code,
          body,
          drawOffs.map((each) => each.body.drawnAt),
        )
      : {}),
    restedFromMs: body?.restedFrom === undefined ? undefined : Date.parse(body.restedFrom),
    syrupMl: boil.millilitres,
    drawnInAllMl: await drawnFrom({ sql, sugarhouse }, boil.code),
  };
}

/** Syrup drawn from a pack or receipt beyond what it held; for boils the pack's own rules report it. */
async function overdrawnSources({ sql, sugarhouse, houseContext }: JudgingContext, pack: PackBody): Promise<Finding[]> {
  const findings: Finding[] = [];
  for (const portion of pack.fromLots) {
    const from = await findLot({ sql, sugarhouse }, portion.lot);
    if (!from || from.kind === 'boil' || from.millilitres === undefined) continue;
    const drawnMl = await drawnFrom({ sql, sugarhouse }, from.code);
    findings.push(
      ...drawnMoreThanThere({ lot: from.code, thereMl: from.millilitres, drawnMl, litres: houseContext.place.canada }),
    );
  }
  return findings;
}
