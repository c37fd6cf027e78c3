import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { templatePath } from '#libs/records/package-root.js';

const lengthMm = z.number().finite().positive();

/** A label stock by its geometry, in millimetres, counted from the top left corner of the page. */
export const stockShape = z
  .object({
    name: z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'a name in small letters, digits and dashes'),
    words: z.string().min(1).max(120),
    pageWidthMm: lengthMm.max(1500),
    pageHeightMm: lengthMm.max(1500),
    labelWidthMm: lengthMm,
    labelHeightMm: lengthMm,
    leftMm: z.number().finite(),
    topMm: z.number().finite(),
    pitchXMm: lengthMm,
    pitchYMm: lengthMm,
    columns: z.number().int().min(1).max(100),
    rows: z.number().int().min(1).max(100),
    cornerMm: z.number().finite().min(0),
    roll: z.boolean(),
  })
  .strict();

export type Stock = Readonly<z.infer<typeof stockShape>>;

/** The stocks that come with the book, by name. */
export function loadStocks(): Stock[] {
  const folder = templatePath('labels');
  return readdirSync(folder)
    .filter((file) => file.endsWith('.json'))
    .sort()
    .map((file) => stockShape.parse(JSON.parse(readFileSync(join(folder, file), 'utf8'))));
}

/** What is wrong with a stock, in sentences; none when labels can be printed on it. */
export function checkStock(candidate: unknown): { stock: Stock; faults: [] } | { stock?: never; faults: string[] } {
  const parsed = stockShape.safeParse(candidate);
  if (!parsed.success)
    return { faults: parsed.error.issues.map((issue) => `${issue.path.join('.') || 'stock'}: ${issue.message}`) };
  const faults = geometryFaults(parsed.data);
  return faults.length > 0 ? { faults } : { stock: parsed.data, faults: [] };
}

/** Where label `position` (0 is top left, then along the row) has its top left corner. */
export function labelCorner(stock: Stock, position: number): { xMm: number; yMm: number } {
  const row = Math.floor(position / stock.columns);
  const column = position % stock.columns;
  return { xMm: stock.leftMm + column * stock.pitchXMm, yMm: stock.topMm + row * stock.pitchYMm };
}

export const labelsPerPage = (stock: Stock): number => stock.columns * stock.rows;

const leastLabelMm = 15;
/** Cutting tolerance below which a difference is only rounding of inches. */
const hairMm = 0.005;

function geometryFaults(stock: Stock): string[] {
  const faults: string[] = [];
  const last = labelCorner(stock, labelsPerPage(stock) - 1);
  if (stock.columns > 1 && stock.pitchXMm < stock.labelWidthMm - hairMm)
    faults.push(`labels overlap sideways: ${stock.labelWidthMm} mm wide every ${stock.pitchXMm} mm`);
  if (stock.rows > 1 && stock.pitchYMm < stock.labelHeightMm - hairMm)
    faults.push(`labels overlap downwards: ${stock.labelHeightMm} mm high every ${stock.pitchYMm} mm`);
  if (stock.leftMm < -hairMm || stock.topMm < -hairMm)
    faults.push('the first label leaves the page at its left or top');
  const right = last.xMm + stock.labelWidthMm - stock.pageWidthMm;
  const below = last.yMm + stock.labelHeightMm - stock.pageHeightMm;
  if (right > hairMm) faults.push(`the last column leaves the page by ${right.toFixed(1)} mm`);
  if (below > hairMm) faults.push(`the last row leaves the page by ${below.toFixed(1)} mm`);
  if (Math.min(stock.labelWidthMm, stock.labelHeightMm) < leastLabelMm)
    faults.push(`a label under ${leastLabelMm} mm has no room for a symbol that a phone can read`);
  if (stock.cornerMm > Math.min(stock.labelWidthMm, stock.labelHeightMm) / 2)
    faults.push(`corners of ${stock.cornerMm} mm are rounder than the label is high`);
  return faults;
}
