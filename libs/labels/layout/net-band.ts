import type { Stock } from '../stocks/stocks.js';
import { capHeightEm, descentEm, widthEm, xHeightEm } from '../drawing/type-faces.js';

/**
 * The net quantity along the foot of the label: in its bottom 30 %, bold (21 CFR 101.7(f), read in a copy of
 * 2026-09-12; a panel of 5 in² or less is exempt from the 30 %), with clear space above it of the height of its
 * measured letters and beside it of twice the width of an N (from memory, not verified).
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
  /** Nothing else is printed below this, unless it is to the right of `clearRightMm`. */
  readonly clearTopMm: number;
  readonly clearRightMm: number;
  /** Where its longest line ends. */
  readonly rightMm: number;
}

export const netFace = 'words-bold';
/** Least heights: of figures and capitals, and of the m in mL. */
export interface NetHeights {
  readonly figuresMm: number;
  readonly smallMm: number;
}

/**
 * In the US the small letter is measured where there is one (21 CFR 101.7(h)(2), read), so the whole statement is set
 * larger for its m; in Canada Schedule 6 gives the height of the numerals (SFCR s. 229(1), read), and a small letter
 * keeps the 1.6 mm of the other words (ss. 210, 211, read).
 */
export const netHeights = (minMm: number, country: 'US' | 'CA'): NetHeights => ({
  figuresMm: minMm,
  smallMm: country === 'US' ? minMm : 1.6,
});

/**
 * How the statement is placed at the foot: its margin, and on a round label the width available between two heights.
 */
export interface NetSetting {
  readonly align: 'left' | 'centre';
  readonly marginMm: number;
  /** In a frame it keeps clear of the lines, and is no larger than required. */
  readonly inFrame?: boolean;
  readonly widthBetween?: ((topMm: number, bottomMm: number) => number) | undefined;
}

/** Undefined when it can't be set at its least height in the bottom 30 %, or, where `letOff`, in the bottom half. */
export function placeNet(
  parts: readonly string[],
  least: NetHeights,
  stock: Stock,
  isExempt = false,
  setting: NetSetting = { align: 'left', marginMm: netMarginMm(stock) },
): NetBand | undefined {
  const hasSmall = parts.some((part) => /\p{Ll}/u.test(part));
  const small = hasSmall ? least.smallMm * (capHeightEm / xHeightEm) : 0;
  const minMm = Math.max(least.figuresMm, small);
  const wantedMm = Math.max(minMm, Math.min(stock.labelHeightMm * 0.075, minMm * 1.5));
  for (const letterMm of setting.inFrame ? [minMm] : [wantedMm, minMm]) {
    for (const lines of [[parts.join(' ')], [...parts]]) {
      const clearEm = small > least.figuresMm ? xHeightEm : capHeightEm;
      const band = placeBand(lines, letterMm * 1.002, { stock, setting, clearEm });
      if (band && band.topMm >= stock.labelHeightMm * 0.7) return band;
      if (band && isExempt && letterMm === minMm && band.topMm >= stock.labelHeightMm * 0.5) return band;
    }
  }
  return undefined;
}

/** The clear margin around the net quantity: 6 % of the label's height, from 1.5 to 4 mm. */
export const netMarginMm = (stock: Stock): number => Math.max(1.5, Math.min(4, stock.labelHeightMm * 0.06));

interface BandPlace {
  readonly stock: Stock;
  readonly setting: NetSetting;
  /** Height of the measured letter; the same height stays clear above. */
  readonly clearEm: number;
}

function placeBand(texts: readonly string[], letterMm: number, around: BandPlace): NetBand | undefined {
  const { stock, setting, clearEm } = around;
  const { marginMm, align } = setting;
  const emMm = letterMm / capHeightEm;
  const descentMm = texts.at(-1)?.includes('(') ? (descentEm - 0.03) * emMm : 0;
  const lowestMm = stock.labelHeightMm - Math.max(marginMm * (setting.inFrame ? 1 : 0.7), 1) - descentMm;
  const measured = texts.map((text) => ({ text, widthMm: widthEm(text, netFace) * emMm }));
  const roomAt = (baselineMm: number): number =>
    Math.min(
      stock.labelWidthMm - 2 * marginMm,
      setting.widthBetween?.(baselineMm - letterMm, baselineMm + descentMm) ?? Infinity,
    );
  // On a round label the statement moves up until its lines are no wider than the label is there.
  for (let lastMm = lowestMm; lastMm > stock.labelHeightMm * 0.5; lastMm -= 0.5) {
    const baselineOf = (index: number): number => lastMm - (texts.length - 1 - index) * letterMm * 1.3;
    const lines = measured.map(({ text, widthMm }, index) => {
      const xMm = align === 'left' ? marginMm : (stock.labelWidthMm - widthMm) / 2;
      return { text, xMm, baselineMm: baselineOf(index), widthMm };
    });
    if (lines.every(({ widthMm, baselineMm }) => widthMm <= roomAt(baselineMm))) {
      const topMm = baselineOf(0) - letterMm;
      const rightMm = Math.max(...lines.map(({ xMm, widthMm }) => xMm + widthMm));
      const clearRightMm = align === 'left' ? rightMm + 2 * widthEm('N', netFace) * emMm : Infinity;
      return { lines, emMm, letterMm, topMm, clearTopMm: topMm - clearEm * emMm, clearRightMm, rightMm };
    }
    if (!setting.widthBetween) return undefined;
  }
  return undefined;
}
