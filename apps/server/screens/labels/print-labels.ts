import { leftOutSentences } from '#libs/actions/labels/label-run.js';
import { printLabels } from '#libs/actions/labels/print-labels.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import { one, type Posted } from '../../forms/field-view.js';
import type { Principal } from '../../http/principal.js';
import { labelForm } from './label-form.js';

/** Prints what the form asks for, and answers where its sheet is. */
export async function printFromForm(
  principal: Principal,
  code: string,
  posted: Posted,
): Promise<{ pdf: string; notes: readonly string[] } | Refusal> {
  const request = await labelForm(principal, posted);
  if ('problem' in request) return request;
  const printed = await printLabels(principal.book, principal.writeContext, { ...request, lot: code });
  if ('problem' in printed) return printed;
  const { lot, run, from, to, jars } = printed;
  const query = new URLSearchParams({
    stock: run.stock.name,
    from: String(from),
    to: String(to),
    skip: String(run.skip ?? 0),
    right: String(run.nudge?.rightMm ?? 0),
    down: String(run.nudge?.downMm ?? 0),
    ...Object.fromEntries(
      ['symbol', 'gtin', 'dpi', 'design'].flatMap((name) => (one(posted[name]) ? [[name, one(posted[name])]] : [])),
    ),
  });
  return { pdf: `/lots/${lot.code}/labels.pdf?${query.toString()}`, notes: leftOutSentences(jars) };
}
