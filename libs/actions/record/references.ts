import type { Portion } from '#libs/records/portion.js';
import type { LotKind } from '#libs/records/record-types.js';
import { findByOwnId, findLot, type Lot } from '#libs/store/queries/lots.js';
import { drawnFrom, lotsUpstream } from '#libs/store/queries/trace.js';
import { parseLotCode } from '#libs/syrup/codes/lot-codes.js';
import type { PortionRequest } from './fields.js';
import type { Fault } from './problem.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** A lot by its code in any case, or by the maker's own id of a boil or a pack. */
export async function lookUpLot(reader: SugarhouseReader, typed: string): Promise<Lot | undefined> {
  const code = typed.trim();
  const exact = await findLot(reader, parseLotCode(code)?.code ?? code);
  if (exact) return exact;
  for (const kind of ['boil', 'pack'] as const) {
    const named = await findByOwnId(reader, kind, code);
    if (named) return findLot(reader, named.id);
  }
  const capitals = code.toUpperCase();
  return capitals === code ? undefined : findLot(reader, capitals);
}

export interface AllocatedPortions {
  readonly portions: Portion[];
  readonly faults: Fault[];
  readonly notes: string[];
}

/**
 * Finds the lots that went in and how much of each. A blank amount means all that was left. Rejects direct and indirect
 * cycles.
 */
export async function allocatePortions(
  reader: SugarhouseReader,
  field: string,
  portions: readonly PortionRequest[],
  kinds: readonly LotKind[],
  into: string,
): Promise<AllocatedPortions> {
  const allotted: AllocatedPortions = { portions: [], faults: [], notes: [] };
  for (const [item, each] of portions.entries()) {
    const lot = await lookUpLot(reader, each.lot);
    if (!lot || !kinds.includes(lot.kind)) {
      const expected = `a ${kinds.join(' or ')} of this book`;
      allotted.faults.push({
        field,
        expected,
        got: lot ? `${each.lot}, which is a ${lot.kind}` : `"${each.lot}"`,
        item,
      });
      continue;
    }
    if (lot.code === into || (into !== '' && (await isUpstreamOf(reader, into, lot.code)))) {
      allotted.faults.push({ field, expected: `a lot that ${into} did not go into`, got: lot.code, item });
      continue;
    }
    if (each.volume) {
      allotted.portions.push({ lot: lot.code, typed: each.volume.typed, millilitres: each.volume.millilitres });
      continue;
    }
    const left = Math.max(0, (lot.millilitres ?? 0) - (await drawnFrom(reader, lot.code, into)));
    allotted.portions.push({ lot: lot.code, typed: '', millilitres: left });
    if (left > 0) continue;
    allotted.notes.push(
      lot.millilitres === undefined
        ? `How much there is of ${lot.code} is not recorded yet, and no amount was given: it counts as all that is left once it is recorded.`
        : `Nothing was left of ${lot.code} by the records; no amount was given.`,
    );
  }
  return allotted;
}

/** Whether `code` went into `other`, directly or through other lots. */
async function isUpstreamOf(reader: SugarhouseReader, code: string, other: string): Promise<boolean> {
  return (await lotsUpstream(reader, other)).some((lot) => lot.code === code);
}
