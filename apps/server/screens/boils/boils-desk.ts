import type { BoilBody } from '#libs/records/record-types.js';
import { recordsNamed } from '#libs/store/connection/batch-queries.js';
import { lotsListed } from '#libs/store/queries/lists.js';
import type { LotInProgress } from '#libs/store/queries/work-in-progress.js';
import { asksAll, type DeskColumn, type DeskRows, mostRead } from '../../desk/desk-table.js';
import { one, type Posted } from '../../forms/field-view.js';
import { formContext } from '../../forms/form-view.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { volumeText } from '../../text/amounts.js';
import { atOnce, beginsAt } from '../../text/first-hundred.js';

interface BoilRow {
  readonly lot: LotInProgress;
  readonly body: BoilBody | undefined;
  readonly left: string;
}

/** Boils as a table: newest first, the part that the list shows, or all where they are sorted, filtered or exported. */
export async function boilsDesk(principal: Principal, query: Posted): Promise<DeskRows<BoilRow>> {
  const { measures } = await formContext(principal);
  const reader = readerOf(principal);
  const part = asksAll(query) ? { from: 1, most: mostRead } : { from: beginsAt(one(query['from'])), most: atOnce };
  const { lots } = await lotsListed(reader, 'boil', part);
  const record = await recordsNamed(
    reader,
    ['boil'],
    lots.map((lot) => lot.code),
  );
  return {
    columns,
    rows: lots.map((lot) => ({
      lot,
      body: record('boil', lot.code)?.body,
      left: lot.leftMillilitres === undefined ? '' : volumeText(lot.leftMillilitres, measures.volumes, measures.canada),
    })),
    href: ({ lot }) => `/lots/${encodeURIComponent(lot.code)}`,
    noun: 'boils',
    address: '/boils',
  };
}

const columns: readonly DeskColumn<BoilRow>[] = [
  { name: 'lot', heading: 'Lot', text: ({ lot }) => lot.code, look: 'code' },
  {
    name: 'began',
    heading: 'Began',
    text: ({ lot }) => lot.at.slice(0, 16).replace('T', ' '),
    order: ({ lot }) => lot.at,
  },
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
  {
    name: 'left',
    heading: 'Left',
    text: ({ left }) => left,
    order: ({ lot }) => lot.leftMillilitres ?? -1,
    look: 'number',
  },
  { name: 'by', heading: 'By', text: ({ body }) => body?.by ?? '' },
  { name: 'state', heading: 'Status', text: ({ lot }) => lot.state, look: 'state' },
];
