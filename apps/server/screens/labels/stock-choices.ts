import { defaultStock, stocksInOrder } from '#libs/actions/labels/label-stocks.js';
import { findStockLastUsed, type StockLastUsed } from '#libs/actions/labels/stock-last-used.js';
import { labelsPerPage, type Stock } from '#libs/labels/stocks/stocks.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import type { Principal } from '../../http/principal.js';

/**
 * The stocks to choose from, each with its last shift and, where its last sheet has places left, the choice to continue
 * on it. `fitsOn` names those that hold the label, where the chosen one does not.
 */
export async function stockChoices(
  principal: Principal,
  posted: Posted,
  { code, fitsOn }: { readonly code: string; readonly fitsOn: readonly string[] | undefined },
) {
  const { read } = principal.book;
  const { sugarhouse } = principal.writeContext;
  const stocks = await stocksInOrder({ sql: read, sugarhouse });
  const requested = stocks.find((stock) => stock.name === firstText(posted['stock']));
  const chosen = (requested ?? (await defaultStock({ sql: read, sugarhouse }, stocks)))?.name ?? '';
  const used = new Map<string, StockLastUsed>();
  for (const { name } of stocks) {
    const last = await findStockLastUsed({ sql: read, sugarhouse }, name);
    if (last) used.set(name, last);
  }
  const lastOfChosen = used.get(chosen);
  const isSameStock = firstText(posted['was']) === '' || firstText(posted['was']) === chosen;
  const boxes = [
    ['right', 'Right', 'Minus is left', lastOfChosen?.rightTenths],
    ['down', 'Down', 'Minus is up', lastOfChosen?.downTenths],
  ] as const;
  return {
    chosen,
    stocks: stocks.map((stock) => ({
      name: stock.name,
      text: stock.words,
      each: labelsPerPage(stock),
      chosen: stock.name === chosen,
      fits: fitsOn?.includes(stock.name) ?? false,
      ...choiceText(stock, used.get(stock.name), code),
    })),
    shifts: boxes.map(([name, label, hint, tenths]) => ({
      name,
      label,
      hint,
      typed: (isSameStock ? firstText(posted[name]) : '') || (tenths === undefined ? '' : String(tenths / 10)),
    })),
  };
}

function choiceText(stock: Stock, last: StockLastUsed | undefined, code: string) {
  if (!last) return {};
  const moved = [
    last.rightTenths ? `${Math.abs(last.rightTenths) / 10} mm ${last.rightTenths > 0 ? 'right' : 'left'}` : '',
    last.downTenths ? `${Math.abs(last.downTenths) / 10} mm ${last.downTenths > 0 ? 'down' : 'up'}` : '',
  ].filter(Boolean);
  const open = last.ended > 0 && last.ended < labelsPerPage(stock);
  const query = new URLSearchParams({ stock: stock.name, skip: String(last.ended) });
  return {
    last: moved.length > 0 ? `moved ${moved.join(', ')}` : '',
    continueLink: open
      ? {
          href: `/lots/${code}/labels?${query.toString()}`,
          text: `continue at place ${last.ended + 1} of the last sheet`,
        }
      : undefined,
  };
}
