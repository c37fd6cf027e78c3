import type { PageProps } from '../page-context.js';
import { LotList, type ListProps } from '../parts/lot-list.js';
import type { LotRow } from '../parts/lots-by-year.js';

export type PackListPageProps = ListProps<LotRow>;

/** Packs, newest first, each with what matters now. */
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
    none="No pack yet."
  />
);
