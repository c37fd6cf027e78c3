import { recordsOf } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { checkStock, loadStocks, type Stock } from '#libs/labels/stocks/stocks.js';

/** The stocks that come with the book, then those of the sugarhouse's own that are still used. */
export async function stocksOf(sql: Sql, sugarhouse: string): Promise<Stock[]> {
  return [...loadStocks(), ...(await ownStocksOf(sql, sugarhouse))];
}

/**
 * The sugarhouse's own, those still used or those put away. A book from elsewhere may keep one that can't be printed
 * on: it is passed over.
 */
export async function ownStocksOf(sql: Sql, sugarhouse: string, still: 'used' | 'put away' = 'used'): Promise<Stock[]> {
  const saved = await recordsOf(sql, sugarhouse, 'stock');
  return saved
    .filter(({ body }) => (body.used === 'no') === (still === 'put away'))
    .flatMap(({ body }) => checkStock(body.geometry).stock ?? []);
}
