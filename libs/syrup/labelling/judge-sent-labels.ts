import { type JarSpan, overlapsSpans, subtractSpans } from '../jars/jar-spans.js';
import { findingOf } from '../rules/rules.js';
import type { Finding } from '../rules/verdict.js';
import { isRecordedAfter, type LabelFacts, missingAllergens } from './judge-labels.js';

/** Jars of one dispatch that were sold, given away or sampled. */
export interface SentJars {
  readonly dispatch: string;
  readonly jars: number;
  readonly to: string;
  readonly sentAt: string;
  readonly sentUtc: string;
  /** Their numbers; undefined where they left by count. */
  readonly numbers?: readonly number[] | undefined;
}

/** A maker's confirmation that the labels of these runs were taken off the jars. */
export interface ReplacedLabels {
  readonly runs: readonly string[];
  readonly atUtc: string;
}

export interface SentLabelFacts extends Pick<LabelFacts, 'jars' | 'allergens' | 'since' | 'runs'> {
  readonly lot: string;
  readonly sent: readonly SentJars[];
  readonly replaced: readonly ReplacedLabels[];
  /** Jars returned since, from any dispatch. */
  readonly returned: number;
  readonly authorities: readonly string[];
}

/**
 * A finding where jars were sent out whose labels did not declare an allergen that is recorded now. Jars are judged by
 * the labels printed for them before and not replaced; without any, by whether the allergen was recorded later than they
 * left. Jars sent out by count may be any of the pack.
 */
export function judgeSentLabels(facts: SentLabelFacts): Finding[] {
  if (facts.allergens.length === 0) return [];
  const lacking = facts.sent
    .map((sent) => ({ ...sent, lacks: missingWhenSent(sent, facts) }))
    .filter(({ lacks }) => lacks.length > 0);
  if (lacking.length === 0) return [];
  const lacks = [...new Set(lacking.flatMap((each) => each.lacks))].sort();
  const ask = facts.authorities.length > 0 ? facts.authorities.join(' or ') : 'your authority';
  return [
    findingOf('undeclared-allergen-sent', {
      limit: 'every allergen recorded for the syrup declared on the labels of jars that are sent out',
      found: `${formatJarCount(lacking)} of ${facts.lot} went out, and their labels are not recorded as declaring ${lacks.join(', ')}: ${formatBuyers(lacking)}${facts.returned > 0 ? `; ${facts.returned} returned since` : ''}`,
      wayOut: `People with that allergy may be hurt, so call today. Recall the lot: the recall page lists the buyers and whom to call. Ask ${ask} at once. If it decides that no recall is needed, an owner releases the lot with who was asked, when, and the answer.`,
      identity: {
        evidence: { lacks, sent: lacking.map(({ dispatch, jars }) => ({ dispatch, jars })) },
      },
    }),
  ];
}

function missingWhenSent({ sentUtc, numbers }: SentJars, facts: SentLabelFacts): string[] {
  const replaced = new Set(facts.replaced.filter(({ atUtc }) => atUtc <= sentUtc).flatMap(({ runs }) => runs));
  const jars: readonly JarSpan[] = numbers?.map((n) => ({ from: n, to: n })) ?? [{ from: 1, to: facts.jars }];
  const before = facts.runs.filter((run) => run.atUtc <= sentUtc && overlapsSpans(jars, run));
  const isUnlabelled = subtractSpans(jars, before).length > 0;
  const lacks = [
    ...before.filter(({ run }) => !replaced.has(run)).flatMap((run) => missingAllergens(run, facts)),
    ...(isUnlabelled ? facts.allergens.filter((each) => isRecordedAfter(sentUtc, facts.since[each])) : []),
  ];
  return [...new Set(lacks)];
}

const formatJarCount = (sent: readonly SentJars[]): string => {
  const jars = sent.reduce((sum, each) => sum + each.jars, 0);
  return `${jars} ${jars === 1 ? 'jar' : 'jars'}`;
};

const mostBuyers = 5;

/** `8 to Millrace Green market 2026-04-11, 2 to Anna 2026-04-12`, and how many buyers more. */
function formatBuyers(sent: readonly SentJars[]): string {
  const named = sent.slice(0, mostBuyers).map(({ jars, to, sentAt }) => `${jars} to ${to} ${sentAt.slice(0, 10)}`);
  return [...named, ...(sent.length > mostBuyers ? [`and ${sent.length - mostBuyers} more`] : [])].join(', ');
}
