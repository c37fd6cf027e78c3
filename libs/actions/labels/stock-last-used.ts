import { findNote, saveNote } from '#libs/store/household/household.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** How a stock was last printed on. A household setting for the printer, not part of the log. */
export interface StockLastUsed {
  /** In tenths of a millimetre. */
  readonly rightTenths: number;
  readonly downTenths: number;
  /** Places used on the last sheet; 0 when it was used up. */
  readonly ended: number;
}

const stockSetting = (name: string): string => `label-stock ${name}`;
const lastUsedStockSetting = 'label-stock-last-used';

/** Saves how a stock was printed last, and that it is the most recently used. */
export async function saveLastUsed(reader: SugarhouseReader, stock: string, used: StockLastUsed): Promise<void> {
  await saveNote(reader, stockSetting(stock), `${used.rightTenths} ${used.downTenths} ${used.ended}`);
  await saveNote(reader, lastUsedStockSetting, stock);
}

/** How a stock was printed last: its shift in tenths of a mm and the places used of its last sheet. */
export async function findStockLastUsed(reader: SugarhouseReader, stock: string): Promise<StockLastUsed | undefined> {
  const note = await findNote(reader, stockSetting(stock));
  if (note === undefined) return undefined;
  const [rightTenths = 0, downTenths = 0, ended = 0] = note.split(' ').map(Number);
  return { rightTenths, downTenths, ended };
}

/** A shift in mm as whole tenths of a mm; no shift where none is given. */
export const nudgeInTenths = (nudge: { rightMm: number; downMm: number } = { rightMm: 0, downMm: 0 }) => ({
  rightTenths: Math.round(nudge.rightMm * 10),
  downTenths: Math.round(nudge.downMm * 10),
});

/** The name of the most recently used stock. */
export const findLastUsedStock = (reader: SugarhouseReader): Promise<string | undefined> =>
  findNote(reader, lastUsedStockSetting);
