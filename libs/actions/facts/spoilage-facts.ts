import type { SupportingRecordBody } from '#libs/records/kinds/supporting-record.js';
import { balanceOf } from '#libs/store/queries/jar-balance.js';
import { textIn } from '#libs/records/kinds/supporting-record.js';
import { recordsForJudging } from '../judging/records-for-judging.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { mouldyRecords } from '#libs/store/queries/mouldy-records.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { lotsDownstream, lotsUpstream, ofKind } from '#libs/store/queries/trace.js';
import type { JarInspection, Observation, SpoilageFacts } from '#libs/syrup/contents/judge-spoilage.js';
import type { QuestionAnswer } from '#libs/syrup/contents/question-answers.js';
import { loadHarmElsewhere } from './harm-elsewhere.js';
import {
  actionObservation,
  complaintObservation,
  jarInspection,
  questionAnswers,
  recordObservations,
  subjectsMeasuredAgain,
} from './spoilage-observations.js';
import { syrupOrigins } from './syrup-origins.js';

interface Where {
  readonly sql: Sql;
  readonly sugarhouse: string;
}

/** Loads what was recorded about spoilage of a pack, of its boils, and of packs poured into it. */
export async function loadSpoilageFacts(
  where: Where,
  lot: Lot,
  upstream: readonly Lot[],
  nowUtc: string,
): Promise<SpoilageFacts> {
  const { sql, sugarhouse } = where;
  const observations: Observation[] = [];
  const inspections: JarInspection[] = [];
  const answers: QuestionAnswer[] = [];
  for (const each of [lot, ...ofKind(upstream, 'boil', 'pack')]) {
    const about = await recordsForJudging({ sql, sugarhouse }, each.code);
    observations.push(
      ...(await recordObservations(where, each)).map((observation) => ({
        ...observation,
        isOfJudgedLot: each.code === lot.code,
      })),
      ...about('complaint').map((complaint) => ({
        ...complaintObservation(complaint),
        isOfJudgedLot: each.code === lot.code,
      })),
      ...about('action')
        .filter(({ body }) => jarInspection(body) === undefined)
        .map((action) => ({
          ...actionObservation(action),
          ...(each.code === lot.code ? { measuredAgain: subjectsMeasuredAgain(action.body) } : {}),
        })),
    );
    for (const { body, firstSeq } of each.code === lot.code ? about('action') : []) {
      const inspection = jarInspection(body);
      if (inspection) inspections.push({ ...inspection, seq: firstSeq });
    }
    answers.push(...questionAnswers(about('answer')));
  }
  const destroyed = inspections.length === 0 ? 0 : (await balanceOf({ sql, sugarhouse }, lot.code, nowUtc)).destroyed;
  return {
    jars: lot.jars ?? null,
    observations,
    inspections,
    answers,
    destroyed,
    otherPacks: await mouldyOtherPacks(where, lot, upstream),
    harmElsewhere: await loadHarmElsewhere(where, lot, upstream),
  };
}

/**
 * Packs to judge with a sign of spoilage or harm: of the lot, of what was poured from it, of the boils upstream and of the
 * bought syrup in it.
 */
export async function packsOfSameBoils({ sql, sugarhouse }: Where, lot: string): Promise<string[]> {
  const boils = ofKind(await lotsUpstream({ sql, sugarhouse }, lot), 'boil');
  const sources = new Set([lot, ...boils.map(({ code }) => code), ...(await syrupOrigins({ sql, sugarhouse }, lot))]);
  const packs = new Set<string>();
  for (const code of sources)
    for (const pack of ofKind(await lotsDownstream({ sql, sugarhouse }, code), 'pack')) packs.add(pack.code);
  return [...packs];
}

/** Other packs of the same boils, with their mouldy jars that were returned sealed or found on the shelf. */
async function mouldyOtherPacks(
  { sql, sugarhouse }: Where,
  lot: Lot,
  upstream: readonly Lot[],
): Promise<SpoilageFacts['otherPacks']> {
  const boils = new Set(ofKind(upstream, 'boil').map(({ code }) => code));
  const byLot = new Map<string, { jars: Set<string>; counted: number; seq: number }>();
  for (const record of await mouldyRecords({ sql, sugarhouse })) {
    const fields = record.body as SupportingRecordBody;
    const otherPack = record.lot ?? '';
    if (otherPack === lot.code || upstream.some(({ code }) => code === otherPack)) continue;
    const sum = byLot.get(otherPack) ?? { jars: new Set<string>(), counted: 0, seq: 0 };
    const counted = Number(fields['jarsMouldy'] ?? 0);
    const opened = textIn(fields, 'came').startsWith('opened');
    if (counted === 0 && (opened || fields['mould'] !== 'yes')) continue;
    if (counted === 0) sum.jars.add(textIn(fields, 'jar') || record.id);
    byLot.set(otherPack, { jars: sum.jars, counted: sum.counted + counted, seq: Math.max(sum.seq, record.firstSeq) });
  }
  const otherPacks: { lot: string; mouldy: number; seq: number }[] = [];
  for (const [code, { jars, counted, seq }] of byLot) {
    const shared = (await lotsUpstream({ sql, sugarhouse }, code)).some((each) => boils.has(each.code));
    if (shared) otherPacks.push({ lot: code, mouldy: jars.size + counted, seq });
  }
  return otherPacks;
}
