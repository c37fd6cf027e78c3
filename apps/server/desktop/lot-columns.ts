import type { LotInProgress } from '#libs/store/queries/work-in-progress.js';
import type { DesktopColumn } from './desktop-table.js';

interface LotRow {
  readonly lot: Pick<LotInProgress, 'code' | 'at' | 'state'>;
}

/** The columns that every table of lots has. */
export const lotColumns = {
  code: (name: string, heading: string): DesktopColumn<LotRow> => ({
    name,
    heading,
    text: ({ lot }) => lot.code,
    style: 'code',
  }),
  at: (name: string, heading: string): DesktopColumn<LotRow> => ({
    name,
    heading,
    text: ({ lot }) => minuteText(lot.at),
    order: ({ lot }) => lot.at,
  }),
  left: {
    name: 'left',
    heading: 'Left',
    text: ({ left }) => left,
    order: ({ lot }) => lot.leftMillilitres ?? -1,
    style: 'number',
  } satisfies DesktopColumn<{ readonly lot: Pick<LotInProgress, 'leftMillilitres'>; readonly left: string }>,
  by: { name: 'by', heading: 'By', text: ({ body }) => body?.by ?? '' } satisfies DesktopColumn<{
    readonly body: { readonly by: string } | undefined;
  }>,
  state: {
    name: 'state',
    heading: 'Status',
    text: ({ lot }) => lot.state,
    style: 'state',
  } satisfies DesktopColumn<LotRow>,
};

/** A moment to the minute, as a table sorts and shows it. */
export const minuteText = (moment: string): string => moment.slice(0, 16).replace('T', ' ');

/** The address of a row's lot page. */
export const lotAddress = ({ lot }: LotRow): string => `/lots/${encodeURIComponent(lot.code)}`;
