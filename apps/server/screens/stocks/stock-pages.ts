import { labelStockFields } from '#libs/actions/kinds/label-stock.js';
import { loadStocks, labelsPerPage, type Stock } from '#libs/labels/stocks/stocks.js';
import { loadOwnStocks } from '#libs/actions/labels/label-stocks.js';
import { formContext, formGroups, problemView, type SubmittedForm } from '../../forms/form-view.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { stockPreview } from './stock-preview.js';

/** The house's own label sheets, the retired ones, and those that come with the program. */
export async function stocksPage(principal: Principal) {
  const view = (stock: Stock) => ({ name: stock.name, text: stock.words, each: labelsPerPage(stock) });
  return {
    title: 'Label sheets',
    here: 'packs',
    own: (await loadOwnStocks(readerOf(principal))).map(view),
    retired: (await loadOwnStocks(readerOf(principal), 'put away')).map(view),
    shipped: loadStocks().map(view),
  };
}

const groups = [
  { names: ['id', 'words', 'feed', 'cut'] },
  { legend: 'The page', names: ['pageWidth', 'pageHeight', 'left', 'top'] },
  { legend: 'The labels', names: ['columns', 'rows', 'labelWidth', 'labelHeight', 'pitchX', 'pitchY', 'corner'] },
  { folded: 'Note, initials', names: ['note', 'by'] },
];

/** The form with what was typed, beside a preview of the sheet and one label. */
export async function newStockPage(principal: Principal, sent: SubmittedForm) {
  const houseContext = await formContext(principal);
  return {
    title: 'Add a label sheet',
    here: 'packs',
    problem: problemView(sent.problem, labelStockFields),
    groups: formGroups(labelStockFields, groups, houseContext, sent),
    drawn: stockPreview(sent.posted ?? {}, houseContext),
  };
}
