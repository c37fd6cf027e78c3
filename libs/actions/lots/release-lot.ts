import { asSentence } from '#libs/format/as-sentence.js';
import type { Book } from '#libs/store/book.js';
import { canonicalJson, hashOf } from '#libs/store/log/canonical.js';
import { type AcceptedFinding, toAcceptedFinding, withAccepted } from '#libs/syrup/rules/accept-findings.js';
import { clearanceOf, ruleTitle } from '#libs/syrup/rules/rules.js';
import type { Finding, Verdict } from '#libs/syrup/rules/verdict.js';
import {
  type AuthorityConsultation,
  consultationFor,
  consultationTexts,
  refuseWithoutAuthority,
  noConsultation,
} from './authority-consultation.js';
import type { LotState } from '#libs/records/entry.js';
import type { WriteContext } from '../record/write-context.js';
import { judgeLots } from '../judging/judge-lots.js';
import { type Refusal, refused } from '../record/problem.js';
import { changeStatus, type DecideStates, type StatusChanged } from './change-status.js';

/**
 * Releases a held lot after judging it again. Refused where a hold rule needs new evidence; a hold that a release may
 * accept is accepted with the reason, by what its finding rests on, and holds again when that changes. Refused too where
 * a page showed other holds (`holdsShown`): a check of a thermometer changes them without an entry about the lot.
 */
export const releaseLot = (
  book: Book,
  context: WriteContext,
  code: string,
  why: string,
  consultation: AuthorityConsultation = noConsultation,
): Promise<StatusChanged | Refusal> =>
  changeStatus(book, context, {
    lot: code,
    why,
    entryType: 'release',
    decide: decideRelease(context, why, consultation),
    fields: consultationTexts(consultation),
  });

const decideRelease =
  (context: WriteContext, why: string, consultation: AuthorityConsultation): DecideStates =>
  async ({ tx, houseContext, lot, at }) => {
    const judging = { sql: tx.sql, sugarhouse: context.sugarhouse, houseContext, at };
    const [judged] = await judgeLots(judging, [lot.code]);
    const state = judged?.state ?? lot.state;
    if (lot.state !== 'held' && state !== 'held') return refused('not-held', nothingToRelease(lot.code, state));
    const judgedVerdict = judged?.verdict ?? lot.verdict;
    const holds = judgedVerdict?.findings.filter((finding) => finding.stop) ?? [];
    const unresolved = holds.filter(({ rule }) => clearanceOf(rule) === 'evidence');
    if (unresolved.length > 0) return refuseUnresolved(lot.code, unresolved);
    if (context.holdsShown !== undefined && context.holdsShown !== holdsFingerprint(holds))
      return refuseChangedHolds(lot.code);
    const missing = refuseWithoutAuthority(lot.code, holds, consultation);
    if (missing) return missing;
    const accepting = holds.map((hold) => ({ ...toAcceptedFinding(hold), ...consultationFor(hold, consultation) }));
    const accepted = accepting.map((each) => ({ ...each, by: context.by, at, why }));
    return {
      said: accepted.length > 0 ? { accepted: accepting } : undefined,
      accepting: accepted,
      judged: [
        {
          lot: lot.code,
          state: 'released',
          heldSince: lot.heldSince,
          verdict: releasedVerdict(judgedVerdict, accepted),
        },
      ],
    };
  };

/** Marks what holds a lot, of findings just made: another value, other jars or another hold have another mark. */
export const holdsFingerprint = (findings: readonly Finding[]): string =>
  hashOf(
    canonicalJson(
      findings
        .filter(({ stop }) => stop)
        .map(toAcceptedFinding)
        .map(({ rule, found, evidence, jars }) => ({ rule, ...(evidence ? { evidence, jars } : { found }) })),
    ),
  );

const refuseChangedHolds = (lot: string): Refusal =>
  refused(
    'holds-changed',
    `${lot} stays held: what holds it has changed since this page was opened. Read it again, then release it.`,
  );

/** The sentence for a lot that is not held. */
export const nothingToRelease = (lot: string, state: LotState): string =>
  `${lot} is ${state}, not held: there is nothing to release.`;

function releasedVerdict(verdict: Verdict | undefined, accepted: readonly AcceptedFinding[]): Verdict | undefined {
  if (!verdict) return undefined;
  const { awaitsRelease: _, heldJars: __, ...rest } = verdict;
  return { ...rest, findings: withAccepted(verdict.findings, accepted) };
}

/** Holds that an answer, another lot or destroying clears, and no corrective action on jars. */
const notClearedByAction: readonly string[] = [
  'mould',
  'mould-looked-at',
  'spoilage-question',
  'harm-question',
  'harm-reported',
  'harm-in-same-syrup',
  'note-question',
  'unit-question',
  'container-question',
  'held-upstream',
  'defoamer-allergens',
  'allergen-contradiction',
  'bought-syrup-allergens',
  'undeclared-allergen',
  'undeclared-allergen-sent',
  'label-net-quantity',
  'labels-replaced',
  'outside-these-rules',
];

function refuseUnresolved(lot: string, holds: readonly Finding[]): Refusal {
  const [first] = holds;
  const remedies = [...new Set(holds.flatMap(({ wayOut }) => wayOut ?? []))];
  const isActedOn = holds.some(({ rule }) => !notClearedByAction.includes(rule));
  const act = isActedOn ? ['Then record the corrective action with its jars and its cause.'] : [];
  return refused(
    first?.rule ?? 'stop',
    `${lot} stays held. ${holds.map((hold) => `${ruleTitle(hold.rule)}: found ${asSentence(hold.found)} Required: ${asSentence(hold.limit)}`).join(' ')} ${[...remedies, ...act].join(' ')}`,
  );
}
