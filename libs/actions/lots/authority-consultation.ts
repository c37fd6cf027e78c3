import { clearanceOf, ruleTitle } from '#libs/syrup/rules/rules.js';
import type { Finding } from '#libs/syrup/rules/verdict.js';
import type { Fault, Refusal } from '../record/problem.js';
import { refused } from '../record/problem.js';

/** Which authority an owner asked before releasing what these rules don't judge, when, and its answer; as typed. */
export interface AuthorityConsultation {
  readonly authority?: string | undefined;
  readonly askedAt?: string | undefined;
  readonly answer?: string | undefined;
  /** Only an owner's release may rest on an authority's answer. */
  readonly byOwner: boolean;
}
export const noConsultation: AuthorityConsultation = { byOwner: false };

/**
 * Why a release of these holds can't rest on an authority's answer; undefined where it can, or where none needs one.
 */
export function refuseWithoutAuthority(
  lot: string,
  holds: readonly Finding[],
  consultation: AuthorityConsultation,
): Refusal | undefined {
  const hold = holds.find(({ rule }) => clearanceOf(rule) === 'authority');
  if (!hold) return undefined;
  if (!consultation.byOwner)
    return refused(
      hold.rule,
      `${lot} stays held. ${ruleTitle(hold.rule)}: found ${hold.found} Only an owner may release it. ${hold.wayOut ?? ''}`.trim(),
    );
  const faults = (Object.entries(expectedText) as [keyof typeof expectedText, string][]).flatMap(
    ([field, expected]): Fault[] =>
      (consultation[field] ?? '').trim() === '' ? [{ field, expected, got: 'nothing' }] : [],
  );
  return faults.length > 0 ? { problem: { kind: 'invalid', faults } } : undefined;
}

const expectedText = {
  authority: 'who was asked, such as the state department of agriculture',
  askedAt: 'when they were asked, such as 2026-04-02',
  answer: 'the answer of the authority',
} as const;

/** Stored with an accepted finding, only where its rule needs an authority. */
export const consultationFor = (
  finding: Finding,
  consultation: AuthorityConsultation,
): Partial<Omit<AuthorityConsultation, 'byOwner'>> =>
  clearanceOf(finding.rule) === 'authority'
    ? {
        authority: consultation.authority?.trim(),
        askedAt: consultation.askedAt?.trim(),
        answer: consultation.answer?.trim(),
      }
    : {};

/** Part of the hashed text that identifies a repeated release: empty where no authority was asked. */
export const consultationTexts = ({
  authority,
  askedAt,
  answer,
}: AuthorityConsultation): Readonly<Record<string, string>> =>
  Object.fromEntries(
    Object.entries({ authority, askedAt, answer }).flatMap(([name, text]) => (text ? [[name, text]] : [])),
  );
