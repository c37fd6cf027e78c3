import type { BoilBody } from '#libs/records/kinds/boil.js';
import { recordsNamed } from '#libs/store/connection/batch-queries.js';
import { lotsListed, type Part } from '#libs/store/queries/lists.js';
import type { LotInProgress } from '#libs/store/queries/work-in-progress.js';
import { wantsAllRows, type DesktopColumn, type DesktopRows, requestedPart } from '../../desktop/desktop-table.js';
import { type CachedRow, cachedRows } from '../../desktop/cached-rows.js';
import { lotAddress, lotColumns } from '../../desktop/lot-columns.js';
import type { Posted } from '../../forms/field-view.js';
import { formContext } from '../../forms/form-view.js';
import type { Measures } from '../../forms/units.js';
import { cachedBodies } from '../../http/cached-bodies.js';
import { cachedWhileUnchanged } from '../../http/cached-while-unchanged.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { volumeText } from '#libs/format/format-house-volume.js';

export interface BoilRead {
  readonly lot: LotInProgress;
  readonly body: BoilBody | undefined;
}

/** What the table shows of a boil. */
interface TableRow extends CachedRow {
  readonly lot: Pick<LotInProgress, 'code' | 'at' | 'atUtc' | 'state' | 'millilitres' | 'leftMillilitres'>;
  readonly body: Pick<BoilBody, (typeof shownFields)[number]> | undefined;
  readonly left: string;
}
const shownFields = ['sapVolume', 'sapSugar', 'waterBoilsAt', 'finishTemp', 'filterTemp', 'syrupVolume', 'by'] as const;

/** Boils as a table: newest first, the part that the list shows, or all if they are sorted, filtered or exported. */
export async function boilsTable(principal: Principal, query: Posted): Promise<DesktopRows<TableRow>> {
  const { measures } = await formContext(principal);
  // The amounts left are in the house's unit: rows in another are other rows.
  const unit = `${measures.volumes} ${measures.canada}`;
  const row = ({ lot, body }: BoilRead): TableRow => tableRow(lot, body, measures);
  return {
    columns,
    rows: wantsAllRows(query)
      ? await cachedRows(principal, ['boil'], unit, async (lots) => {
          const record = await recordsNamed(
            readerOf(principal),
            ['boil'],
            lots.map((lot) => lot.code),
          );
          return lots.map((lot) => row({ lot, body: record('boil', lot.code)?.body }));
        })
      : (await boilRows(principal, requestedPart(query))).rows.map(row),
    href: lotAddress,
    noun: 'boils',
    address: '/boils',
  };
}

function tableRow(lot: LotInProgress, body: BoilBody | undefined, { volumes, canada }: Measures): TableRow {
  const { code, at, atUtc, state, millilitres, leftMillilitres } = lot;
  return {
    lot: { code, at, atUtc, state, millilitres, leftMillilitres },
    body: body && (Object.fromEntries(shownFields.map((name) => [name, body[name]])) as TableRow['body']),
    left: leftMillilitres === undefined ? '' : volumeText(leftMillilitres, volumes, canada),
    changesUntil: '',
  };
}

/** Boils with their records: read once for both the list and its table. */
export const boilRows = (principal: Principal, part: Part): Promise<{ count: number; rows: BoilRead[] }> =>
  cachedWhileUnchanged(principal, `boils ${part.from} ${part.most}`, async () => {
    const { count, lots } = await lotsListed(readerOf(principal), 'boil', part);
    const bodies = await cachedBodies(principal, 'boil', lots);
    return { count, rows: lots.map((lot) => ({ lot, body: bodies.get(lot.code) })) };
  });

const columns: readonly DesktopColumn<TableRow>[] = [
  lotColumns.code('lot', 'Lot'),
  lotColumns.at('began', 'Began'),
  {
    name: 'sap',
    heading: 'Sap',
    text: ({ body }) => body?.sapVolume?.typed ?? '',
    order: ({ body }) => body?.sapVolume?.millilitres ?? -1,
    style: 'number',
  },
  {
    name: 'sugar',
    heading: 'Sugar',
    text: ({ body }) => body?.sapSugar?.typed ?? '',
    order: ({ body }) => body?.sapSugar?.reading ?? -1,
    style: 'number',
  },
  { name: 'water', heading: 'Water boils at', text: ({ body }) => body?.waterBoilsAt?.typed ?? '', style: 'number' },
  { name: 'finish', heading: 'Finished at', text: ({ body }) => body?.finishTemp?.typed ?? '', style: 'number' },
  { name: 'filter', heading: 'Filtered at', text: ({ body }) => body?.filterTemp?.typed ?? '', style: 'number' },
  {
    name: 'syrup',
    heading: 'Syrup',
    text: ({ body }) => body?.syrupVolume?.typed ?? '',
    order: ({ lot }) => lot.millilitres ?? -1,
    style: 'number',
  },
  lotColumns.left,
  lotColumns.by,
  lotColumns.state,
];
