import type { JarSpan } from './held-jars.js';
import { holdsAll, without } from './jar-spans.js';
import type { Finding } from './verdict.js';

/** What destroying or pouring back jars doesn't end: it goes on in the syrup. */
const goesOn: readonly string[] = ['mould', 'mould-looked-at', 'spoilage-question', 'held-upstream', 'broken-glass'];

/**
 * Findings after the jars that are off sale: a hold of some jars keeps those that are left, and where every jar is off
 * sale, a hold of the whole pack holds nothing more and stays to be read.
 */
export function jarsOnSale(findings: readonly Finding[], gone: readonly JarSpan[], jars: number | null): Finding[] {
  if (gone.length === 0 || jars === null) return [...findings];
  const allGone = holdsAll(gone, [{ from: 1, to: jars }]);
  return findings.flatMap((finding) => {
    if (!finding.stop || goesOn.includes(finding.rule)) return [finding];
    if (allGone) return [{ ...finding, stop: false }];
    if (!finding.jars) return [finding];
    const left = without(finding.jars, gone);
    return left.length > 0 ? [{ ...finding, jars: left }] : [];
  });
}
