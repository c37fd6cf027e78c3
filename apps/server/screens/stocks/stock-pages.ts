import { labelStockFields } from '#libs/actions/kinds/label-stock.js';
import { loadStocks, labelsPerPage, type Stock } from '#libs/labels/stocks/stocks.js';
import { ownStocksOf } from '#libs/actions/labels/stocks-of.js';
import { formGround, formGroups, problemView, type Sent } from '../../forms/form-view.js';
import type { Visitor } from '../../http/principal.js';
import { stockPreview } from './stock-preview.js';

export async function stocksPage(who: Visitor) {
  const view = (stock: Stock) => ({ name: stock.name, words: stock.words, each: labelsPerPage(stock) });
  return {
    title: 'Label sheets',
    here: 'packs',
    own: (await ownStocksOf(who.book.read, who.desk.sugarhouse)).map(view),
    putAway: (await ownStocksOf(who.book.read, who.desk.sugarhouse, 'put away')).map(view),
    shipped: loadStocks().map(view),
  };
}

const groups = [
  { names: ['id', 'words', 'feed'] },
  { legend: 'The page', names: ['pageWidth', 'pageHeight', 'left', 'top'] },
  { legend: 'The labels', names: ['columns', 'rows', 'labelWidth', 'labelHeight', 'pitchX', 'pitchY', 'corner'] },
  { folded: 'Note, initials', names: ['note', 'by'] },
];

/** The form with what was typed, beside it the sheet and one label as they would be. */
export async function newStockPage(who: Visitor, sent: Sent) {
  const ground = await formGround(who);
  return {
    title: 'Add a label sheet',
    here: 'packs',
    wide: true,
    problem: problemView(sent.problem, labelStockFields),
    groups: formGroups(labelStockFields, groups, ground, sent),
    drawn: stockPreview(sent.posted ?? {}, ground),
  };
}
