import type { LabelContent, PrinterDpi } from './label.js';
import { layoutLabel } from './layout.js';
import type { Stock } from './stocks.js';

/** The stocks that hold this content, for the sentence that follows a refusal. */
export const fittingStocks = (
  content: LabelContent,
  symbolText: string,
  dpi: PrinterDpi,
  stocks: readonly Stock[],
): Stock[] => stocks.filter((stock) => 'layout' in layoutLabel({ content, stock, dpi, symbolText }));
