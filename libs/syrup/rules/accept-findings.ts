import { type JarSpan, mergeSpans, coversSpans } from '../jars/jar-spans.js';
import { type Evidence, sameEvidence } from './finding-evidence.js';
import { clearanceOf } from './rules.js';
import { storedSentencesOf } from './stored-sentences.js';
import { type Acceptance, type Finding, identity } from './verdict.js';

/** A finding that a release accepted, as the release stores it, with who released the lot, when and why. */
export interface AcceptedFinding extends Acceptance {
  readonly rule: string;
  /** The sentence that the person accepted. */
  readonly found: string;
  /** The evidence of the finding. Absent in releases from before it was stored: they are matched by their sentence. */
  readonly evidence?: Evidence | undefined;
  /** The jars that it held, where its rule knows them. */
  readonly jars?: readonly JarSpan[] | undefined;
}

/** What a release stores of a finding that it accepts. */
export const toAcceptedFinding = (finding: Finding): Pick<AcceptedFinding, 'rule' | 'found' | 'evidence' | 'jars'> => ({
  rule: finding.rule,
  found: finding.found,
  ...finding[identity],
});

/**
 * Marks the findings that a release accepted: they no longer hold, but remain deviations, with the sentence that was
 * accepted. A rule that only evidence clears is never accepted; one for the authority only with an authority's answer.
 */
export function withAccepted(findings: readonly Finding[], accepted: readonly AcceptedFinding[]): Finding[] {
  return findings.map((finding) => {
    if (!finding.stop || clearanceOf(finding.rule) === 'evidence') return finding;
    const release = accepted.findLast((each) => accepts(each, finding));
    if (!release) return finding;
    if (clearanceOf(finding.rule) === 'authority' && !release.authority) return finding;
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
  return sameEvidence(release.evidence, now.evidence) && holdsNoMoreJars(now.jars, release.jars);
}

/** Whether the finding holds no jars that the release didn’t accept; undefined means every jar. */
const holdsNoMoreJars = (now: readonly JarSpan[] | undefined, accepted: readonly JarSpan[] | undefined): boolean =>
  accepted === undefined || (now !== undefined && coversSpans(accepted, now));

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
  return holds.some(({ jars }) => jars === undefined) ? undefined : mergeSpans(spans);
}
