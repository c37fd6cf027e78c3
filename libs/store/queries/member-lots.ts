import type { ReceiptBody } from '#libs/records/kinds/receipt.js';
import { houseNamed, housesOf, type House } from '../household/houses.js';
import { findByOwnId, findLot, findRecord, type Lot, recordsOf } from './lots.js';
import type { Sql } from '../connection/sql.js';
import { lotsUpstream, ofKind } from './trace.js';
import { type SugarhouseReader, sugarhouseReader } from '../connection/sugarhouse-reader.js';

/** A lot of another sugarhouse of this book, as a receipt names it: the link between their records. */
export interface MemberLot {
  readonly house: House;
  /** The receipt that names it, and the sugarhouse whose receipt it is. */
  readonly receipt: string;
  readonly receivedBy: string;
  readonly theirLot: string;
  /** Undefined where the supplier's book has no lot with the code that the receipt names. */
  readonly lot: Lot | undefined;
  /** What went into it, the lot itself first. */
  readonly upstream: readonly Lot[];
}

/** Follows receipts into the books of the sugarhouses they name, and on from there; each lot once. */
export async function memberLots(
  { sql, sugarhouse }: SugarhouseReader,
  receipts: readonly string[],
): Promise<MemberLot[]> {
  if (receipts.length === 0) return [];
  const houses = await housesOf(sql);
  const found = new Map<string, MemberLot>();
  const open = receipts.map((receipt) => ({ receivedBy: sugarhouse, receipt }));
  for (let next = open.shift(); next !== undefined; next = open.shift()) {
    const { receivedBy, receipt } = next;
    const body = (await findRecord(sugarhouseReader(sql, receivedBy), 'receipt', receipt))?.body;
    const house = body && supplierOf(houses, receivedBy, body);
    if (!house) continue;
    const lot = await theirs(sql, house, body.theirLot);
    const key = `${house.key} ${lot?.code ?? `? ${receipt}`}`;
    if (found.has(key)) continue;
    const upstream = lot ? await lotsUpstream(sugarhouseReader(sql, house.key), lot.code) : [];
    found.set(key, { house, receipt, receivedBy, theirLot: body.theirLot, lot, upstream });
    for (const each of ofKind(upstream, 'receipt')) open.push({ receivedBy: house.key, receipt: each.code });
  }
  return [...found.values()];
}

/** Receipts of other sugarhouses that name one of these lots: where it went outside its own book. */
export async function receiptsNaming(
  { sql, sugarhouse }: SugarhouseReader,
  codes: readonly string[],
): Promise<{ house: House; receipt: string; theirLot: string }[]> {
  const houses = await housesOf(sql);
  const own = houses.find((house) => house.key === sugarhouse);
  if (!own) return [];
  const named: { house: House; receipt: string; theirLot: string }[] = [];
  for (const house of houses.filter((each) => each.key !== sugarhouse))
    for (const { id, body } of await recordsOf(sugarhouseReader(sql, house.key), 'receipt')) {
      if (supplierOf(houses, house.key, body)?.key !== sugarhouse) continue;
      const lot = await theirs(sql, own, body.theirLot);
      if (lot && codes.includes(lot.code)) named.push({ house, receipt: id, theirLot: lot.code });
    }
  return named;
}

const supplierOf = (houses: readonly House[], receivedBy: string, body: ReceiptBody): House | undefined =>
  houseNamed(
    houses.filter((house) => house.key !== receivedBy),
    body.supplier,
  );

/** The lot as the receipt names it: with or without the prefix, in any case, or by the maker's own id. */
async function theirs(sql: Sql, house: House, typed: string): Promise<Lot | undefined> {
  const text = typed.trim();
  const bare =
    house.prefix !== '' && text.toUpperCase().startsWith(`${house.prefix} `)
      ? text.slice(house.prefix.length).trim()
      : text;
  if (bare === '') return undefined;
  const lot =
    (await findLot(sugarhouseReader(sql, house.key), bare)) ??
    (await findLot(sugarhouseReader(sql, house.key), bare.toUpperCase()));
  if (lot) return lot;
  for (const kind of ['boil', 'pack'] as const) {
    const named = await findByOwnId(sugarhouseReader(sql, house.key), kind, bare);
    if (named) return findLot(sugarhouseReader(sql, house.key), named.id);
  }
  return undefined;
}
