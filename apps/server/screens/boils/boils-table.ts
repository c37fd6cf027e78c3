import type { BoilBody } from '#libs/records/kinds/boil.js';
import { lotsListed } from '#libs/store/queries/lists.js';
import type { LotInProgress } from '#libs/store/queries/work-in-progress.js';
import { type DeskColumn, type DeskRows, partAsked } from '../../desk/desk-table.js';
import { lotAddress, lotColumns } from '../../desk/lot-columns.js';
import type { Posted } from '../../forms/field-view.js';
import { formContext } from '../../forms/form-view.js';
import { keptBodies } from '../../http/kept-bodies.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { volumeText } from '../../text/amounts.js';

interface BoilRow {
  readonly lot: LotInProgress;
  readonly body: BoilBody | undefined;
  readonly left: string;
}

/** Boils as a table: newest first, the part that the list shows, or all where they are sorted, filtered or exported. */
export async function boilsTable(principal: Principal, query: Posted): Promise<DeskRows<BoilRow>> {
  const { measures } = await formContext(principal);
  const reader = readerOf(principal);
  const { lots } = await lotsListed(reader, 'boil', partAsked(query));
  const bodies = await keptBodies(principal, 'boil', lots);
  return {
    columns,
    rows: lots.map((lot) => ({
      lot,
      body: bodies.get(lot.code),
      left: lot.leftMillilitres === undefined ? '' : volumeText(lot.leftMillilitres, measures.volumes, measures.canada),
    })),
    href: lotAddress,
    noun: 'boils',
    address: '/boils',
  };
}

const columns: readonly DeskColumn<BoilRow>[] = [
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
