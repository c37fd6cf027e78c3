import type { Stock } from '../stocks/stocks.js';
import { capHeightEm, descentEm, widthEm, xHeightEm } from '../drawing/type-faces.js';

/**
 * The net quantity along the foot of the label: in its bottom 30 %, bold (21 CFR 101.7(f), read in a copy of 2026-09-12;
 * a panel of 5 in² or less is let off the 30 %), with clear space above of the height of its measured letters and of twice the width of an N
 * beside it (from memory, not verified).
 */
export interface NetBand {
  readonly lines: readonly {
    readonly text: string;
    readonly xMm: number;
    readonly baselineMm: number;
    readonly widthMm: number;
  }[];
  readonly emMm: number;
  /** Height of its capitals and figures. */
  readonly letterMm: number;
  readonly topMm: number;
  /** Nothing else is printed below this, unless it stands to the right of `clearRightMm`. */
  readonly clearTopMm: number;
  readonly clearRightMm: number;
  /** Where its longest line ends. */
  readonly rightMm: number;
}

export const netFace = 'words-bold';
/** Least heights: of figures and capitals, and of the m where mL stands in it. */
export interface NetHeights {
  readonly figuresMm: number;
  readonly smallMm: number;
}

/**
 * In the US the small letter is measured where there is one (21 CFR 101.7(h)(2), read), so the whole statement is set
 * larger for its m; in Canada Schedule 6 gives the height of the numerals (SFCR s. 229(1), read), and a small letter
 * keeps the 1.6 mm of the other words (ss. 210, 211, read).
 */
export const netHeights = (leastMm: number, country: 'US' | 'CA'): NetHeights => ({
  figuresMm: leastMm,
  smallMm: country === 'US' ? leastMm : 1.6,
});

/** Undefined when it cannot be set at its least height in the bottom 30 %, or, where `letOff`, in the bottom half. */
export function placeNet(
  parts: readonly string[],
  least: NetHeights,
  stock: Stock,
  letOff = false,
): NetBand | undefined {
  const marginMm = netMarginMm(stock);
  const hasSmall = parts.some((part) => /\p{Ll}/u.test(part));
  const small = hasSmall ? least.smallMm * (capHeightEm / xHeightEm) : 0;
  const leastMm = Math.max(least.figuresMm, small);
  const wantedMm = Math.max(leastMm, Math.min(stock.labelHeightMm * 0.075, leastMm * 1.5));
  for (const letterMm of [wantedMm, leastMm]) {
    for (const lines of [[parts.join(' ')], [...parts]]) {
      const clearEm = small > least.figuresMm ? xHeightEm : capHeightEm;
      const band = setBand(lines, letterMm * 1.002, { stock, marginMm, clearEm });
      if (band && band.topMm >= stock.labelHeightMm * 0.7) return band;
      if (band && letOff && letterMm === leastMm && band.topMm >= stock.labelHeightMm * 0.5) return band;
    }
  }
  return undefined;
}

export const netMarginMm = (stock: Stock): number => Math.max(1.5, Math.min(4, stock.labelHeightMm * 0.06));

interface Around {
  readonly stock: Stock;
  readonly marginMm: number;
  /** Height of the letter that is measured, as much of which stays clear above. */
  readonly clearEm: number;
}

function setBand(
  texts: readonly string[],
  letterMm: number,
  { stock, marginMm, clearEm }: Around,
): NetBand | undefined {
  const emMm = letterMm / capHeightEm;
  const hangsMm = texts.at(-1)!.includes('(') ? (descentEm - 0.03) * emMm : 0;
  const lastMm = stock.labelHeightMm - Math.max(marginMm * 0.7, 1) - hangsMm;
  const lines = texts.map((text, index) => ({
    text,
    xMm: marginMm,
    baselineMm: lastMm - (texts.length - 1 - index) * letterMm * 1.3,
    widthMm: widthEm(text, netFace) * emMm,
  }));
  const topMm = lines[0]!.baselineMm - letterMm;
  const widestMm = Math.max(...lines.map(({ widthMm }) => widthMm));
  if (marginMm + widestMm > stock.labelWidthMm - marginMm) return undefined;
  const clearRightMm = marginMm + widestMm + 2 * widthEm('N', netFace) * emMm;
  const rightMm = marginMm + widestMm;
  return { lines, emMm, letterMm, topMm, clearTopMm: topMm - clearEm * emMm, clearRightMm, rightMm };
}
