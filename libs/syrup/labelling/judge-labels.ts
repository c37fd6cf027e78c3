import { undeclaredAllergens } from '../contents/undeclared-allergens.js';
import { formatSpans, type JarSpan, mergeSpans, intersectSpans, subtractSpans } from '../jars/jar-spans.js';
import { findingOf } from '../rules/rules.js';
import type { Finding } from '../rules/verdict.js';

/** Labels that were printed for jars of a pack in one run, by the record of the run. */
export interface PrintedLabels extends JarSpan {
  /** The id of the run: `LB0001`. */
  readonly run: string;
  /** When it was printed: in UTC, and as shown. */
  readonly atUtc: string;
  readonly at: string;
  /** Its sequence number in the log. */
  readonly seq: number;
  /** The allergens that the labels declare, as typed; undefined where that is not recorded. */
  readonly allergens?: readonly string[] | undefined;
  /** The program printed them, so without `allergens` they declare those recorded when they were printed. */
  readonly isFromRecord: boolean;
  /** The net quantity that they state, where known. */
  readonly quantity?: { readonly typed: string; readonly millilitres: number } | undefined;
}

/** What the labels of a pack's jars are judged by. */
export interface LabelFacts {
  /** How many jars the pack has, and those that were poured back or destroyed. */
  readonly jars: number;
  readonly gone: readonly JarSpan[];
  readonly container: { readonly typed: string; readonly millilitres: number };
  /** Recorded for the syrup, as answered. */
  readonly allergens: readonly string[];
  /** Since when each allergen has been recorded, in UTC, where an earlier verdict lacked it. */
  readonly since: Readonly<Record<string, string>>;
  /** Printed runs, without spoiled labels. */
  readonly runs: readonly PrintedLabels[];
}

/** A run with what is wrong with its labels. */
export interface WrongLabels extends PrintedLabels {
  /** Recorded allergens that they do not declare. */
  readonly lacks: readonly string[];
  /** They state a larger net quantity than the container has. */
  readonly overstates: boolean;
}

/**
 * Findings on the labels of jars on hand: an allergen that they don't declare, or a net quantity above the container's.
 * Jars without a label raise none. After new labels were printed, a maker confirms that they replaced the old ones.
 */
export function judgeLabels(facts: LabelFacts): Finding[] {
  if (facts.runs.length === 0) return [];
  const runs = facts.runs.map((run) => withFaults(run, facts));
  const wrong = runs.filter(isWrong);
  if (wrong.length === 0) return outOfDateFindings(runs, facts);
  const all = [{ from: 1, to: facts.jars }];
  const onSale = subtractSpans(all, facts.gone);
  const isNewer = (run: WrongLabels, of: PrintedLabels): boolean =>
    run.seq > of.seq && !isWrong(run) && statesAllergens(run, facts);
  // For each wrong run, the jars without newer labels, and those for which right labels were printed since.
  const wrongRuns = wrong.map((run) => {
    const newer = runs.filter((each) => isNewer(each, run));
    const jars = intersectSpans([jarSpan(run)], onSale);
    const unreplaced = subtractSpans(jars, newer);
    return { run, unreplaced, reprinted: subtractSpans(jars, unreplaced), newer };
  });
  const unreplaced = wrongRuns.filter((part) => part.unreplaced.length > 0);
  const lacking = unreplaced.filter(({ run }) => run.lacks.length > 0);
  const overstating = unreplaced.filter(({ run }) => run.overstates);
  return [
    ...(lacking.length > 0 ? [undeclaredFinding(lacking, all)] : []),
    ...(overstating.length > 0 ? [quantityFinding(overstating, facts, all)] : []),
    ...replacementFindings(
      wrongRuns.filter((part) => part.reprinted.length > 0),
      facts,
      all,
    ),
  ];
}

/** The recorded allergens that the labels of a run do not declare; see `isFromRecord` where that is not recorded. */
export function missingAllergens(
  run: PrintedLabels,
  { allergens, since }: Pick<LabelFacts, 'allergens' | 'since'>,
): string[] {
  if (run.allergens) return undeclaredAllergens(allergens, run.allergens);
  return allergens.filter((each) => !run.isFromRecord || isRecordedAfter(run.atUtc, since[each]));
}

/** Whether an allergen was recorded no earlier than something happened. */
export const isRecordedAfter = (atUtc: string, sinceUtc: string | undefined): boolean =>
  sinceUtc !== undefined && atUtc <= sinceUtc;

/** `labels of jars 1–16 printed 2026-03-20 (LB0001)` */
export const formatLabelRun = (run: PrintedLabels, jars: readonly JarSpan[] = [run]): string =>
  `labels of ${formatSpans(jars)} printed ${run.at.slice(0, 10)} (${run.run})`;

const jarSpan = ({ from, to }: JarSpan): JarSpan => ({ from, to });

const isWrong = ({ lacks, overstates }: WrongLabels): boolean => lacks.length > 0 || overstates;

const statesAllergens = (run: PrintedLabels, { allergens }: LabelFacts): boolean =>
  allergens.length === 0 || run.isFromRecord || run.allergens !== undefined;

/** The same quantity in two units differs by less, 237 mL and 8 fl oz: common practice, no source. */
const roundingShare = 0.005;

function withFaults(run: PrintedLabels, facts: LabelFacts): WrongLabels {
  const { quantity } = run;
  return {
    ...run,
    lacks: missingAllergens(run, facts),
    overstates: quantity !== undefined && quantity.millilitres > facts.container.millilitres * (1 + roundingShare),
  };
}

