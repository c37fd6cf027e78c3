import { utcOf } from '#libs/store/connection/instants.js';
import { recordsListed } from '#libs/store/queries/lists.js';
import type { StoredRecord } from '#libs/store/queries/lots.js';
import { type DesktopColumn, type DesktopRows, requestedPart } from '../../desktop/desktop-table.js';
import type { Posted } from '../../forms/field-view.js';
import { minuteText } from '../../desktop/lot-columns.js';
import { type Principal, readerOf } from '../../http/principal.js';

interface DispatchRow {
  readonly record: StoredRecord<'dispatch'>;
  readonly isPlan: boolean;
}

/**
 * Dispatches as a table: newest first, the part that the list shows, or all if they are sorted, filtered or exported.
 */
export async function dispatchesTable(principal: Principal, query: Posted): Promise<DesktopRows<DispatchRow>> {
  const reader = readerOf(principal);
  const { records } = await recordsListed(reader, 'dispatch', requestedPart(query));
  const nowUtc = utcOf(principal.writeContext.now);
  return {
    columns,
    rows: records.map((record) => ({ record, isPlan: record.atUtc > nowUtc })),
    href: ({ record }) => `/records/dispatch/${encodeURIComponent(record.id)}`,
    noun: 'dispatches',
    address: '/dispatches',
  };
}

const columns: readonly DesktopColumn<DispatchRow>[] = [
  { name: 'id', heading: 'Number', text: ({ record }) => record.id, style: 'code' },
  {
    name: 'at',
    heading: 'When',
    text: ({ record: { body } }) => minuteText(body.sentAt),
    order: ({ record }) => record.atUtc,
  },
  {
    name: 'kind',
    heading: 'Kind',
    text: ({ record: { body }, isPlan }) => (isPlan ? `${body.kind}, planned` : body.kind),
  },
  { name: 'lot', heading: 'Lot', text: ({ record: { body } }) => body.lot, style: 'code' },
  {
    name: 'jars',
    heading: 'Jars',
    text: ({ record: { body } }) => String(body.jars),
    order: ({ record: { body } }) => body.jars,
    style: 'number',
  },
  { name: 'to', heading: 'To', text: ({ record: { body } }) => body.to },
  {
    name: 'contact',
    heading: 'Contact',
    text: ({ record: { body } }) => [body.contact, body.telephone].filter(Boolean).join(', '),
  },
  { name: 'by', heading: 'By', text: ({ record: { body } }) => body.by },
];
