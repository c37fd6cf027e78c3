import { isGtin } from '#libs/syrup/codes/jar-codes.js';
import { judgeAddress } from '../content/address.js';
import { undrawable } from './cannot-draw.js';
import {
  type DesignName,
  type Jars,
  type LabelContent,
  type LabelProblem,
  type PrinterDpi,
  printerDpis,
} from '../content/label.js';
import type { LabelLook } from '../content/label-look.js';
import { checkStock, labelsPerPage, type Stock } from '../stocks/stocks.js';
import type { SymbolKind } from '../symbol/symbol-text.js';

export interface LabelRun {
  readonly content: LabelContent;
  readonly jars: Jars;
  readonly stock: Stock;
  /** Stocks to suggest where the text does not fit on this one; by default the supplied ones. */
  readonly stocks?: readonly Stock[] | undefined;
  readonly symbol: SymbolKind;
  readonly dpi: PrinterDpi;
  readonly design?: DesignName | undefined;
  readonly look?: LabelLook | undefined;
  /** Positions already used up on the first sheet. */
  readonly skip?: number | undefined;
  /** Correction for a printer that is off: right and down in millimetres. */
  readonly nudge?: { readonly rightMm: number; readonly downMm: number } | undefined;
  /** The date of the file: the same run makes the same bytes. */
  readonly createdAt: Date;
}

/** Why a run's settings are invalid, checked before layout; undefined where they are valid. */
export function settingProblem({
  content,
  stock,
  dpi,
  skip = 0,
  nudge,
  symbol,
  look,
}: Omit<LabelRun, 'jars' | 'createdAt'>): LabelProblem | undefined {
  const { faults } = checkStock(stock);
  if (faults.length > 0) return { kind: 'bad-stock', stock: stock.name, faults };
  if (!printerDpis.includes(dpi)) return badSetting('Printer', `${printerDpis.join(', ')} dots per inch`, dpi);
  const maxSkip = labelsPerPage(stock) - 1;
  if (!Number.isInteger(skip) || skip < 0 || skip > maxSkip)
    return badSetting(
      'Skip',
      maxSkip === 0 ? '0, since a page has one label' : `a whole number from 0 to ${maxSkip}`,
      skip,
    );
  for (const [side, shiftMm] of Object.entries(nudge ?? {}))
    if (!(Math.abs(shiftMm) <= maxNudgeMm))
      return badSetting(`Nudge ${side}`, `at most ${maxNudgeMm} mm in either direction`, shiftMm);
  if (symbol.kind !== 'text' && !judgeAddress(symbol.address).address)
    return badSetting(
      'Public address',
      'an address that any phone can reach, like https://example.org',
      symbol.address,
    );
  if (symbol.kind === 'gs1' && !isGtin(symbol.gtin))
    return badSetting('GTIN', 'your own GTIN of 8, 12, 13 or 14 digits with a valid check digit', symbol.gtin);
  const missingGlyphs = undrawable(content, look);
  return missingGlyphs.length > 0 ? { kind: 'cannot-draw', undrawable: missingGlyphs } : undefined;
}

export const maxNudgeMm = 10;

const badSetting = (field: string, expected: string, got: unknown): LabelProblem => ({
  kind: 'bad-setting',
  field,
  expected,
  got: String(got),
});
