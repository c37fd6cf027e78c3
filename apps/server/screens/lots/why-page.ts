import { loadJudgingContext } from '#libs/actions/judging/judge-now.js';
import { signatureSentences } from '#libs/records/signatures.js';
import { verificationFields } from '#libs/actions/kinds/verification.js';
import { stateText, explainState } from '#libs/actions/lots/explain-state.js';
import { formContext, formGroups, problemView, type SubmittedForm } from '../../forms/form-view.js';
import { lastSeenFor } from '../../forms/last-seen.js';
import type { Principal } from '../../http/principal.js';
import { ruleTitle } from '#libs/syrup/rules/rules.js';

/** Each hold rule with the evidence for it: readings, thermometer and its check, the person, what was not recorded. */
export async function whyPage(principal: Principal, code: string) {
  const why = await explainState(await loadJudgingContext(principal.book.read, principal.writeContext), code);
  if ('problem' in why) return why;
  return {
    title: why.status === 'open' ? `Rules checked for ${why.lot}` : `Why is ${why.lot} ${why.status}?`,
    here: 'packs',
    code: why.lot,
    state: why.status,
    kind: why.kind,
    lines: why.rules.map((line) => ({ ...line, text: ruleTitle(line.rule), stateText: stateText[line.state] })),
    signatures: signatureSentences(why.signatures, why.kind),
  };
}

/** The form by which a second person verifies a lot's records. */
export async function verifyPage(principal: Principal, code: string, sent: SubmittedForm = {}) {
  const seen = await lastSeenFor(principal, sent.problem, code);
  const houseContext = await formContext(principal);
  return {
    title: `Verify ${code}`,
    here: 'packs',
    crumb: { href: `/lots/${code}`, text: code },
    sentence:
      'A second person reviews the records: the readings, the thermometer check, what was held and why it was released. Your initials and the time are recorded.',
    form: {
      action: `/lots/${code}/verify`,
      submitLabel: 'Sign the review',
      ...seen,
      problem: problemView(sent.problem, verificationFields),
      groups: formGroups(verificationFields, [{ names: ['note'] }], houseContext, sent),
    },
  };
}
