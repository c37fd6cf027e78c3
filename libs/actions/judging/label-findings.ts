import type { LabelRunBody } from '#libs/records/kinds/label-run.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { historyOf } from '#libs/store/log/log.js';
import { acceptedFindings, isRecordCorrectedAfter } from '#libs/store/log/lot-entries.js';
import { balanceOf } from '#libs/store/queries/jar-balance.js';
import { jarsOfPack, type Lot, type StoredRecord } from '#libs/store/queries/lots.js';
import { codesByMovement, hasMoved, movementsOf } from '#libs/store/queries/trace.js';
import { parseAllergenAnswer } from '#libs/syrup/contents/allergens.js';
import type { JarSpan } from '#libs/syrup/jars/jar-spans.js';
import { judgeLabels, type LabelFacts, type PrintedLabels } from '#libs/syrup/labelling/judge-labels.js';
import {
  judgeSentLabels,
  type ReplacedLabels,
  type SentJars,
  type SentLabelFacts,
} from '#libs/syrup/labelling/judge-sent-labels.js';
import type { Finding, Verdict } from '#libs/syrup/rules/verdict.js';
import type { JudgingContext } from './judging-context.js';
import { recordsForJudging } from './records-for-judging.js';

/** A pack as judged, as far as its labels depend on it. */
export interface LabelledPack {
  readonly lot: Lot;
  readonly pack: Pick<PackBody, 'jars' | 'container'>;
  readonly verdict: Pick<Verdict, 'allergens' | 'allergensSince'>;
  readonly gone: readonly JarSpan[];
}

/**
 * Findings on labels that were printed before the record changed: `onHand` for jars that are here, `sent` for jars that
 * went out without an allergen on their label.
 */
export async function loadLabelFindings(
  judging: JudgingContext,
  labelled: LabelledPack,
): Promise<{ readonly onHand: Finding[]; readonly sent: Finding[] }> {
  const { lot, pack, verdict } = labelled;
  const runs = (await recordsForJudging(judging, lot.code))('labels').filter(({ body }) => body.what !== 'spoiled');
  const since = verdict.allergensSince ?? {};
  if (pack.jars === undefined || (runs.length === 0 && Object.keys(since).length === 0))
    return { onHand: [], sent: [] };
  const { container } = pack;
  const facts: LabelFacts = {
    jars: pack.jars,
    gone: labelled.gone,
    container: { typed: container.typed, millilitres: container.volume.millilitres },
    allergens: verdict.allergens,
    since,
    runs: await printedLabels(judging, labelled, runs),
  };
  const onHand = judgeLabels(facts);
  const sent = facts.allergens.length === 0 ? [] : await sentJars(judging, lot.code);
  if (onHand.length === 0 && sent.length === 0) return { onHand: [], sent: [] };
  const { onHand: left, parts } = await balanceOf(judging, lot.code, utcOf(judging.houseContext.parseOptions.now));
  return {
    // Jars that were returned and set apart may go on sale again.
    onHand: left + parts.returnedApart > 0 ? onHand : [],
    sent: sent.length > 0 ? await sentFindings(judging, lot, { ...facts, sent, returned: parts.returned }) : [],
  };
}

/** The runs with what their labels say; the net quantity of one that doesn't hold it by the pack's container then. */
async function printedLabels(
  judging: JudgingContext,
  { lot, pack }: LabelledPack,
  runs: readonly StoredRecord<'labels'>[],
): Promise<PrintedLabels[]> {
  const isOld = ({ body }: StoredRecord<'labels'>): boolean => !body.quantity && isPrintedHere(body);
  const firstOld = runs
    .filter(isOld)
    .map(({ firstSeq }) => firstSeq)
    .sort((a, b) => a - b)[0];
  const isCorrected = firstOld !== undefined && (await isRecordCorrectedAfter(judging, lot.code, 'pack', firstOld));
  const versions = isCorrected
    ? (await historyOf(judging, lot.code)).filter(({ record }) => record?.kind === 'pack')
    : [];
  return runs.map((run) => {
    const { body } = run;
    const container = versions.findLast(({ seq }) => seq < run.firstSeq)?.record?.body as PackBody | undefined;
    const stated = parseAllergenAnswer(body.allergens ?? '');
    const quantity = body.quantity ?? (isOld(run) ? container?.container.volume : undefined);
    return {
      run: run.id,
      from: body.from ?? 1,
      to: body.to ?? pack.jars ?? 1,
      at: run.at,
      atUtc: run.atUtc,
      seq: run.firstSeq,
      isFromRecord: isPrintedHere(body),
      ...(stated.answered ? { allergens: stated.named } : {}),
      ...(quantity ? { quantity: { typed: quantity.typed, millilitres: quantity.millilitres } } : {}),
    };
  });
}

/** The program stores on which place of the sheet its run ended; a run that somebody records has none. */
const isPrintedHere = ({ ended }: LabelRunBody): boolean => ended !== undefined;

async function sentFindings(
  judging: JudgingContext,
  { code }: Lot,
  facts: Omit<SentLabelFacts, 'lot' | 'replaced' | 'authorities'>,
): Promise<Finding[]> {
  const { house, place } = judging.houseContext;
  return judgeSentLabels({
    ...facts,
    lot: code,
    replaced: await replacedLabels(judging, code),
    authorities: house?.authority ? [house.authority] : place.authority.slice(0, 1).map(({ name }) => name),
  });
}

/** Jars sold, given or sampled until now, by dispatch; a laboratory reads no label. */
async function sentJars(judging: JudgingContext, code: string): Promise<SentJars[]> {
  const now = utcOf(judging.houseContext.parseOptions.now);
  const sent = (await movementsOf(judging, [code])).filter(
    (each) =>
      ['sale', 'gift', 'sample'].includes(each.kind) && !each.laboratory && hasMoved(each, now) && each.jars > 0,
  );
  if (!sent.some(({ byCodes }) => byCodes)) return sent.map((each) => ({ ...each, dispatch: each.id }));
  const numbers = new Map<string, number>();
  for await (const jar of jarsOfPack(judging, code)) numbers.set(jar.code, jar.n);
  const codes = await codesByMovement(judging, [code]);
  return sent.map((each) => ({
    ...each,
    dispatch: each.id,
    ...(each.byCodes ? { numbers: (codes.get(each.id) ?? []).flatMap((jar) => numbers.get(jar) ?? []) } : {}),
  }));
}

/** When makers confirmed that labels of runs were taken off the jars. */
async function replacedLabels(judging: JudgingContext, code: string): Promise<ReplacedLabels[]> {
  const accepted = await acceptedFindings(judging, code);
  return accepted.flatMap(({ rule, evidence, at }) =>
    rule === 'labels-replaced' && evidence && 'wrong' in evidence
      ? [{ runs: evidence.wrong.map(({ run }) => run), atUtc: utcOf(at) }]
      : [],
  );
}
