import { jarsOfPack, type Lot, recordsAbout } from '#libs/store/queries/lots.js';
import { type JarSpan, formatSpans, overlapsSpans } from '#libs/syrup/jars/jar-spans.js';
import { needsNewLabels } from '#libs/syrup/labelling/label-rule-names.js';
import { clearanceOf } from '#libs/syrup/rules/rules.js';
import { ownAuthorities } from '../places/authority.js';
import { cautions } from '../places/cautions.js';
import type { SugarhouseContext } from '../record/write-context.js';
import type { JudgingContext } from '../judging/judging-context.js';
import { holdRuleOf, type DispatchClearance, loadDispatchClearance, whyHeld } from '../jars/dispatch-clearance.js';
import { type Refusal, refused, unknown } from '../record/problem.js';
import { lookUpLot } from '../record/references.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** A pack whose labels may be printed now, judged anew, or the refusal. A held or recalled jar gets no label. */
export async function findLabelablePack(judging: JudgingContext, typed: string): Promise<DispatchClearance | Refusal> {
  const lot = await lookUpLot(judging, typed);
  if (!lot) return unknown('lot', typed);
  if (lot.kind !== 'pack')
    return refused('not-a-pack', `${lot.code} is a ${lot.kind}: labels are printed for a pack, such as ${lot.code}-1.`);
  if (lot.jars === undefined)
    return refused('underway', `${lot.code} is still being filled: enter how many jars there are first.`);
  const clearance = await loadDispatchClearance(judging, lot.code);
  if (!clearance) return unknown('lot', typed);
  // Even after an authority allowed its release: a label saying maple syrup would misstate what is in the jar.
  const outsideRules = clearance.lot.verdict?.findings.find((finding) => finding.rule === 'outside-these-rules');
  if (outsideRules)
    return refused(outsideRules.rule, `${clearance.lot.code}: no syrup label. Its ${outsideRules.found}`);
  if (waitsForLabels(clearance.lot)) return { ...clearance, which: 'all', held: [] };
  return clearance.which === 'none' ? refuseLabels(clearance, '') : clearance;
}

/**
 * Whether a lot is held for wrong labels and by nothing else that new evidence must clear: it gets new labels, or nobody
 * could ever release it. It stays held.
 */
function waitsForLabels({ state, verdict }: Lot): boolean {
  const stops = state === 'held' ? (verdict?.findings.filter(({ stop }) => stop) ?? []) : [];
  return (
    stops.some(({ rule }) => needsNewLabels(rule)) &&
    stops.every(({ rule }) => needsNewLabels(rule) || clearanceOf(rule) !== 'evidence')
  );
}

/** The jars among those asked for that get a label, and the held ones that are left out. */
export interface LabelledJars {
  readonly spans: readonly JarSpan[];
  readonly leftOut: readonly JarSpan[];
}

/** The requested jars without those held; a refusal where all of them are held. */
export function labelledJars(clearance: DispatchClearance, request: JarSpan): LabelledJars | Refusal {
  const leftOut = clearance.held
    .filter((span) => overlapsSpans([request], span))
    .map(({ from, to }) => ({ from: Math.max(from, request.from), to: Math.min(to, request.to) }));
  const spans: JarSpan[] = [];
  let from = request.from;
  for (const held of leftOut) {
    if (held.from > from) spans.push({ from, to: held.from - 1 });
    from = held.to + 1;
  }
  if (from <= request.to) spans.push({ from, to: request.to });
  return spans.length > 0 ? { spans, leftOut } : refuseLabels(clearance, ` for ${formatSpans(leftOut)}`);
}

/** `Held, and left out: jars 9–16.`; empty where none is held. */
export const leftOutSentences = ({ leftOut }: LabelledJars): string[] =>
  leftOut.length === 0 ? [] : [`Held, and left out: ${formatSpans(leftOut)}.`];

/** How many labels a run has: one for each jar of its spans. */
export const countLabelsIn = ({ spans }: LabelledJars): number =>
  spans.reduce((sum, { from, to }) => sum + to - from + 1, 0);

/** The jars in these spans of a pack, in order of their numbers. */
export async function* jarsInSpans(reader: SugarhouseReader, pack: string, spans: readonly JarSpan[]) {
  for (const { from, to } of spans) yield* jarsOfPack(reader, pack, from, to);
}

const refuseLabels = ({ lot }: DispatchClearance, which: string): Refusal =>
  refused(holdRuleOf(lot), `${lot.code} is ${lot.state}: no labels${which}. ${whyHeld(lot)}`);

/** Jars whose label was printed before. A reprint is for the same jar, and its run is recorded as one. */
export async function wasPrintedBefore(
  reader: SugarhouseReader,
  pack: string,
  from: number,
  to: number,
): Promise<boolean> {
  const runs = await recordsAbout(reader, pack, 'labels');
  return runs.some(({ body }) => body.what !== 'spoiled' && (body.from ?? 0) <= to && (body.to ?? 0) >= from);
}

/** Shown before labels are printed: the usual cautions, and whom to ask. */
export function labelCautions(houseContext: SugarhouseContext): string[] {
  const { place } = houseContext;
  return [
    ...new Set([...cautions('label'), ...cautions('sell')].map((each) => each.text)),
    ...place.authority.map((each) => `Ask ${each.name} about ${each.ask}.`),
    ...ownAuthorities(houseContext.house),
    ...(place.fellBack ? [place.fellBack] : []),
  ];
}
