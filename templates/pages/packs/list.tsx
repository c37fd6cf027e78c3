import type { PageProps } from '../page-context.js';
import { LotList, type LotListProps } from '../parts/lot-list.js';

export type PackListPageProps = LotListProps;

/** Packs, newest first, each with its current state. */
export const PackListPage = ({ page, ...list }: PackListPageProps & PageProps) => (
  <LotList
    {...list}
    page={page}
    start={{ href: '/packs/begin', label: 'Start a pack' }}
    fromPaper={page.mayWrite('pack') ? { href: '/packs/finished', label: 'A pack from paper' } : undefined}
    related={{ href: '/dispatches', label: 'Sent out' }}
  />
);
