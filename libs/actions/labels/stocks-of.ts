import { recordsOf } from '#libs/store/queries/lots.js';
import { newestStock } from './stock-last-used.js';
import { checkStock, loadStocks, type Stock } from '#libs/labels/stocks/stocks.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** The stocks that come with the book, then those of the sugarhouse's own that are still used. */
export async function stocksOf(reader: SugarhouseReader): Promise<Stock[]> {
  return [...loadStocks(), ...(await ownStocksOf(reader))];
}

/**
 * The sugarhouse's own, those still used or those put away. A book from elsewhere may keep one that can't be printed
 * on: it is passed over.
 */
export async function ownStocksOf(reader: SugarhouseReader, still: 'used' | 'put away' = 'used'): Promise<Stock[]> {
  const saved = await recordsOf(reader, 'stock');
  return saved
    .filter(({ body }) => (body.used === 'no') === (still === 'put away'))
    .flatMap(({ body }) => checkStock(body.geometry).stock ?? []);
}

/** As both countries mostly have them in the drawer: letter sheets, rolls, A4; the house's own before them all. */
export async function stocksInOrder(reader: SugarhouseReader): Promise<Stock[]> {
  const all = await stocksOf(reader);
  const rank = (stock: Stock): number =>
    ['letter', 'roll', 'a4'].findIndex((kind) => stock.name.startsWith(`${kind}-`));
  // Straight and wide ones first: any pack fits on some of them, while upright and round ones are chosen for their look.
  const special = ({ shape, labelWidthMm, labelHeightMm }: Stock): number =>
    shape === 'oval' ? 2 : labelHeightMm > labelWidthMm ? 1 : 0;
  return all.sort(
    (a, b) =>
      Math.min(rank(a), 0) - Math.min(rank(b), 0) ||
      special(a) - special(b) ||
      rank(a) - rank(b) ||
      (a.labelWidthMm < b.labelWidthMm ? -1 : 1),
  );
}

/** The one that was printed on last, while it is still used; else the first in their order. */
export async function defaultStock(reader: SugarhouseReader, stocks: readonly Stock[]): Promise<Stock | undefined> {
  const newest = await newestStock(reader);
  return stocks.find((each) => each.name === newest) ?? stocks[0];
}
