import { findNote, saveNote } from '#libs/store/household/household.js';
import type { Sql } from '#libs/store/connection/sql.js';

/** How a stock was last printed on. A setting of the house's printer and drawer, no reading. */
export interface StockLastUsed {
  /** In tenths of a millimetre. */
  readonly rightTenths: number;
  readonly downTenths: number;
  /** Places used of the last sheet; 0 when it was used up. */
  readonly ended: number;
}

const stockNote = (name: string): string => `label-stock ${name}`;
const newestNote = 'label-stock-last-used';

export async function saveLastUsed(sql: Sql, sugarhouse: string, stock: string, used: StockLastUsed): Promise<void> {
  await saveNote(sql, sugarhouse, stockNote(stock), `${used.rightTenths} ${used.downTenths} ${used.ended}`);
  await saveNote(sql, sugarhouse, newestNote, stock);
}

export async function lastUsed(sql: Sql, sugarhouse: string, stock: string): Promise<StockLastUsed | undefined> {
  const note = await findNote(sql, sugarhouse, stockNote(stock));
  if (note === undefined) return undefined;
  const [rightTenths = 0, downTenths = 0, ended = 0] = note.split(' ').map(Number);
  return { rightTenths, downTenths, ended };
}

export const tenthsOf = (nudge: { rightMm: number; downMm: number } = { rightMm: 0, downMm: 0 }) => ({
  rightTenths: Math.round(nudge.rightMm * 10),
  downTenths: Math.round(nudge.downMm * 10),
});

/** The name of the stock that was printed on last. */
export const newestStock = (sql: Sql, sugarhouse: string): Promise<string | undefined> =>
  findNote(sql, sugarhouse, newestNote);
