import type { PackBody } from '#libs/records/kinds/pack.js';
import type { Judged, LotState } from '#libs/records/entry.js';
import { canonicalJson } from '#libs/store/log/canonical.js';
import { acceptedFindings, heldByHand, lastLotEntries } from '#libs/store/log/lot-entries.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { findLot, findRecord, type Lot } from '#libs/store/queries/lots.js';
import { drawnFrom, flowsInto, lotsUpstream, ofKind } from '#libs/store/queries/trace.js';
import { heldJarsOf, withAccepted } from '#libs/syrup/rules/accept-findings.js';
import { usualInterval } from '#libs/syrup/quantities/check-interval.js';
import { afterDestroying } from '#libs/syrup/jars/jars-on-sale.js';
import { wholePack } from '#libs/syrup/jars/fill-holds.js';
import { heldUpstream } from '#libs/syrup/rules/entry-findings.js';
import { drawnMoreThanThere } from '#libs/syrup/rules/judge-boils.js';
import type { BoilFacts } from '#libs/syrup/rules/judge-boils.js';
import { judgePack } from '#libs/syrup/rules/judge-pack.js';
import { clearsOf, findingOf, type RuleName, titleOf } from '#libs/syrup/rules/rules.js';
import type { Finding, Verdict } from '#libs/syrup/rules/verdict.js';
import { boughtSyrupFacts, loadDefoamerFacts } from './defoamer-facts.js';
import { loadSuspectDensities } from './suspect-density.js';
import { destroyedByDispatch } from './destroyed-jars.js';
import { boilRulesVersion, judgeBoilLot } from './judge-boil-lot.js';
import { packAfterActions } from './pack-after-actions.js';
import { type PanResidue, loadPanResidueLookup } from './pan-residue.js';
import { upstreamEquipmentFindings } from './equipment-facts.js';
import { recordsForJudging } from './records-for-judging.js';
import { memberHolds } from './member-holds.js';
import { loadPouredProducts } from './poured-products.js';
import { thinReturnFindings } from './returned-density.js';
import { loadDispatchFindings } from './dispatch-findings.js';
import { loadSpoilageFacts } from './spoilage-facts.js';
import { removedHoldsText } from './removed-holds.js';
import type { JudgingContext } from './judging-context.js';
import { loadInstruments } from './thermometers.js';

/**
 * Judges the lots as they are now in the index, in the order requested; boils are judged first, for a held boil holds
 * its packs. Boils upstream that older rules judged follow. Lots without a verdict (sap) are skipped.
 */
export async function judgeLots(judging: JudgingContext, codes: readonly string[]): Promise<Judged[]> {
  const boils = new Map<string, Judged>();
  const packs: Lot[] = [];
  for (const code of new Set(codes)) {
    const lot = await findLot(judging, code);
    if (lot?.kind === 'pack') packs.push(lot);
    else if (lot?.kind === 'boil') boils.set(code, await judgeBoilLotState(judging, lot));
  }
  const judged = new Map<string, Judged>();
  for (const lot of packs) judged.set(lot.code, await judgePackLot(judging, lot, boils));
  for (const [code, boil] of boils) judged.set(code, boil);
  const requested = [...new Set(codes)].flatMap((code) => judged.get(code) ?? []);
  return [...requested, ...[...judged.values()].filter((each) => !requested.includes(each))];
}

/** Judges the lots that a record may affect; unchanged ones are left out, so that the entry stays short. */
export async function changedLots(judging: JudgingContext, codes: readonly string[]): Promise<Judged[]> {
  const changed: Judged[] = [];
  for (const judged of await judgeLots(judging, codes)) {
    const lot = await findLot(judging, judged.lot);
    const before = canonicalJson({ state: lot?.state, heldSince: lot?.heldSince, verdict: lot?.verdict });
    const after = canonicalJson({ state: judged.state, heldSince: judged.heldSince, verdict: judged.verdict });
    if (before !== after) changed.push(judged);
  }
  return changed;
}

