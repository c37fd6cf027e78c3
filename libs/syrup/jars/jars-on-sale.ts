import { type JarsActedOn, takesOffSale } from './acted-jars.js';
import type { JarSpan } from './held-jars.js';
import { holdsAll, without } from '../quantities/jar-spans.js';
import type { Finding } from '../rules/verdict.js';

/** What destroying or pouring back jars doesn't end: it goes on in the syrup. */
const goesOn: readonly string[] = [
  'mould',
  'mould-looked-at',
  'spoilage-question',
  'harm-question',
  'harm-reported',
  'held-upstream',
  'broken-glass',
];

export interface OffSale {
  /** Jars poured back or destroyed. */
  readonly gone: readonly JarSpan[];
  readonly jars: number | null;
  readonly actions: readonly JarsActedOn[];
}

/**
 * Findings after the jars that are off sale: a hold of some jars keeps those that are left, and where every jar is off
 * sale, a hold of the whole pack holds nothing more and stays a deviation, settled by who took the last ones off.
 */
export function jarsOnSale(findings: readonly Finding[], { gone, jars, actions }: OffSale): Finding[] {
  if (gone.length === 0 || jars === null) return [...findings];
  const allGone = holdsAll(gone, [{ from: 1, to: jars }]);
  const last = actions.findLast(takesOffSale);
  const accepted = { by: last?.by ?? '', at: last?.at ?? '', why: 'every jar of it was poured back or destroyed' };
  return findings.flatMap((finding) => {
    if (!finding.stop || goesOn.includes(finding.rule)) return [finding];
    if (allGone) return [{ ...finding, stop: false, accepted }];
    if (!finding.jars) return [finding];
    const left = without(finding.jars, gone);
    return left.length > 0 ? [{ ...finding, jars: left }] : [];
  });
}
