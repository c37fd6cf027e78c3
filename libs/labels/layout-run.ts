import { doesNotFit } from './fitting-stocks.js';
import type { LabelProblem } from './label.js';
import type { LabelRun } from './label-run.js';
import { layoutLabel, type LabelLayout } from './layout.js';
import { jarText, shorterSymbols, type SymbolKind } from './symbol-text.js';

/** Lays out a run by the code of one of its jars, the symbol saying as much as there is room for. */
export function layoutRun(
  { content, stock, dpi, design, symbol }: Omit<LabelRun, 'jars' | 'createdAt'>,
  code: string,
): { layout: LabelLayout; symbol: SymbolKind } | { problem: LabelProblem } {
  let refused: () => LabelProblem;
  for (const shorter of shorterSymbols(symbol)) {
    const job = { content, stock, dpi, design, symbolText: jarText(shorter, content, code) };
    const placed = layoutLabel(job);
    if ('layout' in placed) return { layout: withNote(placed.layout, shorter), symbol: shorter };
    refused = () => doesNotFit(job, placed.unfit);
  }
  return { problem: refused!() };
}

function withNote(layout: LabelLayout, symbol: SymbolKind): LabelLayout {
  if (symbol.kind !== 'text' || !symbol.without) return layout;
  return {
    ...layout,
    notes: [...layout.notes, `The symbol leaves out ${symbol.without.join(' and ')} for want of room`],
  };
}