async function judgePackLot(judging: JudgingContext, lot: Lot, boils: Map<string, Judged>): Promise<Judged> {
  const { sql, sugarhouse, houseContext } = judging;
  const record = await findRecord({ sql, sugarhouse }, 'pack', lot.code);
  if (!record) throw new Error(`Pack ${lot.code} is in the index without its record`);
  const written = (await recordsForJudging({ sql, sugarhouse }, lot.code))('action').map((each) => each.body);
  const pack = packAfterActions(record.body, written);
  const upstream = (await lotsUpstream({ sql, sugarhouse }, lot.code)).filter((each) => each.code !== lot.code);
  const { thermometers, named } = await loadInstruments({ sql, sugarhouse }, lot.year);
  const acted = [...pack.actions, ...(await destroyedByDispatch(judging, lot.code, pack.jars))];
  const actions = acted.map((each) => ({ ...each, fills: named(each.fills) }));
  const suspect = await loadSuspectDensities({ sql, sugarhouse }, thermometers);
  const density = pack.densityReading && {
    reading: pack.densityReading,
    sampleAt: pack.densityAt,
    by: pack.densityBy ?? 'hydrometer',
    calibratedAt: pack.densityCalibratedAt,
  };
  const verdict = judgePack({
    place: houseContext.place,
    container: pack.container,
    jars: pack.jars ?? null,
    hotPackTemp: pack.hotPackTemp,
    fills: named(pack.fillsAtFirst),
    actions,
    parts: pack.parts.map((part) =>
      part.density ? { ...part, density: { ...part.density, ...suspect(part.density, part.density) } } : part,
    ),
    interval: houseContext.house?.checkEvery ?? usualInterval,
    gapsHold: houseContext.house?.gapsHold === 'yes',
    brokenGlass: pack.brokenGlass?.all ? wholePack(pack.jars ?? null) : pack.brokenGlass?.spans,
    density: density && { ...density, ...suspect(density, pack.densityReadWith) },
    densityBeforeLastBoilUp: pack.densityIsStale,
    sealsFailed: pack.sealsFailed ?? null,
    sealsOutcome: pack.sealsOutcome,
    sealsAfterMs: pack.sealsAt === undefined ? undefined : Date.parse(pack.sealsAt) - Date.parse(pack.wholeFilledAt),
    containerPrep: pack.containerPrep || (pack.benchReady?.includes('jars-hot') ? 'jars hot' : ''),
    transmittance: pack.transmittance,
    colourClass: pack.colourClass,
    clarity: pack.clarity,
    offFlavour: pack.offFlavour,
    drawnMl: (await flowsInto({ sql, sugarhouse }, lot.code)).reduce((sum, flow) => sum + flow.millilitres, 0),
    boils: await loadBoilFacts(judging, ofKind(upstream, 'boil'), pack.defoamerAllergens),
    bought: await boughtSyrupFacts(judging, pack, upstream),
    product: pack.product,
    note: pack.note,
    pouredFrom: await loadPouredProducts(judging, ofKind(upstream, 'pack')),
    thermometers,
    spoilage: await loadSpoilageFacts(judging, lot, upstream, utcOf(houseContext.parseOptions.now)),
  });
  const holds = [
    ...(await upstreamHolds(judging, upstream, boils)),
    ...(await memberHolds(judging, upstream)),
    ...(await upstreamEquipmentFindings(judging, lot, ofKind(upstream, 'boil'), houseContext.place)),
    ...heldSyrupFindings(pack, upstream),
    ...(await thinReturnFindings(judging, lot.code)),
  ];
  const held = afterDestroying(holds, { jars: pack.jars ?? null, actions });
  const stops = [...held, ...verdict.findings].some(({ stop }) => stop);
  const found = [
    ...held,
    ...verdict.findings,
    ...(await overdrawnSources(judging, pack)),
    ...(await loadDispatchFindings(judging, lot, pack.jars, stops)),
  ];
  return withState(judging, lot, { ...verdict, findings: found });
}

/**
 * Holds and recalls upstream, with boils as judged in the same write; one that older rules judged is judged with them.
 * Packing again clears a pack held by its own rules and poured back, except for what stays in the syrup; nothing later
 * clears what a boil's record shows.
 */
async function upstreamHolds(
  judging: JudgingContext,
  upstream: readonly Lot[],
  boils: Map<string, Judged>,
): Promise<Finding[]> {
  const { sql, sugarhouse } = judging;
  const findings: Finding[] = [];
  for (const lot of upstream) {
    if (
      lot.kind === 'boil' &&
      !boils.has(lot.code) &&
      lot.verdict?.rules !== boilRulesVersion(judging.houseContext.place)
    )
      boils.set(lot.code, await judgeBoilLotState(judging, lot));
    const { state, verdict } = boils.get(lot.code) ?? lot;
    if (state === 'recalled') findings.push(heldUpstream({ upstream: lot.code, status: 'recalled' }));
    if (state !== 'held') continue;
    const why = lot.kind === 'boil' ? boilHoldText(verdict) : persistentCause(verdict);
    const byHand = await heldByHand({ sql, sugarhouse }, lot.code);
    if (byHand || why !== undefined) findings.push(heldUpstream({ upstream: lot.code, status: 'held', why }));
  }
  return findings;
}

/**
 * What packing again doesn't clear: splinters and lead stay in the syrup. Mould and illness are judged for each pack
 * separately.
 */
