import { recordsOf } from '#libs/records/lots.js';
import type { Sql } from '#libs/records/sql.js';
import { checkStock, loadStocks, type Stock } from './stocks.js';

/** The stocks that come with the book, then the sugarhouse's own. */
export async function stocksOf(sql: Sql, sugarhouse: string): Promise<Stock[]> {
  return [...loadStocks(), ...(await ownStocksOf(sql, sugarhouse))];
}

/** The sugarhouse's own. A book from elsewhere may keep one that can't be printed on: it is passed over. */
export async function ownStocksOf(sql: Sql, sugarhouse: string): Promise<Stock[]> {
  const kept = await recordsOf<{ geometry: unknown }>(sql, sugarhouse, 'stock');
  return kept.flatMap(({ body }) => checkStock(body.geometry).stock ?? []);
}
