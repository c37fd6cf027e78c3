import type { PackBody } from '#libs/records/kinds/pack.js';
import { initialsOfEach } from '#libs/store/connection/batch-queries.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { balanceChangesUntil, balanceFrom, balancesOf, type JarBalance } from '#libs/store/queries/jar-balance.js';
import { lotsListed, type Part } from '#libs/store/queries/lists.js';
import { jarAccounts } from '#libs/store/queries/pack-accounts.js';
import type { LotInProgress } from '#libs/store/queries/work-in-progress.js';
import { formatTemperature } from '#libs/syrup/quantities/format-quantities.js';
import { wantsAllRows, type DesktopColumn, type DesktopRows, requestedPart } from '../../desktop/desktop-table.js';
import { type CachedRow, cachedRows } from '../../desktop/cached-rows.js';
import { lotAddress, lotColumns } from '../../desktop/lot-columns.js';
import type { Posted } from '../../forms/field-view.js';
import { cachedBodies } from '../../http/cached-bodies.js';
import { cachedWhileUnchanged } from '../../http/cached-while-unchanged.js';
import { type Principal, readerOf } from '../../http/principal.js';

export interface PackRow {
  readonly lot: LotInProgress;
  readonly body: PackBody | undefined;
  readonly jars: JarBalance | undefined;
}

/** What the table shows of a pack. */
interface TableRow extends CachedRow {
  readonly lot: Pick<LotInProgress, 'code' | 'at' | 'atUtc' | 'state' | 'container' | 'jars'>;
  readonly body: Pick<PackBody, 'by'> | undefined;
  readonly jars: Pick<JarBalance, 'onHand' | 'sentOut'> | undefined;
  readonly celsius: number | undefined;
  readonly fill: string;
  readonly brix: number | undefined;
  readonly colour: string;
}

/** Packs as a table: newest first, the part that the list shows, or all if they are sorted, filtered or exported. */
export async function packsTable(principal: Principal, query: Posted): Promise<DesktopRows<TableRow>> {
  return {
    columns,
    rows: wantsAllRows(query)
      ? await cachedRows(principal, ['pack'], '', (lots, nowUtc) => readTableRows(principal, lots, nowUtc))
      : (await packRows(principal, requestedPart(query))).rows.map((row) => tableRow(row, '')),
    href: lotAddress,
    noun: 'packs',
    address: '/packs',
  };
}

async function readTableRows(
  principal: Principal,
  lots: readonly LotInProgress[],
  nowUtc: string,
): Promise<TableRow[]> {
  const reader = readerOf(principal);
  const codes = lots.map((lot) => lot.code);
  const initials = await initialsOfEach(reader, 'pack', codes);
  const accounts = await jarAccounts(reader, codes);
  return lots.map((lot) => {
    const account = accounts.get(lot.code);
    const jars = account && balanceFrom(account, nowUtc);
    const by = initials.get(lot.code);
    const body = by === undefined ? undefined : { by };
    return tableRow({ lot, body, jars }, account ? balanceChangesUntil(account) : '');
  });
}

/** Without the record and the verdict themselves: ten years of them would be a large part of a small machine's memory. */
const tableRow = (
  { lot, body, jars }: Pick<PackRow, 'lot' | 'jars'> & Pick<TableRow, 'body'>,
  changesUntil: string,
): TableRow => {
  const { code, at, atUtc, state, container, verdict } = lot;
  return {
    lot: { code, at, atUtc, state, container, jars: lot.jars },
    body: body && { by: body.by },
    jars: jars && { onHand: jars.onHand, sentOut: jars.sentOut },
    celsius: verdict?.lowestFill?.celsius,
    fill: verdict?.lowestFill ? formatTemperature(verdict.lowestFill) : 'not read',
    brix: verdict?.brix ?? undefined,
    colour: verdict?.colour ?? '',
    changesUntil,
  };
};

/** Packs with their records and where their jars are: read once for both the list and its table. */
export const packRows = (principal: Principal, part: Part): Promise<{ count: number; rows: PackRow[] }> =>
  cachedWhileUnchanged(principal, `packs ${part.from} ${part.most}`, async () => {
    const reader = readerOf(principal);
    const { count: total, lots } = await lotsListed(reader, 'pack', part);
    const codes = lots.map((lot) => lot.code);
    const bodies = await cachedBodies(principal, 'pack', lots);
    const balances = await balancesOf(reader, codes, utcOf(principal.writeContext.now));
    return {
      count: total,
      rows: lots.map((lot) => ({ lot, body: bodies.get(lot.code), jars: balances.get(lot.code) })),
    };
  });

const count = (n: number | undefined): string => (n === undefined ? '' : String(n));

const columns: readonly DesktopColumn<TableRow>[] = [
  lotColumns.code('lot', 'Lot'),
  lotColumns.at('packed', 'Packed'),
  { name: 'container', heading: 'Container', text: ({ lot }) => lot.container ?? '' },
  {
    name: 'made',
    heading: 'Made',
    text: ({ lot }) => count(lot.jars),
    order: ({ lot }) => lot.jars ?? -1,
    style: 'number',
  },
  {
    name: 'onhand',
    heading: 'On hand',
    text: ({ lot, jars }) => (lot.jars === undefined ? '' : count(jars?.onHand)),
    order: ({ jars }) => jars?.onHand ?? -1,
    style: 'number',
  },
  {
    name: 'out',
    heading: 'Sent out',
    text: ({ lot, jars }) => (lot.jars === undefined ? '' : count(jars?.sentOut)),
    order: ({ jars }) => jars?.sentOut ?? -1,
    style: 'number',
  },
  {
    name: 'fill',
    heading: 'Lowest fill',
    text: ({ fill }) => fill,
    order: ({ celsius }) => celsius ?? -1,
    style: 'number',
  },
  {
    name: 'brix',
    heading: '°Bx',
    text: ({ brix }) => brix?.toFixed(1) ?? 'not read',
    order: ({ brix }) => brix ?? -1,
    style: 'number',
  },
  { name: 'colour', heading: 'Colour', text: ({ colour }) => colour },
  lotColumns.by,
  lotColumns.state,
];
