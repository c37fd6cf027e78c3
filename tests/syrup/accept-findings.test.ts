import { describe, expect, test } from '@jest/globals';
import {
  type AcceptedFinding,
  toAcceptedFinding,
  heldJarsOf,
  withAccepted,
} from '#libs/syrup/rules/accept-findings.js';
import type { Evidence, GapEvidence, ProductEvidence } from '#libs/syrup/rules/finding-evidence.js';
import { findingOf } from '#libs/syrup/rules/rules.js';
import { storedSentencesOf } from '#libs/syrup/rules/stored-sentences.js';
import type { Finding } from '#libs/syrup/rules/verdict.js';

type Jars = readonly { readonly from: number; readonly to: number }[];

const jars13to24: Jars = [{ from: 13, to: 24 }];
const gap: GapEvidence = { everyJars: 12, gaps: [{ by: 'jars', from: 13, to: 24, readings: 0 }] };
/** A hold that a maker's reason clears. */
const gapFinding = (evidence: GapEvidence = gap, jars: Jars | 'whole pack' = jars13to24): Finding => {
  const held = jars === 'whole pack' ? undefined : jars;
  return findingOf('readings-too-far-apart', {
    limit: 'a reading every 12 jars',
    found: 'no reading for jars 13–24',
    jars: held,
    identity: { evidence, jars: held },
  });
};

const infused: ProductEvidence = { kind: 'infused', product: 'infused', pouredFrom: [] };
/** A hold that only an authority's answer clears. */
const productFinding = (evidence: ProductEvidence = infused): Finding =>
  findingOf('outside-these-rules', {
    limit: 'pure maple syrup',
    found: 'product: infused',
    identity: { evidence },
  });

/** A hold that only a record clears, such as a jar that is filled again. */
const cold: Finding = findingOf('fill-temperature', { limit: '180 °F or more', found: '170 °F at the first reading' });

const released = { by: 'WE', at: '2026-04-01T09:00:00-04:00', why: 'sealed well, watched for a week' };
const releaseOf = (finding: Finding, more: Partial<AcceptedFinding> = {}): AcceptedFinding => ({
  ...toAcceptedFinding(finding),
  ...released,
  ...more,
});
const holds = (finding: Finding, ...releases: AcceptedFinding[]): boolean =>
  withAccepted([finding], releases).some(({ stop }) => stop);

describe('A release with a reason', () => {
  test('accepts the same finding again, in the words that were accepted, with who released it and why', () => {
    const [found] = withAccepted([gapFinding()], [releaseOf(gapFinding(), { found: 'in the words of then' })]);
    expect(found).toMatchObject({ stop: false, found: 'in the words of then', accepted: released });
  });

  test('does not accept a finding of another rule, with other evidence, or of more jars', () => {
    expect(holds(gapFinding(), releaseOf(productFinding()))).toBe(true);
    const longer: GapEvidence = { everyJars: 12, gaps: [{ by: 'jars', from: 13, to: 30, readings: 0 }] };
    expect(holds(gapFinding(longer), releaseOf(gapFinding()))).toBe(true);
    expect(holds(gapFinding(gap, [{ from: 13, to: 25 }]), releaseOf(gapFinding()))).toBe(true);
    expect(holds(gapFinding(gap, 'whole pack'), releaseOf(gapFinding()))).toBe(true);
  });

  test('accepts as many jars or fewer, and any jars where the whole pack was accepted', () => {
    expect(holds(gapFinding(gap, [{ from: 14, to: 20 }]), releaseOf(gapFinding()))).toBe(false);
    const ofWholePack = releaseOf(gapFinding(gap, 'whole pack'));
    expect(holds(gapFinding(), ofWholePack)).toBe(false);
    expect(holds(gapFinding(gap, 'whole pack'), ofWholePack)).toBe(false);
  });

  test('does not accept what only a record clears, nor a finding read back from the log, which has no evidence', () => {
    expect(holds(cold, releaseOf(cold))).toBe(true);
    const fromLog = JSON.parse(JSON.stringify(gapFinding())) as Finding;
    expect(holds(fromLog, releaseOf(gapFinding()))).toBe(true);
    const { evidence: _evidence, ...withoutEvidence } = releaseOf(gapFinding());
    expect(holds(fromLog, withoutEvidence)).toBe(true);
  });

  test('leaves an advisory as it is', () => {
    const advisory = { ...gapFinding(), stop: false };
    expect(withAccepted([advisory], [releaseOf(gapFinding())])).toEqual([advisory]);
  });

  test('is found among several; the newest of two counts', () => {
    const other = releaseOf(productFinding());
    expect(holds(gapFinding(), other, releaseOf(gapFinding()), other)).toBe(false);
    const two = [releaseOf(gapFinding()), releaseOf(gapFinding(), { by: 'OE' })];
    expect(withAccepted([gapFinding()], two)[0]?.accepted?.by).toBe('OE');
  });

  test('from before evidence was stored is matched by its sentence', () => {
    const { evidence: _evidence, jars: _jars, ...old } = releaseOf(gapFinding());
    const [sentence = ''] = storedSentencesOf('readings-too-far-apart', gap);
    expect(sentence).not.toBe('');
    expect(holds(gapFinding(), { ...old, found: sentence })).toBe(false);
    expect(holds(gapFinding(), { ...old, found: `${sentence}, and more` })).toBe(true);
  });
});

describe('A release of what an authority must answer', () => {
  const answered = { authority: 'State dairy and food office', askedAt: '2026-03-30', answer: 'yes, with its name' };

  test('needs the authority that was asked, which it keeps with the answer', () => {
    expect(holds(productFinding(), releaseOf(productFinding()))).toBe(true);
    const [found] = withAccepted([productFinding()], [releaseOf(productFinding(), answered)]);
    expect(found).toMatchObject({ stop: false, accepted: { ...released, ...answered } });
  });

  test('is for that product: another needs another answer, whatever the order of its evidence', () => {
    const flavoured: ProductEvidence = { kind: 'flavoured', product: 'flavoured', pouredFrom: [] };
    expect(holds(productFinding(flavoured), releaseOf(productFinding(), answered))).toBe(true);
    const evidence: Evidence = { pouredFrom: [], product: 'infused', kind: 'infused' };
    expect(holds(productFinding(), releaseOf(productFinding(), { ...answered, evidence }))).toBe(false);
  });

  test('leaves out of the acceptance what was not recorded', () => {
    const [found] = withAccepted([gapFinding()], [releaseOf(gapFinding())]);
    expect(Object.keys(found?.accepted ?? {}).sort()).toEqual(['at', 'by', 'why']);
  });
});

test('The held jars are those of every hold; one that names none holds the whole pack, and no hold holds none', () => {
  const others = gapFinding(gap, [{ from: 20, to: 30 }]);
  expect(heldJarsOf([gapFinding(), others])).toEqual([{ from: 13, to: 30 }]);
  expect(heldJarsOf([gapFinding(), cold])).toBeUndefined();
  expect(heldJarsOf([{ ...gapFinding(), stop: false }])).toBeUndefined();
  expect(heldJarsOf([{ ...cold, stop: false }, gapFinding()])).toEqual([{ from: 13, to: 24 }]);
  expect(heldJarsOf([])).toBeUndefined();
});
