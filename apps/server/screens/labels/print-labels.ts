import { leftOutSentences } from '#libs/actions/labels/label-run.js';
import { findStockLastUsed } from '#libs/actions/labels/stock-last-used.js';
import { defaultStock, stocksInOrder } from '#libs/actions/labels/label-stocks.js';
import { printLabels } from '#libs/actions/labels/print-labels.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { parseLabelForm } from './label-form.js';
import { runQuery } from './run-query.js';

/** Prints the form's label run, and returns the address of its sheet. */
export async function printFromForm(
  principal: Principal,
  code: string,
  posted: Posted,
): Promise<{ at: string; notes: readonly string[] } | Refusal> {
  const request = await parseLabelForm(principal, posted);
  if ('problem' in request) return request;
  const isFirst = await isFirstOnStock(principal, request.stock);
  const printed = await printLabels(principal.book, principal.writeContext, { ...request, lot: code });
  if ('problem' in printed) return printed;
  const { lot, jars } = printed;
  const query = new URLSearchParams({
    ...runQuery(printed),
    ...Object.fromEntries(
      ['symbol', 'gtin', 'dpi', 'design', 'typeface', 'colour'].flatMap((name) =>
        firstText(posted[name]) ? [[name, firstText(posted[name])]] : [],
      ),
    ),
  });
  const notes = leftOutSentences(jars);
  if (firstText(posted['with']) === 'device') {
    if (isFirst) query.set('first', 'yes');
    return { at: `/lots/${lot.code}/labels/print?${query.toString()}`, notes };
  }
  return { at: `/lots/${lot.code}/labels.pdf?${query.toString()}`, notes };
}

/** Whether nothing was printed on the stock yet, so that its alignment sheet is offered first. */
async function isFirstOnStock(principal: Principal, name: string | undefined): Promise<boolean> {
  const reader = readerOf(principal);
  const stock = name ?? (await defaultStock(reader, await stocksInOrder(reader)))?.name;
  return stock !== undefined && (await findStockLastUsed(reader, stock)) === undefined;
}
