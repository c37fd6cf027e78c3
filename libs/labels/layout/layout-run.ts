import { doesNotFit } from '../stocks/fitting-stocks.js';
import type { LabelProblem } from '../content/label.js';
import type { LabelRun } from '../drawing/label-run.js';
import type { LabelLayout } from './label-layout.js';
import { layoutLabel } from './layout-label.js';
import { lowerNetHeights, minNetHeight, type MinNetHeight } from '../content/net-quantity.js';
import { jarText, shorterSymbols, type SymbolKind } from '../symbol/symbol-text.js';

type RunRequest = Omit<LabelRun, 'jars' | 'createdAt'>;
type Placed = { layout: LabelLayout; symbol: SymbolKind };

/**
 * Lays out a run by the code of one of its jars, with as much in the symbol as there is room for. Where the panel was
 * not measured, the net quantity may be set lower, down to what the flattest container of the volume permits, and a
 * note gives the panel it is enough for; below that the stock is refused.
 */
export function layoutRun(request: RunRequest, code: string): Placed | { problem: LabelProblem } {
  const placed = layoutWithLeast(request, code, minNetHeight(request.content));
  if ('layout' in placed || request.content.panel) return placed;
  const required = minNetHeight(request.content).millimetres;
  for (const lower of lowerNetHeights(request.content, required)) {
    const lowered = layoutWithLeast(request, code, lower);
    if ('problem' in lowered) continue;
    const what =
      request.content.country === 'CA' && request.content.gradeText
        ? 'The net quantity and the grade are'
        : 'The net quantity is';
    const note = `${what} ${lower.millimetres.toFixed(1)} mm high, enough for a panel of up to ${lower.upToCm2} cm². The size of the panel is not recorded, and a tall container of this size requires ${required.toFixed(1)} mm: measure the panel, or choose a larger label`;
    return { ...lowered, layout: { ...lowered.layout, notes: [note, ...lowered.layout.notes] } };
  }
  return placed;
}

function layoutWithLeast(
  { content, stock, stocks, dpi, design, look, symbol }: RunRequest,
  code: string,
  least: MinNetHeight,
): Placed | { problem: LabelProblem } {
  let refused: () => LabelProblem;
  for (const shorter of shorterSymbols(symbol)) {
    const job = { content, stock, dpi, design, look, symbolText: jarText(shorter, content, code) };
    const placed = layoutLabel(job, least);
    if ('layout' in placed) return { layout: withNote(placed.layout, shorter), symbol: shorter };
    refused = () => doesNotFit(job, placed.unfit, stocks);
  }
  return { problem: refused!() };
}

function withNote(layout: LabelLayout, symbol: SymbolKind): LabelLayout {
  if (symbol.kind !== 'text' || !symbol.without) return layout;
  return {
    ...layout,
    notes: [...layout.notes, `The QR code leaves out ${symbol.without.join(' and ')}, as there is no room`],
  };
}
