/** A label stock's geometry, in millimetres, from the top left corner of the page. */
export interface SheetGeometry {
  readonly name: string;
  readonly words: string;
  readonly pageWidthMm: number;
  readonly pageHeightMm: number;
  readonly labelWidthMm: number;
  readonly labelHeightMm: number;
  readonly leftMm: number;
  readonly topMm: number;
  readonly pitchXMm: number;
  readonly pitchYMm: number;
  readonly columns: number;
  readonly rows: number;
  readonly cornerMm: number;
  readonly roll: boolean;
  /** Cut as an ellipse of its width and height, a circle where both are equal; a rectangle by default. */
  readonly shape?: 'oval' | undefined;
}

/** What is wrong with a sheet of labels, in sentences; empty when labels can be printed on it. */
export function geometryFaults(stock: SheetGeometry): string[] {
  const faults: string[] = [];
  const last = labelCorner(stock, labelsPerPage(stock) - 1);
  if (stock.columns > 1 && stock.pitchXMm < stock.labelWidthMm - roundingToleranceMm)
    faults.push(`labels overlap sideways: ${stock.labelWidthMm} mm wide every ${stock.pitchXMm} mm`);
  if (stock.rows > 1 && stock.pitchYMm < stock.labelHeightMm - roundingToleranceMm)
    faults.push(`labels overlap downwards: ${stock.labelHeightMm} mm high every ${stock.pitchYMm} mm`);
  if (stock.leftMm < -roundingToleranceMm || stock.topMm < -roundingToleranceMm)
    faults.push('the first label leaves the page at its left or top');
  const right = last.xMm + stock.labelWidthMm - stock.pageWidthMm;
  const below = last.yMm + stock.labelHeightMm - stock.pageHeightMm;
  if (right > roundingToleranceMm) faults.push(`the last column leaves the page by ${right.toFixed(1)} mm`);
  if (below > roundingToleranceMm) faults.push(`the last row leaves the page by ${below.toFixed(1)} mm`);
  if (Math.min(stock.labelWidthMm, stock.labelHeightMm) < leastLabelMm)
    faults.push(`a label under ${leastLabelMm} mm has no room for a symbol that a phone can read`);
  if (stock.cornerMm > Math.min(stock.labelWidthMm, stock.labelHeightMm) / 2)
    faults.push(`corners of ${stock.cornerMm} mm are rounder than the label is high`);
  return faults;
}

/** The top left corner of label `position` (0 is top left, then along the row). */
export function labelCorner(stock: SheetGeometry, position: number): { xMm: number; yMm: number } {
  const row = Math.floor(position / stock.columns);
  const column = position % stock.columns;
  return { xMm: stock.leftMm + column * stock.pitchXMm, yMm: stock.topMm + row * stock.pitchYMm };
}

/** How many labels a sheet has. */
export const labelsPerPage = (stock: SheetGeometry): number => stock.columns * stock.rows;

const leastLabelMm = 15;
/** Smaller differences come from rounding inches. */
const roundingToleranceMm = 0.005;
