import type { Stock } from '../stocks/stocks.js';

/** A line or an area drawn with the text, in millimetres from the label's top left. */
export type Shape =
  | {
      readonly kind: 'rectangle';
      readonly xMm: number;
      readonly yMm: number;
      readonly widthMm: number;
      readonly heightMm: number;
      readonly cornerMm: number;
      readonly strokeMm: number;
    }
  | {
      readonly kind: 'ellipse';
      readonly xMm: number;
      readonly yMm: number;
      readonly widthMm: number;
      readonly heightMm: number;
      readonly strokeMm: number;
    };

/** Distance of the outer line from the edge: a printer that is off by a millimetre still prints it whole. */
export const frameInsetMm = (stock: Stock): number =>
  Math.max(1.5, Math.min(2.6, Math.min(stock.labelHeightMm, stock.labelWidthMm) * 0.04));
const frameGapMm = 0.9;

/** Where text may begin inside the frame, from the label's edge. */
export const insideFrameMm = (stock: Stock): number => frameInsetMm(stock) + frameGapMm + 1.2;

/** A strong line and a fine one inside it, as on traditional labels. */
export function doubleFrame(stock: Stock): Shape[] {
  const kind = stock.shape === 'oval' ? 'ellipse' : 'rectangle';
  return [
    { insetMm: frameInsetMm(stock), strokeMm: 0.5 },
    { insetMm: frameInsetMm(stock) + frameGapMm, strokeMm: 0.15 },
  ].map(({ insetMm, strokeMm }) => {
    const box = {
      xMm: insetMm,
      yMm: insetMm,
      widthMm: stock.labelWidthMm - 2 * insetMm,
      heightMm: stock.labelHeightMm - 2 * insetMm,
      strokeMm,
    };
    return kind === 'ellipse'
      ? { kind, ...box }
      : { kind, ...box, cornerMm: Math.max(0, stock.cornerMm - insetMm / 2) };
  });
}

/** The width inside an oval's ring between two heights, at its middle; for a rectangle its full width. */
export function widthInside(stock: Stock, insetMm: number): (topMm: number, bottomMm: number) => number {
  const [a, b] = [stock.labelWidthMm / 2 - insetMm, stock.labelHeightMm / 2 - insetMm];
  if (stock.shape !== 'oval') return () => 2 * a;
  return (topMm, bottomMm) => {
    const offset =
      Math.max(Math.abs(topMm - stock.labelHeightMm / 2), Math.abs(bottomMm - stock.labelHeightMm / 2)) / b;
    return offset >= 1 ? 0 : 2 * a * Math.sqrt(1 - offset * offset);
  };
}
