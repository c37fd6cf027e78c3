import { memberLots } from '#libs/store/queries/member-lots.js';
import { ofKind } from '#libs/store/queries/trace.js';
import { prefixedLot } from '#libs/syrup/codes/lot-codes.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** The lot of another sugarhouse that a receipt names. */
export interface TracedMember {
  readonly house: string;
  readonly prefix: string;
  readonly name: string;
  /** The receipt that names it. */
  readonly receipt: string;
  /** Null where the sugarhouse's own book has no such lot. */
  readonly lot: string | null;
  /** As shown beside other sugarhouses' codes: `BL 26077A`. */
  readonly shown: string;
  readonly boils: readonly string[];
  readonly gatherings: readonly string[];
}

/** Follows receipts into the books of the sugarhouses they name; only for people who may see them. */
export async function traceMembers(reader: SugarhouseReader, receipts: readonly string[]): Promise<TracedMember[]> {
  return (await memberLots(reader, receipts)).map(({ house, receipt, theirLot, lot, upstream }) => ({
    house: house.key,
    prefix: house.prefix,
    name: house.name,
    receipt,
    lot: lot?.code ?? null,
    shown: prefixedLot(house.prefix, lot?.code ?? theirLot),
    boils: codes(ofKind(upstream, 'boil')),
    gatherings: codes(ofKind(upstream, 'gathering', 'receipt')),
  }));
}

const codes = (lots: readonly { readonly code: string }[]): string[] => lots.map((lot) => lot.code).sort();
