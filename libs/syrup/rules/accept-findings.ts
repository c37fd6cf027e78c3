import { type JarSpan, mergedSpans } from '../jars/held-jars.js';
import { holdsAll } from '../quantities/jar-spans.js';
import { type Evidence, sameEvidence } from './finding-evidence.js';
import { clearsOf } from './rules.js';
import { storedSentencesOf } from './stored-sentences.js';
import { type Acceptance, type Finding, identity } from './verdict.js';

/** A finding that a release accepted, as the release stores it, with who released the lot, when and why. */
export interface AcceptedFinding extends Acceptance {
  readonly rule: string;
  /** The sentence that the person accepted. */
  readonly found: string;
  /** What the finding rests on. Absent in releases from before it was stored: they are matched by their sentence. */
  readonly evidence?: Evidence | undefined;
  /** The jars that it held, where its rule knows them. */
  readonly jars?: readonly JarSpan[] | undefined;
}

/** What a release stores of a finding that it accepts. */
export const asAccepted = (finding: Finding): Pick<AcceptedFinding, 'rule' | 'found' | 'evidence' | 'jars'> => ({
  rule: finding.rule,
  found: finding.found,
  ...finding[identity],
});

/**
 * The findings, with those that a release accepted marked as such: they no longer hold, but remain visible, in the words
 * that were accepted.
 */
export function withAccepted(findings: readonly Finding[], accepted: readonly AcceptedFinding[]): Finding[] {
  return findings.map((finding) => {
    if (!finding.stop || clearsOf(finding.rule) === 'evidence') return finding;
    const release = accepted.findLast((each) => accepts(each, finding));
    if (!release) return finding;
    if (clearsOf(finding.rule) === 'authority' && !release.authority) return finding;
    return { ...finding, stop: false, found: release.found, accepted: acceptanceOf(release) };
  });
}

/**
 * Whether a release accepted this finding: the same evidence and no more jars; another value is another finding. A
 * release from before the evidence was stored accepted a sentence of its time.
 */
function accepts(release: AcceptedFinding, finding: Finding): boolean {
  const now = finding[identity];
  if (release.rule !== finding.rule || !now) return false;
  if (!release.evidence) return storedSentencesOf(finding.rule, now.evidence).includes(release.found);
  return sameEvidence(release.evidence, now.evidence) && holdsNoMore(now.jars, release.jars);
}

/** Jars may leave a hold by being destroyed; undefined is all that there are. */
const holdsNoMore = (now: readonly JarSpan[] | undefined, accepted: readonly JarSpan[] | undefined): boolean =>
  accepted === undefined || (now !== undefined && holdsAll(accepted, now));

const acceptanceOf = ({ by, at, why, authority, askedAt, answer }: AcceptedFinding): Acceptance => ({
  by,
  at,
  why,
  ...(authority === undefined ? {} : { authority }),
  ...(askedAt === undefined ? {} : { askedAt }),
  ...(answer === undefined ? {} : { answer }),
});

/** The jars held, where every hold names its jars; undefined where one holds the whole pack, or nothing holds. */
export function heldJarsOf(findings: readonly Finding[]): readonly JarSpan[] | undefined {
  const holds = findings.filter(({ stop }) => stop);
  if (holds.length === 0) return undefined;
  const spans = holds.flatMap(({ jars }) => jars ?? []);
  return holds.some(({ jars }) => jars === undefined) ? undefined : mergedSpans(spans);
}
