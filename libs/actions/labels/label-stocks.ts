import { recordsOf } from '#libs/store/queries/lots.js';
import { findLastUsedStock } from './stock-last-used.js';
import { checkStock, loadStocks, type Stock } from '#libs/labels/stocks/stocks.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** The supplied stocks, then the sugarhouse's own that are still in use. */
export async function loadStocksInUse(reader: SugarhouseReader): Promise<Stock[]> {
  return [...loadStocks(), ...(await loadOwnStocks(reader))];
}

/**
 * The sugarhouse's own stocks, either in use or put away. One that can't be printed on (in a book from elsewhere) is
 * skipped.
 */
export async function loadOwnStocks(reader: SugarhouseReader, status: 'used' | 'put away' = 'used'): Promise<Stock[]> {
  const saved = await recordsOf(reader, 'stock');
  return saved
    .filter(({ body }) => (body.used === 'no') === (status === 'put away'))
    .flatMap(({ body }) => checkStock(body.geometry).stock ?? []);
}

/**
 * The order in which makers of both countries mostly have them: letter sheets, rolls, A4; the sugarhouse's own before
 * all.
 */
export async function stocksInOrder(reader: SugarhouseReader): Promise<Stock[]> {
  const all = await loadStocksInUse(reader);
  const feedRank = (stock: Stock): number =>
    ['letter', 'roll', 'a4'].findIndex((kind) => stock.name.startsWith(`${kind}-`));
  // Rectangular wide ones first: any pack fits on some of them, while upright and round ones are chosen for their look.
  const shapeRank = ({ shape, labelWidthMm, labelHeightMm }: Stock): number =>
    shape === 'oval' ? 2 : labelHeightMm > labelWidthMm ? 1 : 0;
  return all.sort(
    (a, b) =>
      Math.min(feedRank(a), 0) - Math.min(feedRank(b), 0) ||
      shapeRank(a) - shapeRank(b) ||
      feedRank(a) - feedRank(b) ||
      (a.labelWidthMm < b.labelWidthMm ? -1 : 1),
  );
}

/** The most recently used stock while it is still in use; else the first in order. */
export async function defaultStock(reader: SugarhouseReader, stocks: readonly Stock[]): Promise<Stock | undefined> {
  const newest = await findLastUsedStock(reader);
  return stocks.find((each) => each.name === newest) ?? stocks[0];
}
