import { findLot, type Lot } from '#libs/store/queries/lots.js';
import type { PackAccount } from '#libs/store/queries/pack-accounts.js';
import { type Flow, flowsInto, flowsOutOf } from '#libs/store/queries/trace.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** A source lot, and how much syrup it gave, by volume. */
export interface SyrupShare {
  readonly lot: string;
  readonly millilitres: number;
  /** Fraction of all that went in, 0 to 1. */
  readonly part: number;
}

/**
 * Which boils and receipts a pack's syrup comes from and how much of each, the largest first; packs that were poured
 * back are divided among their own sources. Volume accounts already read are not queried again. A boil's syrup comes
 * from its sap and from what other boils left in the pans, as measured.
 */
export async function loadSyrupShares(
  reader: SugarhouseReader,
  lot: Lot,
  accounts: ReadonlyMap<string, Pick<PackAccount, 'into'>> = new Map(),
): Promise<SyrupShare[]> {
  const volumes = new Map<string, number>();
  const flowsByLot = new Map<string, Flows>();
  for (const [pack, { into }] of accounts) {
    flowsByLot.set(pack, into);
    // Only packs are filled from syrup, so what went into anything else need not be queried.
    for (const { from, fromKind } of into) if (fromKind !== undefined && fromKind !== 'pack') flowsByLot.set(from, []);
  }
  await addShares(reader, lot.code, lot.kind === 'pack', 1, volumes, flowsByLot);
  const all = [...volumes.values()].reduce((sum, each) => sum + each, 0);
  return [...volumes]
    .map(([code, millilitres]) => ({ lot: code, millilitres, part: all > 0 ? millilitres / all : 0 }))
    .sort((a, b) => b.millilitres - a.millilitres || (a.lot < b.lot ? -1 : 1));
}

/** How much syrup a gathering's sap made: of each boil's syrup, the same fraction as its sap is of the boil's sap. */
export async function loadSyrupMade(reader: SugarhouseReader, sap: Lot): Promise<number> {
  let made = 0;
  for (const flow of await flowsOutOf(reader, sap.code)) {
    const boil = flow.kind === 'sap' ? await findLot(reader, flow.into) : undefined;
    if (!boil?.millilitres) continue;
    const into = (await flowsInto(reader, boil.code)).filter((each) => each.kind === 'sap');
    const all = into.reduce((sum, each) => sum + each.millilitres, 0);
    if (all > 0) made += (boil.millilitres * flow.millilitres) / all;
  }
  return made;
}

type Flows = readonly Flow[];

/** `of` is the fraction of this lot that counts: all of it, or what was poured on. The graph has no cycle. */
async function addShares(
  reader: SugarhouseReader,
  code: string,
  viaPack: boolean,
  fraction: number,
  volumes: Map<string, number>,
  flowsByLot: Map<string, Flows>,
): Promise<void> {
  const flows = flowsByLot.get(code) ?? (await flowsInto(reader, code));
  flowsByLot.set(code, flows);
  for (const flow of flows) {
    const sourceFlows = viaPack ? (flowsByLot.get(flow.from) ?? (await flowsInto(reader, flow.from))) : [];
    flowsByLot.set(flow.from, sourceFlows);
    const syrup = sourceFlows.filter((each) => each.kind === 'syrup');
    const syrupInSource = syrup.reduce((sum, each) => sum + each.millilitres, 0);
    // Only packs are filled from syrup: a boil is made from sap, so the sharing ends there.
    if (syrupInSource > 0)
      await addShares(reader, flow.from, true, (fraction * flow.millilitres) / syrupInSource, volumes, flowsByLot);
    else volumes.set(flow.from, (volumes.get(flow.from) ?? 0) + fraction * flow.millilitres);
  }
}