/** A wrong run: its jars without newer labels, those with reprinted ones, and the runs that replaced them. */
interface WrongRun {
  readonly run: WrongLabels;
  readonly unreplaced: readonly JarSpan[];
  readonly reprinted: readonly JarSpan[];
  readonly newer: readonly PrintedLabels[];
}

function undeclaredFinding(wrongRuns: readonly WrongRun[], all: readonly JarSpan[]): Finding {
  const lacks = allMissingAllergens(wrongRuns);
  return findingOf('undeclared-allergen', {
    limit: 'every allergen recorded for the syrup declared on the labels of its jars',
    found: wrongRuns
      .map(({ run, unreplaced }) =>
        run.allergens || run.isFromRecord
          ? `${formatLabelRun(run, unreplaced)} do not declare ${run.lacks.join(', ')}`
          : `whether ${formatLabelRun(run, unreplaced)} declare ${run.lacks.join(', ')} is not recorded`,
      )
      .join('; '),
    ...jarsOf(
      wrongRuns.map(({ unreplaced }) => unreplaced),
      all,
    ),
    wayOut: `Print new labels, which declare ${lacks}, take the old ones off these jars and put the new ones on. Then a maker releases the lot and says so.`,
  });
}

function quantityFinding(wrongRuns: readonly WrongRun[], { container }: LabelFacts, all: readonly JarSpan[]): Finding {
  return findingOf('label-net-quantity', {
    limit: 'no larger net quantity on the labels than the container holds',
    found: wrongRuns
      .map(
        ({ run, unreplaced }) =>
          `${formatLabelRun(run, unreplaced)} state ${run.quantity?.typed ?? ''}, and the container is recorded as ${container.typed}`,
      )
      .join('; '),
    ...jarsOf(
      wrongRuns.map(({ unreplaced }) => unreplaced),
      all,
    ),
    wayOut:
      'Print new labels, take the old ones off these jars and put the new ones on. Then a maker releases the lot and says so.',
  });
}

function replacementFindings(
  wrongRuns: readonly WrongRun[],
  { container }: LabelFacts,
  all: readonly JarSpan[],
): Finding[] {
  if (wrongRuns.length === 0) return [];
  const { jars } = jarsOf(
    wrongRuns.map(({ reprinted }) => reprinted),
    all,
  );
  const newer = [...new Map(wrongRuns.flatMap((part) => part.newer).map((run) => [run.run, run])).values()];
  return [
    findingOf('labels-replaced', {
      limit: 'a maker’s word that the old labels were taken off the jars',
      found: `${wrongRuns.map(({ run, reprinted }) => formatWrongLabels(run, reprinted, container.typed)).join('; ')}. New ones were printed ${newer.map((run) => `${run.at.slice(0, 10)} (${run.run})`).join(', ')}; whether they replaced the old ones on the jars is not recorded`,
      ...(jars ? { jars } : {}),
      wayOut:
        'Look at each jar: the old label off, the new one on. Then a maker releases the lot and says so. Destroy the labels that are left over and record them as spoiled.',
      identity: {
        evidence: {
          wrong: wrongRuns.map(({ run }) => ({
            run: run.run,
            ...(run.lacks.length > 0 ? { lacks: [...run.lacks].sort() } : {}),
            ...(run.overstates ? { states: run.quantity?.typed, container: container.typed } : {}),
          })),
        },
        ...(jars ? { jars } : {}),
      },
    }),
  ];
}

const formatWrongLabels = (run: WrongLabels, jars: readonly JarSpan[], container: string): string =>
  [
    `${formatLabelRun(run, jars)} ${run.lacks.length > 0 ? `do not declare ${run.lacks.join(', ')}` : `state ${run.quantity?.typed ?? ''}`}`,
    ...(run.overstates && run.lacks.length > 0 ? [`state ${run.quantity?.typed ?? ''}`] : []),
    ...(run.overstates ? [`the container is recorded as ${container}`] : []),
  ].join(', ');

/** An advisory where the last labels of jars declare an allergen that isn't recorded, or too small a quantity. */
function outOfDateFindings(
  runs: readonly PrintedLabels[],
  { allergens, container, jars, gone }: LabelFacts,
): Finding[] {
  const found = runs.flatMap((run) => {
    const last = subtractSpans([jarSpan(run)], [...runs.filter((each) => each.seq > run.seq), ...gone]).filter(
      ({ from }) => from <= jars,
    );
    if (last.length === 0) return [];
    const more = undeclaredAllergens(run.allergens ?? [], allergens);
    const states = run.quantity && run.quantity.millilitres < container.millilitres * (1 - roundingShare);
    return [
      ...(more.length > 0
        ? [`${formatLabelRun(run, last)} declare ${more.join(', ')}, which is not recorded for the syrup`]
        : []),
      ...(states
        ? [
            `${formatLabelRun(run, last)} state ${run.quantity?.typed ?? ''}, and the container is recorded as ${container.typed}`,
          ]
        : []),
    ];
  });
  if (found.length === 0) return [];
  return [findingOf('labels-out-of-date', { limit: 'labels that agree with the record', found: found.join('; ') })];
}

/** The `jars` property of a finding; absent where it holds the whole pack. */
function jarsOf(spans: readonly (readonly JarSpan[])[], all: readonly JarSpan[]): { jars?: readonly JarSpan[] } {
  const jars = mergeSpans(spans.flat());
  return subtractSpans(all, jars).length === 0 ? {} : { jars };
}

const allMissingAllergens = (wrongRuns: readonly WrongRun[]): string =>
  [...new Set(wrongRuns.flatMap(({ run }) => run.lacks))].join(', ');
