import type { PageProps } from '../page-context.js';
import { LotList, type LotListProps } from '../parts/lot-list.js';

export type BoilListPageProps = LotListProps;

/** Boils, newest first, each with its current state. */
export const BoilListPage = ({ page, ...list }: BoilListPageProps & PageProps) => (
  <LotList
    {...list}
    page={page}
    start={{ href: '/boils/begin', label: 'Start a boil' }}
    fromPaper={page.mayWrite('boil') ? { href: '/boils/finished', label: 'A boil from paper' } : undefined}
    related={{ href: '/sap', label: 'Sap' }}
  />
);
