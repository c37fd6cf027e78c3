import type { PackBody } from '#libs/records/kinds/pack.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { balancesOf, type JarBalance } from '#libs/store/queries/jar-balance.js';
import { lotsListed, type Part } from '#libs/store/queries/lists.js';
import type { LotInProgress } from '#libs/store/queries/work-in-progress.js';
import { shown } from '#libs/syrup/quantities/decimal-text.js';
import { type DesktopColumn, type DesktopRows, requestedPart } from '../../desktop/desktop-table.js';
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

/** Packs as a table: newest first, the part that the list shows, or all if they are sorted, filtered or exported. */
export async function packsTable(principal: Principal, query: Posted): Promise<DesktopRows<PackRow>> {
  const { rows } = await packRows(principal, requestedPart(query));
  return {
    columns,
    rows,
    href: lotAddress,
    noun: 'packs',
    address: '/packs',
  };
}

/** Packs with their records and where their jars are: read once for both the list and its table. */
export const packRows = (principal: Principal, part: Part): Promise<{ count: number; rows: PackRow[] }> =>
  cachedWhileUnchanged(principal, `packs ${part.from} ${part.most}`, async () => {
    const reader = readerOf(principal);
    const { count: inAll, lots } = await lotsListed(reader, 'pack', part);
    const codes = lots.map((lot) => lot.code);
    const bodies = await cachedBodies(principal, 'pack', lots);
    const balances = await balancesOf(reader, codes, utcOf(principal.writeContext.now));
    return {
      count: inAll,
      rows: lots.map((lot) => ({ lot, body: bodies.get(lot.code), jars: balances.get(lot.code) })),
    };
  });

const count = (n: number | undefined): string => (n === undefined ? '' : String(n));
const brixOf = ({ lot }: PackRow): number | undefined => lot.verdict?.brix ?? undefined;
const coldest = ({ lot }: PackRow): string => (lot.verdict?.lowestFill ? shown(lot.verdict.lowestFill) : 'not read');

const columns: readonly DesktopColumn<PackRow>[] = [
  lotColumns.code('lot', 'Lot'),
  lotColumns.at('packed', 'Packed'),
  { name: 'container', heading: 'Container', text: ({ lot }) => lot.container ?? '' },
  {
    name: 'made',
    heading: 'Made',
    text: ({ lot }) => count(lot.jars),
    order: ({ lot }) => lot.jars ?? -1,
    look: 'number',
  },
  {
    name: 'onhand',
    heading: 'On hand',
    text: ({ lot, jars }) => (lot.jars === undefined ? '' : count(jars?.onHand)),
    order: ({ jars }) => jars?.onHand ?? -1,
    look: 'number',
  },
  {
    name: 'out',
    heading: 'Sent out',
    text: ({ lot, jars }) => (lot.jars === undefined ? '' : count(jars?.sentOut)),
    order: ({ jars }) => jars?.sentOut ?? -1,
    look: 'number',
  },
  {
    name: 'fill',
    heading: 'Lowest fill',
    text: coldest,
    order: ({ lot }) => lot.verdict?.lowestFill?.celsius ?? -1,
    look: 'number',
  },
  {
    name: 'brix',
    heading: '°Bx',
    text: (row) => brixOf(row)?.toFixed(1) ?? 'not read',
    order: (row) => brixOf(row) ?? -1,
    look: 'number',
  },
  { name: 'colour', heading: 'Colour', text: ({ lot }) => lot.verdict?.colour ?? '' },
  lotColumns.by,
  lotColumns.state,
];
