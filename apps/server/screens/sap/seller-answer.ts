import { receiptFields, receipts } from '#libs/actions/kinds/receipt.js';
import { invalid, type Refusal, unknown } from '#libs/actions/record/problem.js';
import type { Recorded } from '#libs/actions/record/record.js';
import { findRecord } from '#libs/store/queries/lots.js';
import type { FormPageProps } from '#pages/form-page.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { formContext, formGroups, problemView, type SubmittedForm } from '../../forms/form-view.js';
import { writeRecord } from '../../forms/write-record.js';
import { type Principal, readerOf } from '../../http/principal.js';

/**
 * Fills in the seller's answer about the allergens of bought syrup. Refused where another is recorded: that is corrected,
 * with a reason.
 */
export async function answerAllergens(principal: Principal, id: string, posted: Posted): Promise<Recorded | Refusal> {
  if (firstText(posted['allergens']).trim() === '')
    return invalid('allergens', 'what the seller’s label declares, or “none”', 'nothing');
  return writeRecord(principal, receipts, posted, {}, { add: true, of: id });
}

/** The form for that answer; `back` is the lot to whose page it leads back. */
export async function sellerAnswerPage(
  principal: Principal,
  id: string,
  back: string,
  sent: SubmittedForm = {},
): Promise<FormPageProps | Refusal> {
  const receipt = await findRecord(readerOf(principal), 'receipt', id);
  if (!receipt) return unknown('receipt', id);
  const lot = back || id;
  return {
    title: `Allergens of ${id}`,
    here: 'today',
    crumb: { href: `/lots/${encodeURIComponent(lot)}`, text: lot },
    sentence: `Bought from ${receipt.body.supplier}, ${receipt.body.contact}. What does the seller’s label declare, or what did the seller answer? “None” is an answer.`,
    form: {
      action: `/sap/receipts/${encodeURIComponent(id)}/allergens?back=${encodeURIComponent(lot)}`,
      submitLabel: 'Save',
      problem: problemView(sent.problem, receiptFields),
      groups: formGroups(receiptFields, [{ names: ['allergens'] }], await formContext(principal), sent, {
        when: 'live',
      }),
    },
  };
}