function persistentCause(verdict: Verdict | undefined): string | undefined {
  const inSyrup: readonly string[] = ['broken-glass', 'lead-over-limit'] satisfies RuleName[];
  const cause = verdict?.findings.find(({ stop, rule }) => stop && inSyrup.includes(rule));
  return cause && `“${titleOf(cause.rule)}”`;
}

/** Why a boil holds its packs. Equipment and lead are judged for each pack separately (`upstreamEquipmentFindings`). */
function boilHoldText(verdict: Verdict | undefined): string | undefined {
  const rule: RuleName = 'more-sugar-than-came-in';
  if (verdict?.findings.some((finding) => finding.stop && finding.rule === rule)) return `“${titleOf(rule)}”`;
  return verdict?.awaitsRelease === undefined ? undefined : 'it waits to be released';
}

/** One after the other: a write has one connection, which runs one statement at a time. */
async function loadBoilFacts(
  judging: JudgingContext,
  boils: readonly Lot[],
  allergensAnsweredLater: string,
): Promise<BoilFacts[]> {
  const panResidueOf = await loadPanResidueLookup(judging, boils);
  const facts: BoilFacts[] = [];
  for (const boil of boils) facts.push(await loadFactsOfBoil(judging, boil, allergensAnsweredLater, panResidueOf));
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
    restedFromMs: body?.restedFrom === undefined ? undefined : Date.parse(body.restedFrom),
    restedUntilMs: body?.restedUntil === undefined ? undefined : Date.parse(body.restedUntil),
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

/** A finding for a pack of held syrup, until it is recorded whether the syrup was heated again. */
function heldSyrupFindings(pack: PackBody, upstream: readonly Lot[]): Finding[] {
  if (pack.hotPackTemp) return [];
  const poured = new Set(pack.fromLots.map(({ lot }) => lot));
  return upstream
    .filter(({ code, kind, state }) => kind === 'pack' && state === 'held' && poured.has(code))
    .map(({ code, verdict }) => {
      const rule = verdict?.findings.find(({ stop }) => stop)?.rule;
      return findingOf('poured-from-held', {
        limit: 'the temperature in the kettle, where held syrup was heated again',
        found: `poured from ${code}, which is held${rule ? `: “${titleOf(rule)}”` : ' by hand'}; whether it was heated again is not recorded`,
      });
    });
}

const judgeBoilLotState = async (judging: JudgingContext, lot: Lot): Promise<Judged> =>
  withState(judging, lot, await judgeBoilLot(judging, judging.houseContext.place, lot));

/**
 * A broken hold rule holds, unless a release accepted exactly that finding. Where a new record (a reading, check or
 * count) clears the last one, the lot opens. Where somebody held it by hand, took a corrective action, or a correction
 * removed the finding, it stays held until it is released with a reason.
 */
async function withState(judging: JudgingContext, lot: Lot, judged: Verdict): Promise<Judged> {
  const mayBeAccepted = judged.findings.some(({ stop, rule }) => stop && clearsOf(rule) !== 'evidence');
  const accepted = mayBeAccepted ? await acceptedFindings(judging, lot.code) : [];
  const findings = withAccepted(judged.findings, accepted);
  const verdict: Verdict = { ...judged, findings, heldJars: heldJarsOf(findings) };
  const stopped = findings.some((finding) => finding.stop);
  const keep = (state: LotState, heldSince = lot.heldSince): Judged => ({ lot: lot.code, state, heldSince, verdict });
  if (lot.state === 'recalled') return keep('recalled');
  if (stopped) {
    // A hold that a correction removed still waits for a release when the remaining ones are cleared.
    const awaitsRelease = lot.verdict?.awaitsRelease ?? removedHoldsText(judging, lot.verdict, findings);
    const since = lot.state === 'held' ? lot.heldSince : judging.at;
    if (awaitsRelease === undefined) return keep('held', since);
    return { lot: lot.code, state: 'held', heldSince: since, verdict: { ...verdict, awaitsRelease: awaitsRelease } };
  }
  if (lot.state !== 'held') return keep(lot.state);
  if (judging.upstreamReleased && !lot.verdict?.awaitsRelease) {
    const last = await lastLotEntries(judging, lot.code, ['hold', 'act', 'release']);
    return last && last.entryType !== 'release' ? keep('held') : keep('released');
  }
  const awaitsRelease = lot.verdict?.awaitsRelease ?? removedHoldsText(judging, lot.verdict, findings);
  if (awaitsRelease)
    return { lot: lot.code, state: 'held', heldSince: lot.heldSince, verdict: { ...verdict, awaitsRelease } };
  const last = await lastLotEntries(judging, lot.code, ['hold', 'act', 'release']);
  if (last && last.entryType !== 'release') return keep('held');
  return { lot: lot.code, state: 'open', verdict };
}
