import { mergedSpans, type JarSpan } from '../jars/held-jars.js';
import { clearsOf } from './rules.js';
import type { Acceptance, Finding } from './verdict.js';

/** A finding that a release accepted, identified by its text: different evidence makes a different finding. */
export interface AcceptedFinding extends Acceptance {
  readonly rule: string;
  readonly found: string;
}

/** The findings, with those that a release accepted marked as such: they no longer hold, but remain visible. */
export function withAccepted(findings: readonly Finding[], accepted: readonly AcceptedFinding[]): Finding[] {
  return findings.map((finding) => {
    if (!finding.stop || clearsOf(finding.rule) === 'evidence') return finding;
    const by = accepted.findLast((each) => each.rule === finding.rule && each.found === finding.found);
    if (!by) return finding;
    if (clearsOf(finding.rule) === 'authority' && !by.authority) return finding;
    const { rule: _, found: __, ...acceptance } = by;
    return { ...finding, stop: false, accepted: acceptance };
  });
}

/** The jars held, where every hold names its jars; undefined where one holds the whole pack, or nothing holds. */
export function heldJarsOf(findings: readonly Finding[]): readonly JarSpan[] | undefined {
  const holds = findings.filter(({ stop }) => stop);
  if (holds.length === 0) return undefined;
  const spans = holds.flatMap(({ jars }) => jars ?? []);
  return holds.some(({ jars }) => jars === undefined) ? undefined : mergedSpans(spans);
}
