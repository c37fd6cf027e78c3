import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { templatePath } from '#libs/package-root.js';
import { geometryFaults, type SheetGeometry } from '#libs/syrup/quantities/sheet-geometry.js';

export { labelCorner, labelsPerPage } from '#libs/syrup/quantities/sheet-geometry.js';

/** A label stock by its geometry, in millimetres, counted from the top left corner of the page. */
export type Stock = SheetGeometry;

/** Returns what was expected of an invalid value. */
type Check = (value: unknown) => string | undefined;
const number: Check = (value) =>
  typeof value === 'number' && Number.isFinite(value) ? undefined : 'expected a number';
const length: Check = (value) => number(value) ?? (Number(value) > 0 ? undefined : 'expected more than 0 mm');
const pageLength: Check = (value) => length(value) ?? (Number(value) <= 1500 ? undefined : 'expected at most 1500 mm');
const count: Check = (value) =>
  Number.isInteger(value) && Number(value) >= 1 && Number(value) <= 100
    ? undefined
    : 'expected a whole number from 1 to 100';

/** Written by hand, since the schema library takes too long to load for a command. */
const checks: { readonly [K in keyof Required<Stock>]: Check } = {
  name: (value) =>
    typeof value === 'string' && /^[a-z0-9]+(-[a-z0-9]+)*$/.test(value)
      ? undefined
      : 'expected a name in small letters, digits and dashes',
  words: (value) =>
    typeof value === 'string' && value.length >= 1 && value.length <= 120 ? undefined : 'expected 1 to 120 letters',
  pageWidthMm: pageLength,
  pageHeightMm: pageLength,
  labelWidthMm: length,
  labelHeightMm: length,
  leftMm: number,
  topMm: number,
  pitchXMm: length,
  pitchYMm: length,
  columns: count,
  rows: count,
  cornerMm: (value) => number(value) ?? (Number(value) >= 0 ? undefined : 'expected 0 mm or more'),
  roll: (value) => (typeof value === 'boolean' ? undefined : 'expected true or false'),
  shape: (value) => (value === undefined || value === 'oval' ? undefined : 'expected oval, or nothing'),
};

/** The supplied stocks, by name. */
export function loadStocks(): Stock[] {
  const folder = templatePath('labels');
  return readdirSync(folder)
    .filter((file) => file.endsWith('.json'))
    .sort()
    .map((file) => JSON.parse(readFileSync(join(folder, file), 'utf8')) as Stock);
}

/** What is wrong with a stock, in sentences; empty when labels can be printed on it. */
export function checkStock(candidate: unknown): { stock: Stock; faults: [] } | { stock?: never; faults: string[] } {
  if (typeof candidate !== 'object' || candidate === null) return { faults: ['stock: expected its sizes by name'] };
  const sizes = candidate as Readonly<Record<string, unknown>>;
  const invalid = [
    ...Object.entries(checks).flatMap(([name, check]) => check(sizes[name])?.replace(/^/, `${name}: `) ?? []),
    ...Object.keys(sizes)
      .filter((name) => !Object.hasOwn(checks, name))
      .map((name) => `${name}: a stock has no such size`),
  ];
  if (invalid.length > 0) return { faults: invalid };
  const stock = candidate as Stock;
  const faults = geometryFaults(stock);
  return faults.length > 0 ? { faults } : { stock, faults: [] };
}
