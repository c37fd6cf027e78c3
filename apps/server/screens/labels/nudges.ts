import { invalid, type Refusal } from '#libs/actions/record/problem.js';
import { findStockLastUsed } from '#libs/actions/labels/stock-last-used.js';
import { maxNudgeMm } from '#libs/labels/drawing/label-run.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { type Principal, readerOf } from '../../http/principal.js';

export interface Nudge {
  readonly rightMm: number;
  readonly downMm: number;
}

/**
 * How far to shift the print, from its boxes; undefined where nothing was typed: then it is shifted as last time.
 * Unchanged values that were shown for another stock (`was`) are ignored.
 */
export async function parseNudge(
  principal: Principal,
  stock: string | undefined,
  query: Posted,
): Promise<Partial<Nudge> | Refusal> {
  const was = firstText(query['was']);
  const shownNudge = was !== '' && stock !== undefined && was !== stock ? await savedNudge(principal, was) : undefined;
  const nudge: { rightMm?: number; downMm?: number } = {};
  for (const [name, side] of [
    ['right', 'rightMm'],
    ['down', 'downMm'],
  ] as const) {
    const typed = firstText(query[name]);
    if (typed === '') continue;
    const mm = /^[+−-]?\d{1,2}(?:[.,]\d)?$/.test(typed) ? Number(typed.replace('−', '-').replace(',', '.')) : Infinity;
    if (Math.abs(mm) > maxNudgeMm)
      return invalid(name, `tenths of a millimetre like 0.3 or -0.5, ${maxNudgeMm} mm at most`, `"${typed}"`);
    if (mm !== shownNudge?.[side]) nudge[side] = mm;
  }
  return nudge;
}

/** How far this printer's labels were shifted last on this stock, in mm; zero where none was printed. */
export async function savedNudge(principal: Principal, stock: string): Promise<Nudge> {
  const saved = await findStockLastUsed(readerOf(principal), stock);
  return { rightMm: (saved?.rightTenths ?? 0) / 10, downMm: (saved?.downTenths ?? 0) / 10 };
}
