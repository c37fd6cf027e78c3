import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { templatePath } from '#libs/package-root.js';
import { geometryFaults } from '#libs/syrup/quantities/sheet-geometry.js';

export { labelCorner, labelsPerPage } from '#libs/syrup/quantities/sheet-geometry.js';

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
