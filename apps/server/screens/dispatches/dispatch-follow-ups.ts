import { acknowledgementFields, acknowledgements, reportsAlreadyLeft } from '#libs/actions/kinds/acknowledgement.js';
import { type Refusal, unknown } from '#libs/actions/record/problem.js';
import { dispatches, dispatchFields } from '#libs/actions/kinds/dispatch.js';
import type { DispatchBody } from '#libs/records/kinds/dispatch.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { type Posted } from '../../forms/field-view.js';
import { formContext, formGroups, problemView, type SubmittedForm } from '../../forms/form-view.js';
import { writeRecord } from '../../forms/write-record.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { many } from '../../text/amounts.js';

/**
 * Questions about a dispatch afterwards: initials for jars that had already left, and the condition of returned jars.
 */
export async function dispatchFollowUps(principal: Principal, id: string, { body }: { readonly body: DispatchBody }) {
  const [report] = body.alreadyLeft === 'yes' ? await alreadyLeftReports(principal, id, body.lot) : [];
  return {
    initials: report && !report.acknowledged ? `/dispatches/${encodeURIComponent(id)}/acknowledge` : undefined,
    initialled: report?.acknowledged,
    inspect:
      body.kind === 'returned' && body.sealed === undefined
        ? `/dispatches/${encodeURIComponent(id)}/inspection`
        : undefined,
  };
}

const alreadyLeftReports = async (principal: Principal, id: string, lot: string) =>
  (await reportsAlreadyLeft(readerOf(principal), lot)).filter(({ dispatch }) => dispatch.id === id);

/** Records a maker's initials for jars that were reported as already gone. */
export const acknowledge = (principal: Principal, id: string, posted: Posted) =>
  writeRecord(principal, acknowledgements, posted, { dispatch: id });

/** The condition of returned jars: filled in where the return left it blank. */
export const saveInspection = (principal: Principal, id: string, posted: Posted) =>
  writeRecord(principal, dispatches, posted, {}, { add: true, of: id });

/** The form for a maker's initials on a dispatch; a refusal where there is no such dispatch. */
export async function acknowledgePage(principal: Principal, id: string, sent: SubmittedForm = {}) {
  const dispatch = await findRecord(readerOf(principal), 'dispatch', id);
  if (!dispatch) return unknown('dispatch', id) satisfies Refusal;
  const houseContext = await formContext(principal);
  const { jars, lot, to } = dispatch.body;
  return {
    title: `Initial ${id}`,
    here: 'packs',
    crumb: { href: `/records/dispatch/${encodeURIComponent(id)}`, text: id },
    sentence: `${many(jars, 'jar')} of ${lot} had already left, to ${to}. Your initials say that you know about it.`,
    form: {
      action: `/dispatches/${encodeURIComponent(id)}/acknowledge`,
      submitLabel: 'Add my initials',
      problem: problemView(sent.problem, acknowledgementFields),
      groups: formGroups(acknowledgementFields, [{ names: ['note'] }], houseContext, sent),
    },
  };
}

/** The form for the condition of returned jars; a refusal where the dispatch is no return. */
export async function inspectionPage(principal: Principal, id: string, sent: SubmittedForm = {}) {
  const dispatch = await findRecord(readerOf(principal), 'dispatch', id);
  if (dispatch?.body.kind !== 'returned') return unknown('return', id) satisfies Refusal;
  const houseContext = await formContext(principal);
  const { jars, lot, to } = dispatch.body;
  return {
    title: `Returned jars and complaints: ${id}`,
    here: 'packs',
    crumb: { href: `/records/dispatch/${encodeURIComponent(id)}`, text: id },
    sentence: `${many(jars, 'jar')} of ${lot} from ${to}. Check each lid: drawn down, does not flex, no leak. Only sealed jars that are known to have been kept well go back on the shelf; the others stay apart until they are destroyed.`,
    form: {
      action: `/dispatches/${encodeURIComponent(id)}/inspection`,
      submitLabel: 'Save',
      problem: problemView(sent.problem, dispatchFields),
      groups: formGroups(dispatchFields, [{ names: ['sealed', 'keptHow'] }], houseContext, sent),
    },
  };
}
