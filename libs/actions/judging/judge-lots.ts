import type { PackBody } from '#libs/records/kinds/pack.js';
import type { Judged } from '#libs/records/entry.js';
import { canonicalJson } from '#libs/store/log/canonical.js';
import { lotsNamed } from '#libs/store/connection/batch-queries.js';
import { findLot, findRecord, type Lot } from '#libs/store/queries/lots.js';
import { drawnFrom, lotsUpstream, ofKind } from '#libs/store/queries/trace.js';
import { afterDestroying } from '#libs/syrup/jars/jars-on-sale.js';
import { drawnMoreThanThere } from '#libs/syrup/rules/judge-boils.js';
import { subtractSpans } from '#libs/syrup/jars/jar-spans.js';
import type { Finding, Verdict } from '#libs/syrup/rules/verdict.js';
import { loadAllergensSince } from '../facts/allergens-since.js';
import { heldSyrupFindings } from './held-syrup-findings.js';
import { loadLabelFindings } from './label-findings.js';
import { glassUpstreamFindings } from '../facts/glass-upstream.js';
import { failedSeals } from '../jars/failed-seals.js';
import { packAfterActions } from '../facts/pack-after-actions.js';
import { upstreamEquipmentFindings } from '../facts/equipment-facts.js';
import { lotsInOrder } from './read-lots-ahead.js';
import { recordsForJudging } from './records-for-judging.js';
import { memberHolds } from './member-holds.js';
import { thinReturnFindings } from './returned-density.js';
import { loadDispatchFindings } from './dispatch-findings.js';
import type { JudgingContext } from './judging-context.js';
import { judgeBoilLotState, withState } from './lot-state.js';
import { judgePackOfFacts } from './known-verdicts.js';
import { loadPackFacts } from '../facts/pack-facts.js';
import { upstreamHolds } from './upstream-holds.js';

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
  const { sql, sugarhouse } = judging;
  const record = await findRecord({ sql, sugarhouse }, 'pack', lot.code);
  if (!record) throw new Error(`Pack ${lot.code} is in the index without its record`);
  const actions = (await recordsForJudging({ sql, sugarhouse }, lot.code))('action').map((each) => each.body);
  const pack = packAfterActions(record.body, actions);
  const upstream = await loadUpstream(judging, lot.code, batch);
  const facts = await loadPackFacts(judging, { lot, packedAt: record.body.packedAt, pack, upstream });
  const verdict = await withAllergensSince(judging, lot, upstream, judgePackOfFacts(judging, lot.code, facts));
  const holds = [
    ...(await upstreamHolds(judging, upstream, batch.judged)),
    ...(await memberHolds(judging, upstream)),
    ...(await upstreamEquipmentFindings(judging, lot, ofKind(upstream, 'boil'), facts.place)),
    ...(await glassUpstreamFindings(judging, lot, upstream)),
    ...heldSyrupFindings(pack, upstream),
    ...(await thinReturnFindings(judging, lot.code)),
  ];
  const labels = await loadLabelFindings(judging, { lot, pack, verdict, gone: verdict.gone ?? [] });
  const held = [...labels.sent, ...afterDestroying([...holds, ...labels.onHand], facts)];
  const stops = [...held, ...verdict.findings].filter(({ stop }) => stop);
  const findings = [
    ...held,
    ...verdict.findings,
    ...(await overdrawnSources(judging, pack)),
    ...(await loadDispatchFindings(judging, lot, pack.jars, stops)),
  ];
  const unsealed = subtractSpans(failedSeals(record.body, actions).named, verdict.gone ?? []);
  return withState(judging, lot, { ...verdict, ...(unsealed.length > 0 ? { unsealed } : {}), findings });
}

async function withAllergensSince(
  judging: JudgingContext,
  lot: Lot,
  upstream: readonly Lot[],
  verdict: Verdict,
): Promise<Verdict> {
  const allergensSince = await loadAllergensSince(judging, lot, upstream, verdict.allergens);
  return verdict.allergens.length === 0 ? verdict : { ...verdict, allergensSince };
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
