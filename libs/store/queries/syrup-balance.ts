import { rowsInList } from '../connection/in-list.js';
import type { Lot } from './lots.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

/** Where a lot's sap or syrup is, in millilitres. Always there = left + inJars + spent + lost. */
export interface SyrupBalance {
  /** Gathered, received, or drawn off by the boil; for a pack what was drawn for it. */
  readonly there: number;
  /** Not drawn yet; below zero where more was drawn than there was. */
  readonly left: number;
  /** In jars, by the nominal volume of the jars, at 68 °F. */
  readonly inJars: number;
  /** Used at home, thrown out, spilt: recorded, and in no lot. */
  readonly spent: number;
  /** Drawn but not in jars: shrinkage in cooling, filters, what stays in the kettle. For sap, the water boiled away. */
  readonly lost: number;
}

interface PortionRow {
  readonly from_lot: string;
  readonly into_lot: string;
  readonly kind: string;
  readonly millilitres: number;
}
interface PackRow {
  readonly code: string;
  readonly millilitres: number | null;
}

/**
 * The balance of a lot over the packs it was drawn into. A pack of several lots is divided in proportion to what each
 * gave; one being filled holds what was drawn for it. Jars poured back are in the pack they were poured into.
 */
export async function syrupBalance(reader: SugarhouseReader, lot: Lot): Promise<SyrupBalance> {
  if (lot.kind === 'pack') return packSyrup(lot, await portions(reader, 'into_lot', [lot.code]));
  const outOfIt = await portions(reader, 'from_lot', [lot.code]);
  const there = lot.millilitres ?? sum(outOfIt);
  const drawn = sum(outOfIt);
  const inJars = await shareInJars(reader, outOfIt);
  const spent = sum(outOfIt.filter((row) => row.kind === 'spent'));
  return { there, left: there - drawn, inJars, spent, lost: drawn - inJars - spent };
}

/** For a pack, from what was drawn for it. */
export function packSyrup(pack: Lot, into: readonly { readonly millilitres: number }[]): SyrupBalance {
  const there = sum(into);
  const inJars = pack.millilitres ?? there;
  return { there, left: 0, inJars, spent: 0, lost: there - inJars };
}

async function shareInJars(reader: SugarhouseReader, outOf: readonly PortionRow[]): Promise<number> {
  const { sql, sugarhouse } = reader;
  const into = [...new Set(outOf.map((row) => row.into_lot))];
  const packs = await rowsInList<PackRow>(
    sql,
    "SELECT code, millilitres FROM lot WHERE sugarhouse = ? AND kind = 'pack' AND code IN (LIST)",
    [sugarhouse],
    into,
  );
  const drawnByPack = new Map<string, number>();
  for (const row of await portions(
    reader,
    'into_lot',
    packs.map((pack) => pack.code),
  ))
    drawnByPack.set(row.into_lot, (drawnByPack.get(row.into_lot) ?? 0) + row.millilitres);
  const held = new Map(packs.map((pack) => [pack.code, pack.millilitres]));
  return outOf.reduce((total, row) => {
    const inPack = held.get(row.into_lot);
    if (inPack === undefined) return total;
    const all = drawnByPack.get(row.into_lot) ?? 0;
    return total + (inPack === null ? row.millilitres : all > 0 ? (inPack * row.millilitres) / all : 0);
  }, 0);
}

/** Flows of syrup and sap into lots or disposal; what stays in the pans for the next boil was never drawn. */
const portions = (
  { sql, sugarhouse }: SugarhouseReader,
  end: 'into_lot' | 'from_lot',
  codes: readonly string[],
): Promise<PortionRow[]> =>
  rowsInList<PortionRow>(
    sql,
    `SELECT from_lot, into_lot, kind, millilitres FROM flow WHERE sugarhouse = ? AND kind <> 'carried' AND ${end} IN (LIST)`,
    [sugarhouse],
    codes,
  );

const sum = (rows: readonly { readonly millilitres: number }[]): number =>
  rows.reduce((total, row) => total + row.millilitres, 0);
