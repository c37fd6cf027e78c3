import type { GatheringBody } from '#libs/records/kinds/gathering.js';
import type { ReceiptBody } from '#libs/records/kinds/receipt.js';
import { recordsNamed } from '#libs/store/connection/batch-queries.js';
import { lotsListed } from '#libs/store/queries/lists.js';
import type { LotInProgress } from '#libs/store/queries/work-in-progress.js';
import { type DesktopColumn, type DesktopRows, requestedPart } from '../../desktop/desktop-table.js';
import { lotAddress, lotColumns } from '../../desktop/lot-columns.js';
import type { Posted } from '../../forms/field-view.js';
import { formContext } from '../../forms/form-view.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { volumeText } from '#libs/format/format-house-volume.js';

interface SapRow {
  readonly lot: LotInProgress;
  readonly body: GatheringBody | ReceiptBody | undefined;
  readonly left: string;
}

/**
 * Sap and syrup as a table: newest first, the part that the list shows, or all if it is sorted, filtered or exported.
 */
export async function sapTable(principal: Principal, query: Posted): Promise<DesktopRows<SapRow>> {
  const { measures } = await formContext(principal);
  const reader = readerOf(principal);
  const { lots } = await lotsListed(reader, 'gathering', requestedPart(query), 'receipt');
  const record = await recordsNamed(
    reader,
    ['gathering', 'receipt'],
    lots.map((lot) => lot.code),
  );
  return {
    columns,
    rows: lots.map((lot) => ({
      lot,
      body: record(lot.kind === 'gathering' ? 'gathering' : 'receipt', lot.code)?.body,
      left: volumeText(lot.leftMillilitres ?? 0, measures.volumes, measures.canada),
    })),
    href: lotAddress,
    noun: 'gatherings and receipts',
    address: '/sap',
  };
}

const sugarOf = ({ body }: SapRow) =>
  body && 'sugar' in body ? body.sugar : body && 'density' in body ? body.density : undefined;

const columns: readonly DesktopColumn<SapRow>[] = [
  lotColumns.code('id', 'Number'),
  lotColumns.at('at', 'When'),
  { name: 'kind', heading: 'Kind', text: ({ lot }) => (lot.kind === 'gathering' ? 'gathered' : 'received') },
  {
    name: 'from',
    heading: 'From',
    text: ({ body }) => (body === undefined ? '' : 'source' in body ? body.source : body.supplier),
  },
  {
    name: 'volume',
    heading: 'Volume',
    text: ({ body }) => body?.volume.typed ?? '',
    order: ({ lot }) => lot.millilitres ?? -1,
    style: 'number',
  },
  {
    name: 'sugar',
    heading: 'Sugar',
    text: (row) => sugarOf(row)?.typed ?? '',
    order: (row) => sugarOf(row)?.reading ?? -1,
    style: 'number',
  },
  {
    name: 'temperature',
    heading: 'Temperature',
    text: ({ body }) => (body && 'temperature' in body ? (body.temperature?.typed ?? '') : ''),
    style: 'number',
  },
  lotColumns.left,
  lotColumns.by,
  lotColumns.state,
];
