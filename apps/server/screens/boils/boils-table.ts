import type { BoilBody } from '#libs/records/kinds/boil.js';
import { lotsListed, type Part } from '#libs/store/queries/lists.js';
import type { LotInProgress } from '#libs/store/queries/work-in-progress.js';
import { type DesktopColumn, type DesktopRows, requestedPart } from '../../desktop/desktop-table.js';
import { lotAddress, lotColumns } from '../../desktop/lot-columns.js';
import type { Posted } from '../../forms/field-view.js';
import { formContext } from '../../forms/form-view.js';
import { cachedBodies } from '../../http/cached-bodies.js';
import { cachedWhileUnchanged } from '../../http/cached-while-unchanged.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { volumeText } from '#libs/format/format-house-volume.js';

interface BoilRead {
  readonly lot: LotInProgress;
  readonly body: BoilBody | undefined;
}
interface BoilRow extends BoilRead {
  readonly left: string;
}

/** Boils as a table: newest first, the part that the list shows, or all if they are sorted, filtered or exported. */
export async function boilsTable(principal: Principal, query: Posted): Promise<DesktopRows<BoilRow>> {
  const { measures } = await formContext(principal);
  const { rows } = await boilRows(principal, requestedPart(query));
  return {
    columns,
    rows: rows.map(({ lot, body }) => ({
      lot,
      body,
      left: lot.leftMillilitres === undefined ? '' : volumeText(lot.leftMillilitres, measures.volumes, measures.canada),
    })),
    href: lotAddress,
    noun: 'boils',
    address: '/boils',
  };
}

/** Boils with their records: read once for both the list and its table. */
export const boilRows = (principal: Principal, part: Part): Promise<{ count: number; rows: BoilRead[] }> =>
  cachedWhileUnchanged(principal, `boils ${part.from} ${part.most}`, async () => {
    const { count, lots } = await lotsListed(readerOf(principal), 'boil', part);
    const bodies = await cachedBodies(principal, 'boil', lots);
    return { count, rows: lots.map((lot) => ({ lot, body: bodies.get(lot.code) })) };
  });

const columns: readonly DesktopColumn<BoilRow>[] = [
  lotColumns.code('lot', 'Lot'),
  lotColumns.at('began', 'Began'),
  {
    name: 'sap',
    heading: 'Sap',
    text: ({ body }) => body?.sapVolume?.typed ?? '',
    order: ({ body }) => body?.sapVolume?.millilitres ?? -1,
    look: 'number',
  },
  {
    name: 'sugar',
    heading: 'Sugar',
    text: ({ body }) => body?.sapSugar?.typed ?? '',
    order: ({ body }) => body?.sapSugar?.reading ?? -1,
    look: 'number',
  },
  { name: 'water', heading: 'Water boils at', text: ({ body }) => body?.waterBoilsAt?.typed ?? '', look: 'number' },
  { name: 'finish', heading: 'Finished at', text: ({ body }) => body?.finishTemp?.typed ?? '', look: 'number' },
  { name: 'filter', heading: 'Filtered at', text: ({ body }) => body?.filterTemp?.typed ?? '', look: 'number' },
  {
    name: 'syrup',
    heading: 'Syrup',
    text: ({ body }) => body?.syrupVolume?.typed ?? '',
    order: ({ lot }) => lot.millilitres ?? -1,
    look: 'number',
  },
  lotColumns.left,
  lotColumns.by,
  lotColumns.state,
];
