import type { PageProps } from '../page-context.js';
import { LotList, type LotListProps } from '../parts/lot-list.js';

export type PackListPageProps = LotListProps;

/** Packs, newest first, each with its current state. */
export const PackListPage = ({ page, ...list }: PackListPageProps & PageProps) => (
  <LotList
    {...list}
    page={page}
    start={{ href: '/packs/begin', label: 'Start a pack' }}
    links={
      <>
        {page.mayWrite('pack') && (
          <>
            <a href="/packs/finished">A pack from paper</a> &ensp;{' '}
          </>
        )}
        <a href="/dispatches">Sent out</a>
      </>
    }
  />
);
