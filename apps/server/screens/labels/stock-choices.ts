import { lastUsed, newestStock, type StockLastUsed } from '#libs/actions/labels/stock-last-used.js';
import { labelsPerPage, type Stock } from '#libs/labels/stocks/stocks.js';
import { one, type Posted } from '../../forms/field-view.js';
import type { Visitor } from '../../http/principal.js';
import { stocksInOrder } from './label-runs.js';

/** The stocks to choose from, each with how it was last printed on and, where its last sheet has places left, a way to go on. */
export async function stockChoices(who: Visitor, posted: Posted, code: string) {
  const stocks = await stocksInOrder(who);
  const { read } = who.book;
  const { sugarhouse } = who.desk;
  const wished = one(posted['stock']) || (await newestStock(read, sugarhouse));
  const chosen = stocks.find((stock) => stock.name === wished)?.name ?? stocks[0]?.name ?? '';
  const used = new Map<string, StockLastUsed>();
  for (const { name } of stocks) {
    const last = await lastUsed(read, sugarhouse, name);
    if (last) used.set(name, last);
  }
  const kept = used.get(chosen);
  const same = one(posted['was']) === '' || one(posted['was']) === chosen;
  const boxes = [
    ['right', 'Right', 'Minus is left', kept?.rightTenths],
    ['down', 'Down', 'Minus is up', kept?.downTenths],
  ] as const;
  return {
    chosen,
    stocks: stocks.map((stock) => ({
      name: stock.name,
      words: stock.words,
      each: labelsPerPage(stock),
      chosen: stock.name === chosen,
      ...choiceWords(stock, used.get(stock.name), code),
    })),
    nudges: boxes.map(([name, label, hint, tenths]) => ({
      name,
      label,
      hint,
      typed: (same ? one(posted[name]) : '') || (tenths === undefined ? '' : String(tenths / 10)),
    })),
  };
}

function choiceWords(stock: Stock, last: StockLastUsed | undefined, code: string) {
  if (!last) return {};
  const moved = [
    last.rightTenths ? `${Math.abs(last.rightTenths) / 10} mm ${last.rightTenths > 0 ? 'right' : 'left'}` : '',
    last.downTenths ? `${Math.abs(last.downTenths) / 10} mm ${last.downTenths > 0 ? 'down' : 'up'}` : '',
  ].filter(Boolean);
  const open = last.ended > 0 && last.ended < labelsPerPage(stock);
  const query = new URLSearchParams({ stock: stock.name, skip: String(last.ended) });
  return {
    last: moved.length > 0 ? `moved ${moved.join(', ')}` : '',
    goOn: open
      ? {
          href: `/lots/${code}/labels?${query.toString()}`,
          words: `go on at place ${last.ended + 1} of the last sheet`,
        }
      : undefined,
  };
}
