import { undeclaredAllergens } from '../contents/undeclared-allergens.js';
import { formatSpans, type JarSpan, mergedSpans } from '../jars/held-jars.js';
import { within, without } from '../quantities/jar-spans.js';
import { findingOf } from '../rules/rules.js';
import type { Finding } from '../rules/verdict.js';

/** Labels that were printed for jars of a pack in one run, by the record of the run. */
export interface PrintedLabels extends JarSpan {
  /** Its id. */
  readonly run: string;
  /** When it was printed: in UTC, and as shown. */
  readonly atUtc: string;
  readonly at: string;
  /** Its place in the log: of two runs, which was recorded later. */
  readonly seq: number;
  /** What the labels declare; undefined where that is not recorded. */
  readonly allergens?: readonly string[] | undefined;
  /** The program printed them from the record of their time, so without `allergens` they are judged by that time. */
  readonly isFromRecord: boolean;
  /** The net quantity that they state, where known. */
  readonly quantity?: { readonly typed: string; readonly millilitres: number } | undefined;
}

/** What the labels of a pack's jars are judged by. */
export interface LabelFacts {
  /** In the pack; its jars that were poured back or destroyed. */
  readonly jars: number;
  readonly gone: readonly JarSpan[];
  readonly container: { readonly typed: string; readonly millilitres: number };
  /** Recorded for the syrup, as answered. */
  readonly allergens: readonly string[];
  /** Since when each was recorded, in UTC, where the pack had been judged without it before. */
  readonly since: Readonly<Record<string, string>>;
  /** Without spoiled ones. */
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
 * Findings on the labels of jars that may be on hand: an allergen that they lack, or a net quantity above the container's. Jars
 * without a label raise none. Printing new labels proves nothing of the jars, so a maker then confirms the replacement.
 */
export function judgeLabels(facts: LabelFacts): Finding[] {
  if (facts.runs.length === 0) return [];
  const runs = facts.runs.map((run) => withFaults(run, facts));
  const wrong = runs.filter(isWrong);
  if (wrong.length === 0) return outOfDate(runs, facts);
  const all = [{ from: 1, to: facts.jars }];
  const onSale = without(all, facts.gone);
  const isNewer = (run: WrongLabels, of: PrintedLabels): boolean =>
    run.seq > of.seq && !isWrong(run) && statesAllergens(run, facts);
  // For each run the jars that still wait for right labels, and those for which such labels were printed since.
  const parts = wrong.map((run) => {
    const newer = runs.filter((each) => isNewer(each, run));
    const jars = within([spanOf(run)], onSale);
    const waiting = without(jars, newer);
    return { run, waiting, reprinted: without(jars, waiting), newer };
  });
  const waiting = parts.filter((part) => part.waiting.length > 0);
  const lacking = waiting.filter(({ run }) => run.lacks.length > 0);
  const overstating = waiting.filter(({ run }) => run.overstates);
  return [
    ...(lacking.length > 0 ? [undeclaredAllergen(lacking, all)] : []),
    ...(overstating.length > 0 ? [netQuantity(overstating, facts, all)] : []),
    ...replacement(
      parts.filter((part) => part.reprinted.length > 0),
      facts,
      all,
    ),
  ];
}

/** The recorded allergens that labels of a run do not declare. Where what they say is not recorded, by its time. */
export function lackedBy(run: PrintedLabels, { allergens, since }: Pick<LabelFacts, 'allergens' | 'since'>): string[] {
  if (run.allergens) return undeclaredAllergens(allergens, run.allergens);
  return allergens.filter((each) => !run.isFromRecord || isRecordedAfter(run.atUtc, since[each]));
}

/** Whether an allergen was recorded no earlier than something happened. */
export const isRecordedAfter = (atUtc: string, sinceUtc: string | undefined): boolean =>
  sinceUtc !== undefined && atUtc <= sinceUtc;

/** `labels of jars 1–16 printed 2026-03-20 (LB0001)` */
export const labelsText = (run: PrintedLabels, jars: readonly JarSpan[] = [run]): string =>
  `labels of ${formatSpans(jars)} printed ${run.at.slice(0, 10)} (${run.run})`;

const spanOf = ({ from, to }: JarSpan): JarSpan => ({ from, to });

const isWrong = ({ lacks, overstates }: WrongLabels): boolean => lacks.length > 0 || overstates;

const statesAllergens = (run: PrintedLabels, { allergens }: LabelFacts): boolean =>
  allergens.length === 0 || run.isFromRecord || run.allergens !== undefined;

/** Two figures of one quantity differ by less: 237 mL and 8 fl oz. Common practice, no source. */
const roundingShare = 0.005;

function withFaults(run: PrintedLabels, facts: LabelFacts): WrongLabels {
  const { quantity } = run;
  return {
    ...run,
    lacks: lackedBy(run, facts),
    overstates: quantity !== undefined && quantity.millilitres > facts.container.millilitres * (1 + roundingShare),
  };
}

interface Part {
  readonly run: WrongLabels;
  readonly waiting: readonly JarSpan[];
  readonly reprinted: readonly JarSpan[];
  readonly newer: readonly PrintedLabels[];
}

function undeclaredAllergen(parts: readonly Part[], all: readonly JarSpan[]): Finding {
  const lacks = listed(parts);
  return findingOf('undeclared-allergen', {
    limit: 'every allergen recorded for the syrup declared on the labels of its jars',
    found: parts
      .map(({ run, waiting }) =>
        run.allergens || run.isFromRecord
          ? `${labelsText(run, waiting)} do not declare ${run.lacks.join(', ')}`
          : `whether ${labelsText(run, waiting)} declare ${run.lacks.join(', ')} is not recorded`,
      )
      .join('; '),
    ...jarsOf(
      parts.map(({ waiting }) => waiting),
      all,
    ),
    wayOut: `Print new labels, which declare ${lacks}, take the old ones off these jars and put the new ones on. Then a maker releases the lot and says so.`,
  });
}

function netQuantity(parts: readonly Part[], { container }: LabelFacts, all: readonly JarSpan[]): Finding {
  return findingOf('label-net-quantity', {
    limit: 'no larger net quantity on the labels than the container holds',
    found: parts
      .map(
        ({ run, waiting }) =>
          `${labelsText(run, waiting)} state ${run.quantity?.typed ?? ''}, and the container is recorded as ${container.typed}`,
      )
      .join('; '),
    ...jarsOf(
      parts.map(({ waiting }) => waiting),
      all,
    ),
    wayOut:
      'Print new labels, take the old ones off these jars and put the new ones on. Then a maker releases the lot and says so.',
  });
}

function replacement(parts: readonly Part[], { container }: LabelFacts, all: readonly JarSpan[]): Finding[] {
  if (parts.length === 0) return [];
  const { jars } = jarsOf(
    parts.map(({ reprinted }) => reprinted),
    all,
  );
  const newer = [...new Map(parts.flatMap((part) => part.newer).map((run) => [run.run, run])).values()];
  return [
    findingOf('labels-replaced', {
      limit: 'a maker’s word that the old labels were taken off the jars',
      found: `${parts.map(({ run, reprinted }) => wrongText(run, reprinted, container.typed)).join('; ')}. New ones were printed ${newer.map((run) => `${run.at.slice(0, 10)} (${run.run})`).join(', ')}; whether they replaced the old ones on the jars is not recorded`,
      ...(jars ? { jars } : {}),
      wayOut:
        'Look at each jar: the old label off, the new one on. Then a maker releases the lot and says so. Destroy the labels that are left over and record them as spoiled.',
      identity: {
        evidence: {
          wrong: parts.map(({ run }) => ({
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

const wrongText = (run: WrongLabels, jars: readonly JarSpan[], container: string): string =>
  [
    `${labelsText(run, jars)} ${run.lacks.length > 0 ? `do not declare ${run.lacks.join(', ')}` : `state ${run.quantity?.typed ?? ''}`}`,
    ...(run.overstates && run.lacks.length > 0 ? [`state ${run.quantity?.typed ?? ''}`] : []),
    ...(run.overstates ? [`the container is recorded as ${container}`] : []),
  ].join(', ');

/** An advisory where the last labels of jars declare an allergen that isn't recorded, or too small a quantity. */
function outOfDate(runs: readonly PrintedLabels[], { allergens, container, jars, gone }: LabelFacts): Finding[] {
  const found = runs.flatMap((run) => {
    const last = without([spanOf(run)], [...runs.filter((each) => each.seq > run.seq), ...gone]).filter(
      ({ from }) => from <= jars,
    );
    if (last.length === 0) return [];
    const more = undeclaredAllergens(run.allergens ?? [], allergens);
    const states = run.quantity && run.quantity.millilitres < container.millilitres * (1 - roundingShare);
    return [
      ...(more.length > 0
        ? [`${labelsText(run, last)} declare ${more.join(', ')}, which is not recorded for the syrup`]
        : []),
      ...(states
        ? [
            `${labelsText(run, last)} state ${run.quantity?.typed ?? ''}, and the container is recorded as ${container.typed}`,
          ]
        : []),
    ];
  });
  if (found.length === 0) return [];
  return [findingOf('labels-out-of-date', { limit: 'labels that agree with the record', found: found.join('; ') })];
}

/** The jars that a finding holds; none where it is the whole pack. */
function jarsOf(spans: readonly (readonly JarSpan[])[], all: readonly JarSpan[]): { jars?: readonly JarSpan[] } {
  const jars = mergedSpans(spans.flat());
  return without(all, jars).length === 0 ? {} : { jars };
}

const listed = (parts: readonly Part[]): string => [...new Set(parts.flatMap(({ run }) => run.lacks))].join(', ');
